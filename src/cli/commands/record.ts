import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { Command } from 'commander';
import { badInput } from '../../error.ts';
import { parseStudioSettings } from '../../making/record/studio-settings.ts';
import { readArchive, writeArchive } from '../../store/archive.ts';
import {
  BACKUP_NAME,
  backupIfDue,
  checkBackup,
  makeBackup,
  moveAside,
  restoreBackup,
} from '../../store/backups.ts';
import { photoTrouble } from '../../store/photos.ts';
import { piecesToCsv } from '../../store/pieces-csv.ts';
import { piecesFromCsv } from '../../store/pieces-from-csv.ts';
import { readText } from '../../store/read-text.ts';
import { closeRecord, newRecord, openRecord, type StudioRecord, soundnessOf } from '../../store/record.ts';
import { search } from '../../store/search.ts';
import { changeSettings, readSettings } from '../../store/settings.ts';
import { startPage } from '../../store/start-page.ts';
import { DEMO_SEED, demoRecord } from '../demo-record.ts';
import type { Io } from '../io.ts';
import { numberFrom } from '../options.ts';
import { hitLines, startPageLines } from '../words/record-words.ts';

const now = (): string => new Date().toISOString();

const MAX_TABLE_BYTES = 100_000_000;

/** Opens a record for one command; it is closed whatever happens. */
const within = async <T>(
  record: StudioRecord,
  work: (record: StudioRecord) => T | Promise<T>,
): Promise<T> => {
  try {
    return await work(record);
  } finally {
    closeRecord(record);
  }
};

const make = (io: Io): Command =>
  new Command('new')
    .description('make an empty record')
    .argument('<file.sqlite>', 'where')
    .option('--name <words>', 'what the studio is called')
    .option(
      '--zone <zone>',
      'the zone of its clocks, as in the IANA database (default: that of this machine)',
    )
    .option('--currency <letters>', 'its currency, three letters of ISO 4217')
    .action(async (file: string, options: Record<string, string>) => {
      const zone = options.zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
      const settings = parseStudioSettings({ ...options, zone }); // before there is a file
      await within(newRecord(file), ({ db }) => changeSettings(db, settings));
      io.out(`${file} is made.\n`);
    });

const demo = (io: Io): Command =>
  new Command('demo')
    .description('make a record of an invented studio: eighteen months, three series, 140 pieces, 14 firings')
    .argument('<file.sqlite>', 'where')
    .option('--seed <number>', 'another seed, another studio', String(DEMO_SEED))
    .option('--again', 'an invented studio that is there already is moved aside and made anew')
    .action(async (file: string, options: { seed: string; again?: true }) => {
      const seed = numberFrom('--seed', options.seed, 0, 2 ** 32 - 1, true);
      const aside = options.again ? await moveInventedAside(file) : undefined;
      closeRecord(await demoRecord(file, seed));
      io.out(`${file} is made. All in it is invented.\n${aside ? `The one before is now ${aside}\n` : ''}`);
    });

/** Moves a record out of the way, if it is an invented one; a real one is never touched. */
const moveInventedAside = async (file: string): Promise<string | undefined> => {
  if (!existsSync(file)) return undefined;
  const { invented } = await within(openRecord(file), ({ db }) => readSettings(db));
  if (!invented) throw badInput('--again', file, 'an invented studio; this one is real and was not touched');
  return moveAside(file, now());
};

const show = (io: Io): Command =>
  new Command('show')
    .description('what needs somebody now, or what is found')
    .argument('<file.sqlite>', 'the record')
    .option('--find <words>', 'pieces and firings by number, form, month, place, notes')
    .option('--json', 'as JSON')
    .action(async (file: string, options: { find?: string; json?: true }) => {
      await within(openRecord(file), ({ db }) => {
        const found = options.find === undefined ? undefined : search(db, options.find);
        const page = found ?? startPage(db, now());
        const lines = found ? hitLines(found) : startPageLines(startPage(db, now()), readSettings(db));
        io.out(options.json ? `${JSON.stringify(page, null, 2)}\n` : lines);
      });
    });

const check = (io: Io): Command =>
  new Command('check')
    .description('look whether a record or a backup is whole: structure, references, photos')
    .argument('<file.sqlite>', 'the record, or a backup of it')
    .action(async (file: string) => {
      const isCopy = BACKUP_NAME.test(file);
      const { counts, trouble } = isCopy
        ? { counts: checkBackup(file).counts, trouble: [] }
        : await within(openRecord(file), ({ db, photos }) => {
            const found = soundnessOf(db);
            return { counts: found.counts, trouble: [...found.damage, ...photoTrouble(db, photos)] };
          });
      if (trouble.length > 0)
        throw badInput(file, trouble.join('\n'), 'a whole record; a backup can mend it');
      const said = Object.entries(counts).map(([what, n]) => `${n} ${what}`);
      io.out(`${file} is whole: ${said.join(', ')}.\n`);
    });

const backup = (io: Io): Command =>
  new Command('backup')
    .description(
      'make a dated backup beside the record, or elsewhere; old ones are thinned to days and weeks',
    )
    .argument('<file.sqlite>', 'the record')
    .option('--to <folder>', 'another folder, on another disk at best')
    .option('--if-due', 'only when there is none of today')
    .action(async (file: string, options: { to?: string; ifDue?: true }) => {
      await within(openRecord(file), (record) => {
        const made = options.ifDue
          ? backupIfDue(record, now(), readSettings(record.db).zone)
          : makeBackup(record, now(), options.to);
        io.out(made ? `${made.path}\n` : 'There is a backup of today.\n');
        for (const sha256 of made?.missingPhotos ?? [])
          io.err(`photo ${sha256}: missing or damaged, and so not in the backup\n`);
      });
    });

const restore = (io: Io): Command =>
  new Command('restore')
    .description(
      'put a backup in the place of a record; what is there is moved aside. Nothing may have it open',
    )
    .argument('<backup.sqlite>', 'the backup')
    .argument('<file.sqlite>', 'the record')
    .action((from: string, file: string) => {
      const aside = restoreBackup(from, file, now());
      io.out(`${file} is as it was in the backup.\n${aside ? `What was there is now ${aside}\n` : ''}`);
    });

const exportTo = (io: Io): Command =>
  new Command('export')
    .description('write the whole studio as one archive (.zip), or its pieces as a table (.csv)')
    .argument('<file.sqlite>', 'the record')
    .argument('<out>', 'a file that is not there yet, ending in .zip or .csv')
    .action(async (file: string, out: string) => {
      if (!/\.(zip|csv)$/.test(out)) throw badInput('out', out, 'a file ending in .zip or .csv');
      await within(openRecord(file), async (record) => {
        if (out.endsWith('.zip')) return writeArchive(record, out, now());
        return writeFile(out, piecesToCsv(record.db), { flag: 'wx' }).catch(
          (error: NodeJS.ErrnoException) => {
            throw badInput(
              'out',
              `${out} (${error.code})`,
              'a file that is not there yet, in a folder that can be written to',
            );
          },
        );
      });
      io.out(`${out} is written.\n`);
    });

const importFrom = (io: Io): Command =>
  new Command('import')
    .description('make a record from an archive (.zip), or add the pieces of a table (.csv) to one')
    .argument('<in>', 'an archive or a table')
    .argument('<file.sqlite>', 'the record: a new one for an archive, one that is there for a table')
    .action(async (from: string, file: string) => {
      if (!/\.(zip|csv)$/.test(from)) throw badInput('in', from, 'a file ending in .zip or .csv');
      if (from.endsWith('.zip')) await readArchive(from, file);
      else {
        const text = await readText(from, MAX_TABLE_BYTES);
        const n = await within(openRecord(file), ({ db }) => piecesFromCsv(db, text, now()));
        io.out(`${n} pieces came in.\n`);
      }
      io.out(`${file} is ready.\n`);
    });

export const recordCommand = (io: Io): Command => {
  const record = new Command('record').description(
    "the studio's record of every piece: make it, look at it, check it, back it up, take it elsewhere",
  );
  for (const part of [make, demo, show, check, backup, restore, exportTo, importFrom])
    record.addCommand(part(io));
  return record;
};
