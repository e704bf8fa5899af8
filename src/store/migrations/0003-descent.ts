/**
 * What was said later of a form's line, for a sheet itself is never changed: the newest row of a form counts, and all
 * before it stay. `sheet_now` reads as `sheet` does, with what was said last. And small pictures of photos, for lists.
 */
export const DESCENT = `
CREATE TABLE descent (
  id INTEGER PRIMARY KEY,
  form INTEGER NOT NULL REFERENCES sheet (id),
  parent INTEGER REFERENCES sheet (id) CHECK (parent <> form),
  series INTEGER REFERENCES series (id),
  written_utc TEXT NOT NULL
) STRICT;
CREATE INDEX descent_form ON descent (form, id);
CREATE TRIGGER descent_no_update BEFORE UPDATE ON descent
BEGIN SELECT RAISE(ABORT, 'what was said of a descent is never changed; say it anew'); END;
CREATE TRIGGER descent_no_delete BEFORE DELETE ON descent
BEGIN SELECT RAISE(ABORT, 'what was said of a descent is never deleted; say it anew'); END;
CREATE TRIGGER descent_no_replace BEFORE INSERT ON descent
WHEN EXISTS (SELECT 1 FROM descent WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'what was said of a descent is never changed; say it anew'); END;

CREATE VIEW sheet_now AS
SELECT s.id, s.kind, s.key, s.version, s.name,
  CASE WHEN d.id IS NULL THEN s.parent ELSE d.parent END AS parent,
  CASE WHEN d.id IS NULL THEN s.series ELSE d.series END AS series,
  s.made_utc, s.zone
FROM sheet AS s
LEFT JOIN descent AS d ON d.id = (SELECT max(id) FROM descent WHERE form = s.id);

CREATE TABLE small_photo (
  photo TEXT PRIMARY KEY REFERENCES photo (sha256),
  small TEXT NOT NULL REFERENCES photo (sha256)
) STRICT;
`;
