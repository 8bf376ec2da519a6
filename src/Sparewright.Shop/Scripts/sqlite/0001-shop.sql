-- What is kept, by the SHA-256 of it in hexadecimal: texts of revisions and records, photographs, outputs.
create table content (
    hash text not null primary key,
    bytes blob not null
) strict;
create table job (
    id text not null primary key,
    latest integer not null
) strict;
-- state: the revision that was begun or entered and whose text this one has. before: on such a revision, the state that an undo goes back to.
-- redo: the revision that a redo does again. seal: SHA-256 over all the other columns.
create table revision (
    job text not null references job (id),
    number integer not null,
    kind text not null,
    what text not null,
    at text not null,
    part text not null,
    text text not null references content (hash),
    state integer not null,
    before integer,
    redo integer,
    seal text not null,
    primary key (job, number)
) strict;
create table photograph (
    job text not null references job (id),
    number integer not null,
    name text not null,
    media_type text not null,
    hash text not null references content (hash),
    width_px integer not null,
    height_px integer not null,
    at text not null,
    seal text not null,
    primary key (job, number)
) strict;
-- Instruments, machines, materials, and the trials of a job (the others stand under the job '').
create table record (
    kind text not null,
    job text not null,
    name text not null,
    number integer not null,
    at text not null,
    text text not null references content (hash),
    seal text not null,
    primary key (kind, job, name, number)
) strict;
-- What was made of a job when it was taken in. It can be made anew, so it has no revisions.
create table output (
    job text not null references job (id),
    name text not null,
    hash text not null references content (hash),
    seal text not null,
    primary key (job, name)
) strict;
-- What was kept stays as it is.
create trigger content_stays before update on content begin select raise(abort, 'content is never changed'); end;
create trigger content_is_kept before delete on content begin select raise(abort, 'content is never deleted'); end;
create trigger revision_stays before update on revision begin select raise(abort, 'a revision is never changed'); end;
create trigger revision_is_kept before delete on revision begin select raise(abort, 'a revision is never deleted'); end;
