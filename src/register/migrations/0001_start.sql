-- History: what was decided, in order, and each row before and after. It only grows.
CREATE TABLE entry (
  id INTEGER PRIMARY KEY,
  at TEXT NOT NULL,                                       -- RFC 3339, UTC
  title TEXT NOT NULL,
  kind TEXT NOT NULL CHECK (kind IN ('do', 'undo', 'redo')),
  of INTEGER REFERENCES entry (id),                       -- the entry that was undone or redone
  by_whom TEXT NOT NULL,
  schema INTEGER NOT NULL,                                -- the form of the row images
  change BLOB,                                            -- the decision: JSON, zlib (RFC 1950)
  CHECK ((kind = 'do') = (of IS NULL) AND (kind = 'do') = (change IS NOT NULL))
) STRICT;
CREATE INDEX entry_of ON entry (of) WHERE of IS NOT NULL;

CREATE TABLE entry_row (
  entry INTEGER NOT NULL REFERENCES entry (id),
  seq INTEGER NOT NULL,
  thing TEXT NOT NULL,
  key BLOB NOT NULL CHECK (length(key) = 16),
  before TEXT,
  after TEXT,
  PRIMARY KEY (entry, seq),
  CHECK (before IS NOT NULL OR after IS NOT NULL)
) STRICT, WITHOUT ROWID;

CREATE TABLE entry_colony (
  colony BLOB NOT NULL CHECK (length(colony) = 16),       -- no reference: history outlives what was undone
  entry INTEGER NOT NULL REFERENCES entry (id),
  PRIMARY KEY (colony, entry)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'history only grows'); END;
CREATE TRIGGER entry_is_kept BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'history only grows'); END;
CREATE TRIGGER entry_row_stays BEFORE UPDATE ON entry_row BEGIN SELECT RAISE(ABORT, 'history only grows'); END;
CREATE TRIGGER entry_row_is_kept BEFORE DELETE ON entry_row BEGIN SELECT RAISE(ABORT, 'history only grows'); END;
CREATE TRIGGER entry_colony_stays BEFORE UPDATE ON entry_colony BEGIN SELECT RAISE(ABORT, 'history only grows'); END;
CREATE TRIGGER entry_colony_is_kept BEFORE DELETE ON entry_colony BEGIN SELECT RAISE(ABORT, 'history only grows'); END;

-- What is known now. Every id is a UUID of 16 bytes; the firm and the settings are single rows with an id of zeros.
CREATE TABLE firm (id BLOB PRIMARY KEY CHECK (id = zeroblob(16)), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE settings (id BLOB PRIMARY KEY CHECK (id = zeroblob(16)), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE yard (id BLOB PRIMARY KEY CHECK (length(id) = 16), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE source (id BLOB PRIMARY KEY CHECK (length(id) = 16), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE colony (id BLOB PRIMARY KEY CHECK (length(id) = 16), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE queen (id BLOB PRIMARY KEY CHECK (length(id) = 16), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE parcel (id BLOB PRIMARY KEY CHECK (length(id) = 16), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE plan (id BLOB PRIMARY KEY CHECK (length(id) = 16), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE bar (id BLOB PRIMARY KEY CHECK (length(id) = 16), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;
CREATE TABLE run (id BLOB PRIMARY KEY CHECK (length(id) = 16), body TEXT NOT NULL CHECK (json_valid(body))) STRICT, WITHOUT ROWID;

-- What happened at the hives, in the order a card lists it. The codes are those of register/rows/codes.rs.
CREATE TABLE record (
  colony BLOB NOT NULL REFERENCES colony (id) DEFERRABLE INITIALLY DEFERRED,
  day INTEGER NOT NULL,                                   -- days since 1 January of year 1, which is day 1
  id BLOB NOT NULL UNIQUE CHECK (length(id) = 16),
  by_whom TEXT NOT NULL,
  words TEXT NOT NULL,
  kind INTEGER NOT NULL,
  coverage INTEGER,
  seen INTEGER,                                           -- one bit a sign
  did INTEGER,                                            -- one bit a deed
  closed_cells INTEGER,
  begun_cells INTEGER,
  temper INTEGER,
  other BLOB,                                             -- a colony: lids swapped with it, received, split off
  queen_to BLOB,                                          -- a colony: the old queen was put to use there
  method INTEGER,
  queen BLOB REFERENCES queen (id) DEFERRABLE INITIALLY DEFERRED,
  parcel BLOB,
  old_queen INTEGER,                                      -- the day she was removed, or -1: not found
  emerged INTEGER,
  cells INTEGER,
  why TEXT,                                               -- why a bar was lifted; the bar given against
  together BLOB,
  struck INTEGER,
  amended TEXT CHECK (amended IS NULL OR json_valid(amended)),
  PRIMARY KEY (colony, day, id)
) STRICT, WITHOUT ROWID;
CREATE INDEX record_queen ON record (queen) WHERE queen IS NOT NULL;
