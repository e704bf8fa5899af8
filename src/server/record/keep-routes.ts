import { createReadStream, mkdtempSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { Readable } from 'node:stream';
import { Hono } from 'hono';
import { AfterfireError } from '../../error.ts';
import { wallClock } from '../../making/record/instant.ts';
import { writeArchive } from '../../store/archive.ts';
import { type Backup, checkBackup, listBackups, makeBackup } from '../../store/backups.ts';
import { piecesToCsv } from '../../store/pieces-csv.ts';
import type { StudioRecord } from '../../store/record.ts';
import { readSettings } from '../../store/settings.ts';
import { asFile, fileName, notForOthers } from './file-answer.ts';
import { oneAtATime } from './one-at-a-time.ts';
import { nowUtc, type RecordSource } from './source.ts';

const nameOf = ({ db }: StudioRecord, what: string, ending: string): string => {
  const { name, zone } = readSettings(db);
  return fileName(name, what, `-${wallClock(nowUtc(), zone).day}${ending}`);
};

/** A file that goes out once and is gone, also when whoever asked goes away. */
const onceOut = (file: string, folder: string): ReadableStream => {
  const stream = createReadStream(file);
  stream.on('close', () => rmSync(folder, { recursive: true, force: true }));
  return Readable.toWeb(stream) as ReadableStream;
};

const archiveOf = async (record: StudioRecord): Promise<{ body: ReadableStream; bytes: number }> => {
  // Beside the record: there is room where it lies, and nobody else looks in.
  const folder = mkdtempSync(join(dirname(record.path), '.afterfire-out-'));
  try {
    const file = join(folder, 'studio.zip');
    await writeArchive(record, file, nowUtc());
    return { bytes: statSync(file).size, body: onceOut(file, folder) };
  } catch (error) {
    rmSync(folder, { recursive: true, force: true });
    throw error;
  }
};

const told = ({ path, at_utc }: Backup) => ({ at_utc, bytes: statSync(path).size });

/** Whether a copy is whole; what is wrong with it is said by its name alone, not where it lies. */
const soundness = ({ path, at_utc }: Backup) => {
  try {
    const { counts } = checkBackup(path);
    return { at_utc, sound: true, counts };
  } catch (error) {
    if (!(error instanceof AfterfireError)) throw error;
    return { at_utc, sound: false, trouble: error.message.replaceAll(path, basename(path)) };
  }
};

/** The record in other hands: as one archive, as a table, as dated backups. Putting one back is for the command line. */
export const keepRoutes = (source: RecordSource): Hono => {
  const alone = oneAtATime('An archive or a backup');
  const site = new Hono();
  site.use(notForOthers);
  return site
    .get('/table', async (c) => {
      const record = await source();
      asFile(c, 'text/csv; charset=utf-8', nameOf(record, 'pieces', '.csv'));
      return c.body(piecesToCsv(record.db));
    })
    .get('/archive', async (c) => {
      const record = await source();
      asFile(c, 'application/zip', nameOf(record, 'studio', '.zip'));
      // Who asks for the head alone would leave the file lying.
      if (c.req.raw.method === 'HEAD') return c.body(null);
      const { body, bytes } = await alone(() => archiveOf(record));
      c.header('Content-Length', String(bytes));
      return c.body(body);
    })
    .get('/backups', async (c) => c.json({ backups: listBackups((await source()).backups).map(told) }))
    .get('/backups/:at', async (c) => {
      const at = c.req.param('at');
      // Found in the list by its moment: nothing of the address is a path.
      const backup = listBackups((await source()).backups).find(({ at_utc }) => at_utc === at);
      if (!backup) throw new AfterfireError('not-found', `no backup of ${at.slice(0, 40)}`);
      return c.json(soundness(backup));
    })
    .post('/backups', async (c) => {
      const record = await source();
      const { missingPhotos } = await alone(async () => makeBackup(record, nowUtc()));
      return c.json({ backups: listBackups(record.backups).map(told), missingPhotos }, 201);
    });
};
