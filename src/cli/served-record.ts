import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { RecordSource } from '../server/record/source.ts';
import { closeRecord, openRecord, type StudioRecord } from '../store/record.ts';
import { demoRecord } from './demo-record.ts';

export interface ServedRecord {
  readonly source: RecordSource;
  readonly close: () => void;
}

const opened = (record: StudioRecord): ServedRecord => ({
  source: async () => record,
  close: () => closeRecord(record),
});

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
 */
export const servedRecord = (
  file: string | undefined,
  studio: string | undefined,
): ServedRecord | undefined => {
  if (file !== undefined) return opened(openRecord(file, { make: !existsSync(file) }));
  if (studio === undefined) return invented();
  const beside = join(studio, IN_FOLDER);
  return existsSync(beside) ? opened(openRecord(beside)) : undefined;
};
