/** The first version: sheets, the journal, what follows from it, photos, settings. */
export const JOURNAL = `
CREATE TABLE setting (
  key TEXT PRIMARY KEY CHECK (key <> ''),
  value TEXT NOT NULL CHECK (json_valid(value))
) STRICT;

CREATE TABLE series (
  id INTEGER PRIMARY KEY,
  key TEXT NOT NULL UNIQUE CHECK (key <> ''),
  name TEXT NOT NULL CHECK (name <> ''),
  note TEXT NOT NULL DEFAULT ''
) STRICT;

-- Forms, clays, kilns, schedules and all other files, each version as it was; none is ever changed.
CREATE TABLE sheet (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind <> ''),
  key TEXT NOT NULL CHECK (key <> ''),
  version INTEGER NOT NULL CHECK (version >= 1),
  name TEXT NOT NULL,
  parent INTEGER REFERENCES sheet (id) CHECK (parent < id),
  series INTEGER REFERENCES series (id),
  json TEXT NOT NULL CHECK (json_valid(json)),
  made_utc TEXT NOT NULL CHECK (made_utc GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T*Z'),
  zone TEXT NOT NULL CHECK (zone <> ''),
  UNIQUE (kind, key, version)
) STRICT;
CREATE INDEX sheet_parent ON sheet (parent) WHERE parent IS NOT NULL;
CREATE INDEX sheet_series ON sheet (series) WHERE series IS NOT NULL;
CREATE TRIGGER sheet_no_update BEFORE UPDATE ON sheet
BEGIN SELECT RAISE(ABORT, 'a sheet is never changed; write a new version'); END;
CREATE TRIGGER sheet_no_delete BEFORE DELETE ON sheet
BEGIN SELECT RAISE(ABORT, 'a sheet is never deleted'); END;

CREATE TABLE photo (
  sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  format TEXT NOT NULL CHECK (format IN ('jpeg', 'png', 'webp')),
  bytes INTEGER NOT NULL CHECK (bytes > 0),
  added_utc TEXT NOT NULL
) STRICT;

-- Only what a journal can point to; all else about a piece or a firing follows from the journal.
CREATE TABLE piece (id INTEGER PRIMARY KEY) STRICT;
CREATE TABLE firing (id INTEGER PRIMARY KEY) STRICT;

CREATE TABLE journal (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
  at_utc TEXT NOT NULL CHECK (at_utc GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9].[0-9][0-9][0-9]Z'),
  zone TEXT NOT NULL CHECK (zone <> ''),
  written_utc TEXT NOT NULL,
  piece INTEGER REFERENCES piece (id),
  firing INTEGER REFERENCES firing (id),
  kind TEXT NOT NULL CHECK (kind <> ''),
  data TEXT NOT NULL CHECK (json_valid(data) AND json_type(data) = 'object'),
  note TEXT NOT NULL DEFAULT '',
  undoes INTEGER REFERENCES journal (id) CHECK (undoes < id),
  batch INTEGER NOT NULL REFERENCES journal (id) CHECK (batch <= id),
  CHECK (piece IS NOT NULL OR firing IS NOT NULL),
  CHECK (kind <> 'undone' OR undoes IS NOT NULL)
) STRICT;
CREATE INDEX journal_piece ON journal (piece, id);
CREATE INDEX journal_firing ON journal (firing, id) WHERE firing IS NOT NULL;
CREATE INDEX journal_undoes ON journal (undoes) WHERE undoes IS NOT NULL;
CREATE INDEX journal_batch ON journal (batch);
CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is never changed; write a new entry'); END;
CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal is never deleted; write an entry that takes it back'); END;
CREATE TRIGGER journal_no_replace BEFORE INSERT ON journal
WHEN EXISTS (SELECT 1 FROM journal WHERE id = NEW.id OR uid = NEW.uid)
BEGIN SELECT RAISE(ABORT, 'the journal is never changed; write a new entry'); END;

-- Worked out from the journal and rebuilt from it at any time.
CREATE TABLE piece_state (
  piece INTEGER PRIMARY KEY REFERENCES piece (id),
  number TEXT COLLATE NOCASE UNIQUE,
  form INTEGER REFERENCES sheet (id),
  clay INTEGER REFERENCES sheet (id),
  firing INTEGER REFERENCES firing (id),
  stage TEXT NOT NULL,
  stands TEXT NOT NULL,
  begun_utc TEXT,
  last_utc TEXT,
  drying_since_utc TEXT,
  priced INTEGER NOT NULL CHECK (priced IN (0, 1)),
  shown_after INTEGER NOT NULL CHECK (shown_after IN (0, 1)),
  due TEXT,
  state TEXT NOT NULL CHECK (json_valid(state))
) STRICT;
-- These hold all that the start page and the family ask, so that the wide rows themselves are not read.
CREATE INDEX piece_state_work ON piece_state (stage, stands);
CREATE INDEX piece_state_unpriced ON piece_state (last_utc, number, stage, stands, priced)
  WHERE stage = 'finished' AND stands NOT IN ('sold', 'lost') AND priced = 0;
CREATE INDEX piece_state_unphotographed ON piece_state (last_utc, number, stage, stands, shown_after)
  WHERE stage IN ('unloaded', 'finished') AND stands NOT IN ('sold', 'lost') AND shown_after = 0;
CREATE INDEX piece_state_drying ON piece_state (drying_since_utc, stage, stands, number)
  WHERE drying_since_utc IS NOT NULL;
CREATE INDEX piece_state_form ON piece_state (form, stage, stands, begun_utc);
CREATE INDEX piece_state_firing ON piece_state (firing) WHERE firing IS NOT NULL;
CREATE INDEX piece_state_due ON piece_state (due) WHERE due IS NOT NULL;
CREATE INDEX piece_state_begun ON piece_state (begun_utc);

CREATE TABLE firing_state (
  firing INTEGER PRIMARY KEY REFERENCES firing (id),
  name TEXT COLLATE NOCASE UNIQUE,
  kiln INTEGER REFERENCES sheet (id),
  schedule INTEGER REFERENCES sheet (id),
  stage TEXT NOT NULL,
  day TEXT,
  lit_utc TEXT,
  state TEXT NOT NULL CHECK (json_valid(state))
) STRICT;
CREATE INDEX firing_state_stage ON firing_state (stage);
`;
