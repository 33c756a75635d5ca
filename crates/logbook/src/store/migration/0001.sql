-- The book's tables. docs/format.md describes them for strangers.

CREATE TABLE log (
  num      INTEGER PRIMARY KEY,
  id       TEXT NOT NULL UNIQUE,
  standing TEXT NOT NULL CHECK (standing IN ('own', 'bench', 'foreign')),
  size     INTEGER NOT NULL CHECK (size >= 0),
  order_ms INTEGER NOT NULL,
  edge     BLOB NOT NULL
) STRICT;

-- place = log.num * 2^40 + seq. All columns but place and leaf are copies of what stands in bytes.
CREATE TABLE entry (
  place       INTEGER PRIMARY KEY,
  log         TEXT NOT NULL,
  seq         INTEGER NOT NULL,
  id          TEXT NOT NULL,
  kind        TEXT NOT NULL,
  act         TEXT NOT NULL,
  entered_ms  INTEGER NOT NULL,
  happened_ms INTEGER NOT NULL,
  order_ms    INTEGER NOT NULL,
  leaf        BLOB NOT NULL,
  bytes       BLOB NOT NULL
) STRICT;
CREATE UNIQUE INDEX entry_id ON entry (id);
CREATE INDEX entry_act ON entry (act);

CREATE TABLE tile (
  log   INTEGER NOT NULL,
  level INTEGER NOT NULL,
  at    INTEGER NOT NULL,
  hash  BLOB NOT NULL,
  PRIMARY KEY (log, level, at)
) STRICT, WITHOUT ROWID;

CREATE TABLE block (
  num    INTEGER PRIMARY KEY,
  digest BLOB NOT NULL UNIQUE,
  bytes  BLOB NOT NULL
) STRICT;

CREATE TRIGGER entry_stays BEFORE UPDATE ON entry
  BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END;
CREATE TRIGGER entry_remains BEFORE DELETE ON entry
  BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END;
CREATE TRIGGER entry_once BEFORE INSERT ON entry
  WHEN EXISTS (SELECT 1 FROM entry WHERE place = NEW.place) OR EXISTS (SELECT 1 FROM entry WHERE id = NEW.id)
  BEGIN SELECT RAISE(ABORT, 'an entry is never replaced'); END;
CREATE TRIGGER tile_stays BEFORE UPDATE ON tile
  BEGIN SELECT RAISE(ABORT, 'a tile is never changed'); END;
CREATE TRIGGER tile_remains BEFORE DELETE ON tile
  BEGIN SELECT RAISE(ABORT, 'a tile is never deleted'); END;
CREATE TRIGGER block_stays BEFORE UPDATE ON block
  BEGIN SELECT RAISE(ABORT, 'a block is never changed'); END;
CREATE TRIGGER block_remains BEFORE DELETE ON block
  BEGIN SELECT RAISE(ABORT, 'a block is never deleted'); END;
CREATE TRIGGER log_remains BEFORE DELETE ON log
  BEGIN SELECT RAISE(ABORT, 'a log is never deleted'); END;

-- Which machine and file this book was last written on. Outside the logs.
CREATE TABLE home (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;

-- Digest of what was asked under each act's key. Outside the logs.
CREATE TABLE asked (act TEXT PRIMARY KEY, digest BLOB NOT NULL) STRICT, WITHOUT ROWID;

-- From here on: read models, worked out from the entries. A thing is named by the place of the entry that made it.

CREATE TABLE about (
  subject INTEGER NOT NULL,
  log     INTEGER NOT NULL,
  seq     INTEGER NOT NULL,
  n       INTEGER NOT NULL,
  PRIMARY KEY (subject, log, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE refer (
  target INTEGER NOT NULL,
  place  INTEGER NOT NULL,
  PRIMARY KEY (target, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE amend (
  target INTEGER NOT NULL,
  place  INTEGER NOT NULL,
  PRIMARY KEY (target, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX amend_place ON amend (place);

CREATE TABLE name (
  noun  TEXT NOT NULL,
  place INTEGER NOT NULL,
  name  TEXT NOT NULL,
  PRIMARY KEY (noun, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX name_name ON name (noun, name);

CREATE TABLE hand (
  spot   INTEGER NOT NULL,
  source INTEGER NOT NULL,
  at_ms  INTEGER NOT NULL,
  place  INTEGER NOT NULL,
  PRIMARY KEY (spot, source, at_ms, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE cover (
  spot     INTEGER NOT NULL,
  until_ms INTEGER NOT NULL,
  from_ms  INTEGER NOT NULL,
  place    INTEGER NOT NULL,
  PRIMARY KEY (spot, until_ms, from_ms, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE hour (
  spot    INTEGER NOT NULL,
  hour_ms INTEGER NOT NULL,
  place   INTEGER NOT NULL,
  PRIMARY KEY (spot, hour_ms, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE live (
  place INTEGER PRIMARY KEY,
  what  TEXT NOT NULL,
  rest  INTEGER NOT NULL
) STRICT;
CREATE INDEX live_awake ON live (place) WHERE rest = 0;

-- Entries at which time may have turned: first of a run under one boot, confirmations, steps of the wall clock.
CREATE TABLE turn (
  place  INTEGER PRIMARY KEY,
  starts INTEGER NOT NULL
) STRICT;
