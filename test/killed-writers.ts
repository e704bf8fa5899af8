import { spawn } from 'node:child_process';
import { photoTrouble } from '../src/store/photos.ts';
import { closeRecord, openRecord, soundnessOf } from '../src/store/record.ts';
import { sqlite3 } from './record-kit.ts';

/** Writers of a record killed in the middle, and what is left of it. */

export interface Killed {
  /** Lines the writer acknowledged before it died. */
  readonly said: readonly string[];
  /** It was still at work when it was killed. */
  readonly midway: boolean;
}

/**
 * Starts a writer and ends it by SIGKILL.
 * @param command program and arguments of the writer
 * @param after how long after its first acknowledged entry (or, `from: 'start'`, after its start), ms
 */
export const killWriter = (
  command: readonly string[],
  after: { readonly from: 'entry' | 'start'; readonly ms: number },
): Promise<Killed> =>
  new Promise((resolve, reject) => {
    const child = spawn(command[0], command.slice(1), { stdio: ['ignore', 'pipe', 'pipe'] });
    let said = '';
    let complaint = '';
    let counting = false;
    let timer: NodeJS.Timeout | undefined;
    const count = (): void => {
      counting = true;
      timer = setTimeout(() => child.kill('SIGKILL'), after.ms);
    };
    child.stdout.on('data', (text: Buffer) => {
      said += text;
      if (!counting && /^e /m.test(said)) count();
    });
    child.stderr.on('data', (text: Buffer) => {
      complaint += text;
    });
    child.on('error', reject);
    child.on('close', (_, signal) => {
      clearTimeout(timer);
      if (complaint !== '') reject(new Error(complaint));
      // A line without its end was not acknowledged to the end.
      else resolve({ said: said.split('\n').slice(0, -1), midway: signal === 'SIGKILL' });
    });
    if (after.from === 'start') count();
  });

export interface Left {
  /** What was acknowledged and is not there, and whatever is damaged: nothing, if the promise holds. */
  readonly wrong: readonly string[];
  readonly entries: number;
  /** Whether SQLite's own program looked too. */
  readonly outside: boolean;
}

/** Looks at a record after its writers were killed. */
export const lookAfter = (path: string, acknowledged: readonly string[]): Left => {
  const outside = sqlite3(path, 'PRAGMA integrity_check; PRAGMA foreign_key_check;');
  const record = openRecord(path, { make: true });
  try {
    const { db, photos } = record;
    const uids = new Set(db.all<{ uid: string }>('SELECT uid FROM journal').map(({ uid }) => `e ${uid}`));
    const shas = new Set(db.all<{ sha256: string }>('SELECT sha256 FROM photo').map((p) => `p ${p.sha256}`));
    const lost = acknowledged.filter((line) => /^[ep] /.test(line) && !uids.has(line) && !shas.has(line));
    const { damage, counts } = soundnessOf(db);
    return {
      wrong: [
        ...lost.map((line) => `acknowledged and not there: ${line}`),
        ...damage,
        ...photoTrouble(db, photos),
        ...(outside === undefined || outside === 'ok' ? [] : [`sqlite3: ${outside}`]),
      ],
      entries: counts.entries,
      outside: outside !== undefined,
    };
  } finally {
    closeRecord(record);
  }
};
