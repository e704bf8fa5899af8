import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { RecordSource } from '../server/record/source.ts';
import { backupIfDue } from '../store/backups.ts';
import { closeRecord, openRecord, type StudioRecord } from '../store/record.ts';
import { readSettings } from '../store/settings.ts';
import { demoRecord } from './demo-record.ts';

export interface ServedRecord {
  readonly source: RecordSource;
  readonly close: () => void;
}

/** Whether a backup of today is missing is looked at this often. */
const LOOK_ms = 3_600_000;
/** A copy of a large record takes seconds: the page is there first. */
const FIRST_ms = 10_000;

/** A record that is open has a backup of each day, of its own accord. */
const opened = (record: StudioRecord, say: (words: string) => void): ServedRecord => {
  const backUp = (): void => {
    try {
      const made = backupIfDue(record, new Date().toISOString(), readSettings(record.db).zone);
      for (const sha256 of made?.missingPhotos ?? [])
        say(`photo ${sha256}: missing or damaged, and so not in the backup\n`);
    } catch (error) {
      // The record itself is whole and stays open; somebody must make room or mend the folder.
      say(`No backup was made: ${error instanceof Error ? error.message : String(error)}\n`);
    }
  };
  const first = setTimeout(backUp, FIRST_ms);
  const looking = setInterval(backUp, LOOK_ms);
  for (const timer of [first, looking]) timer.unref();
  return {
    source: async () => record,
    close: () => {
      clearTimeout(first);
      clearInterval(looking);
      backUp();
      closeRecord(record);
    },
  };
};

/** The invented studio: made when it is first asked for, in a folder of its own that is gone when the server ends. */
const invented = (): ServedRecord => {
  let folder: string | undefined;
  let made: Promise<StudioRecord> | undefined;
  let open: StudioRecord | undefined;
  const make = async (): Promise<StudioRecord> => {
    folder = mkdtempSync(join(tmpdir(), 'afterfire-demo-'));
    open = await demoRecord(join(folder, 'invented.sqlite'));
    return open;
  };
  return {
    source: () => {
      made ??= make().catch((error: unknown) => {
        made = undefined;
        throw error;
      });
      return made;
    },
    close: () => {
      if (open) closeRecord(open);
      if (folder) rmSync(folder, { recursive: true, force: true });
    },
  };
};

/** Beside the other files of a studio's folder. */
const IN_FOLDER = 'record.sqlite';

/**
 * Which record a server opens: the one named, made where it is not there yet; else the one in the studio's folder;
 * else, with the demo studio, an invented one.
 * @param say where trouble with its backups is told
 */
export const servedRecord = (
  file: string | undefined,
  studio: string | undefined,
  say: (words: string) => void,
): ServedRecord | undefined => {
  if (file !== undefined) return opened(openRecord(file, { make: !existsSync(file) }), say);
  if (studio === undefined) return invented();
  const beside = join(studio, IN_FOLDER);
  return existsSync(beside) ? opened(openRecord(beside), say) : undefined;
};
