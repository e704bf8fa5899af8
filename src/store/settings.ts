import { parseStudioSettings, type StudioSettings } from '../making/record/studio-settings.ts';
import type { Db } from './db.ts';

const KEY = 'studio';

/** The studio's settings; what was never set is the usual. */
export const readSettings = (db: Db): StudioSettings => {
  const row = db.one<{ value: string }>('SELECT value FROM setting WHERE key = ?', KEY);
  return parseStudioSettings(row === undefined ? {} : JSON.parse(row.value));
};

/** Changes some of them. Throws `bad-input` naming the setting. */
export const changeSettings = (db: Db, change: Readonly<Record<string, unknown>>): StudioSettings =>
  db.together(() => {
    const settings = parseStudioSettings({ ...readSettings(db), ...change });
    db.run(
      'INSERT INTO setting (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value',
      KEY,
      JSON.stringify(settings),
    );
    return settings;
  });
