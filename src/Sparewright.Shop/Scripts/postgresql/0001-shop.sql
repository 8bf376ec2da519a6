-- What is kept, by the SHA-256 of it in hexadecimal: texts of revisions and records, photographs, outputs.
create table content (
    hash text not null primary key,
    bytes bytea not null
);
create table job (
    id text not null primary key,
    latest bigint not null
);
-- state: the revision that was begun or entered and whose text this one has. before: on such a revision, the state that an undo goes back to.
-- redo: the revision that a redo does again. seal: SHA-256 over all the other columns.
create table revision (
    job text not null references job (id),
    number bigint not null,
    kind text not null,
    what text not null,
    at text not null,
    part text not null,
    text text not null references content (hash),
    state bigint not null,
    before bigint,
    redo bigint,
    seal text not null,
    primary key (job, number)
);
create table photograph (
    job text not null references job (id),
    number bigint not null,
    name text not null,
    media_type text not null,
    hash text not null references content (hash),
    width_px bigint not null,
    height_px bigint not null,
    at text not null,
    seal text not null,
    primary key (job, number)
);
-- Instruments, machines, materials, and the trials of a job (the others stand under the job '').
create table record (
    kind text not null,
    job text not null,
    name text not null,
    number bigint not null,
    at text not null,
    text text not null references content (hash),
    seal text not null,
    primary key (kind, job, name, number)
);
-- What was made of a job when it was taken in. It can be made anew, so it has no revisions.
create table output (
    job text not null references job (id),
    name text not null,
    hash text not null references content (hash),
    seal text not null,
    primary key (job, name)
);
-- What was kept stays as it is.
create function stays() returns trigger language plpgsql as 'begin raise exception ''what was kept is never changed or deleted''; end';
create trigger content_stays before update or delete on content for each row execute function stays();
create trigger revision_stays before update or delete on revision for each row execute function stays();
