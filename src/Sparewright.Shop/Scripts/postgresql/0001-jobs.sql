-- Jobs and all their revisions. Nothing here is ever updated but job.latest, or deleted.
create table job (
    id text not null primary key,
    latest bigint not null
);
-- An entry holds its text. An undo or redo holds the number of the entry whose text it brings back (state), and what a redo would bring back next (redoes, the next one first).
create table revision (
    job text not null references job (id),
    number bigint not null,
    kind text not null,
    what text not null,
    at text not null,
    part text not null,
    content text,
    state bigint not null,
    before bigint,
    redoes text not null,
    primary key (job, number)
);
create table content (
    hash text not null primary key,
    bytes bytea not null
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
    primary key (job, number)
);
-- Instruments, machines, materials, trials: each name has revisions of a text.
create table record (
    kind text not null,
    name text not null,
    number bigint not null,
    at text not null,
    content text not null,
    primary key (kind, name, number)
);
