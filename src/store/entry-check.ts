import { type Field, KIND_NAMES, kindOf } from '../making/record/kinds.ts';
import type { Db } from './db.ts';

/**
 * The check of an entry's data inside the database, from the same table as all other checks. It is a trigger, made anew
 * when the table has changed: so a new field needs no step forward of the file, and what was written stays.
 */

const quoted = (text: string): string => `'${text.replaceAll("'", "''")}'`;

const conditionOf = (path: string, field: Field): string => {
  const value = `json_extract(NEW.data, ${path})`;
  const type = `json_type(NEW.data, ${path})`;
  switch (field.type) {
    case 'number':
      return `${type} IN (${field.whole ? "'integer'" : "'integer', 'real'"}) AND ${value} BETWEEN ${field.least} AND ${field.most}`;
    case 'text':
      return `${type} = 'text' AND length(${value}) BETWEEN 1 AND ${field.most}`;
    case 'choice':
      return `${value} IN (${field.of.map(quoted).join(', ')})`;
    case 'day':
      return `date(${value}) IS ${value}`;
    case 'sheet':
      return `EXISTS (SELECT 1 FROM sheet WHERE id = ${value} AND kind = ${quoted(field.of)})`;
    case 'photo':
      return `EXISTS (SELECT 1 FROM photo WHERE sha256 = ${value})`;
  }
};

const conditionsFor = (fields: Readonly<Record<string, Field>>): string => {
  const names = Object.keys(fields);
  const known = `NOT EXISTS (SELECT 1 FROM json_each(NEW.data) WHERE key NOT IN (${names.map(quoted).join(', ') || "''"}))`;
  const each = Object.entries(fields).map(([name, field]) => {
    const path = quoted(`$.${name}`);
    const right = conditionOf(path, field);
    return field.needed ? `(${right})` : `(json_type(NEW.data, ${path}) IS NULL OR (${right}))`;
  });
  return [known, ...each].join('\n    AND ');
};

const NAME = 'journal_data';

const triggerSql = (): string => `CREATE TRIGGER ${NAME} BEFORE INSERT ON journal
WHEN (CASE NEW.kind
  ${KIND_NAMES.map((name) => `WHEN ${quoted(name)} THEN ${conditionsFor(kindOf(name).fields)}`).join('\n  ')}
  ELSE 0 END) IS NOT 1
BEGIN SELECT RAISE(ABORT, 'this kind of entry does not have such data'); END`;

/** Puts the trigger of this program's table in place. */
export const keepEntryCheck = (db: Db): void => {
  const wanted = triggerSql();
  const there = db.one<{ sql: string }>('SELECT sql FROM sqlite_schema WHERE name = ?', NAME)?.sql;
  if (there === wanted) return;
  db.together(() => {
    db.exec(`DROP TRIGGER IF EXISTS ${NAME}`);
    db.exec(wanted);
  });
};
