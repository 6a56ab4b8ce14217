-- The record of one boat: what was measured and done, and the phones that may write it. Names end in the unit.
-- `seq` orders the entries, never a clock: clocks are set back, and every device has its own.
create table entries (
    seq integer primary key autoincrement,
    id text not null unique check (length(id) = 32),
    at_ms integer not null,                         -- since 1970, by the clock of the device that made it
    kind text not null check (kind in ('reading', 'done', 'hours', 'withdrawn')),
    side text check (side in ('port', 'starboard')),
    strake integer check (strake between 1 and 40),
    section text,
    what text not null,
    value real,                                     -- mm of a reading, number of rivets, hours
    against_mm real,                                -- girth of the mark when it was read
    typed text not null,
    corrects text references entries (id),
    device text not null,
    stored_ms integer not null                      -- since 1970, by the clock of the machine that keeps the record
) strict;
create trigger entries_stay before update on entries begin
    select raise(abort, 'an entry of the record is never changed: store one that corrects it');
end;
create trigger entries_are_kept before delete on entries begin
    select raise(abort, 'an entry of the record is never erased: store one that takes it back');
end;
-- Against "insert or replace", which erases without being asked.
create trigger entries_are_not_replaced before insert on entries
when exists (select 1 from entries where id = new.id or seq = new.seq) begin
    select raise(ignore);
end;
-- A phone's token is kept as its SHA-256 only.
create table phones (
    phone integer primary key autoincrement,
    name text not null unique,
    token_sha256 blob not null check (length(token_sha256) = 32),
    paired_ms integer not null,
    shut_out_ms integer
) strict;
create table about (key text primary key, value text not null) strict;
