-- removed_at: since when a photograph is removed from its job; null while it belongs to it. The seal covers it once it is there, so that older rows keep theirs.
alter table photograph add column removed_at text;
