import { randomUUID } from 'node:crypto';
import { type AfterfireError, badInput, badInputs, type Fault } from '../error.ts';
import { type Entry, type NewEntry, parseEntry, sameEntry } from '../making/record/entry.ts';
import { foldFiring, loadFault } from '../making/record/firing-state.ts';
import { foldPiece } from '../making/record/fold.ts';
import { standing, takenBack } from '../making/record/standing.ts';
import type { Db } from './db.ts';
import {
  entriesOfBatch,
  entriesOfFiring,
  entriesOfPiece,
  entryById,
  entryByUid,
  piecesNamedIn,
} from './journal-rows.ts';
import { keepFiring, keepPiece } from './states.ts';

/**
 * Writing the journal: entries come in one go or not at all, each checked against all that is known of its piece and its
 * firing, at the time it says. What cannot be is refused and nothing is written.
 */

/** Clocks of two devices differ a little; more than this ahead is a slip of the hand. */
const AHEAD_MS = 10 * 60_000;

const faultIn = (entry: NewEntry, all: readonly NewEntry[], fault: Fault): Fault => {
  const at = all.indexOf(entry);
  return { ...fault, field: `${at >= 0 && all.length > 1 ? `entries[${at}]` : 'entry'}.${fault.field}` };
};

const undoFault = (db: Db, entry: NewEntry): Fault | undefined => {
  if (entry.undoes === undefined) return undefined;
  const no = (expected: string): Fault => ({ field: 'undoes', value: String(entry.undoes), expected });
  const target = entryById(db, entry.undoes);
  if (!target) return no('an entry that is in the journal');
  if (target.piece !== entry.piece || (entry.piece === undefined && target.firing !== entry.firing))
    return no('an entry about the same piece or firing');
  if (entry.kind !== 'undone' && entry.kind !== target.kind)
    return no(`an entry of the kind "${entry.kind}"; entry ${target.id} is "${target.kind}"`);
  const about =
    target.piece === undefined ? entriesOfFiring(db, target.firing!) : entriesOfPiece(db, target.piece);
  if (takenBack(about).has(target.id)) return no(`an entry that counts; ${target.id} is taken back already`);
  return undefined;
};

const subjectFault = (db: Db, { piece, firing }: NewEntry): Fault | undefined => {
  if (piece !== undefined && !db.one('SELECT id FROM piece WHERE id = ?', piece))
    return { field: 'piece', value: String(piece), expected: 'a piece that is in the record' };
  if (firing !== undefined && !db.one('SELECT id FROM firing WHERE id = ?', firing))
    return { field: 'firing', value: String(firing), expected: 'a firing that is in the record' };
  return undefined;
};

const INSERT = `INSERT INTO journal (id, uid, at_utc, zone, written_utc, piece, firing, kind, data, note, undoes, batch)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`;

const insert = (db: Db, entry: NewEntry, id: number, batch: number, now_utc: string): Entry => {
  const { uid = randomUUID(), at_utc, zone, piece, firing, kind, data = {}, note = '', undoes } = entry;
  try {
    db.run(
      INSERT,
      id,
      uid,
      at_utc,
      zone,
      now_utc,
      piece ?? null,
      firing ?? null,
      kind,
      JSON.stringify(data),
      note,
      undoes ?? null,
      batch,
    );
  } catch (error) {
    if (/does not have such data/.test(String(error)))
      throw badInput('entry.data', data, 'sheets and photos that are in the record, of the right kind');
    throw error;
  }
  return entryById(db, id)!;
};

/** Refolds a piece with what is new; throws where its life no longer makes sense. */
const judgePiece = (
  db: Db,
  piece: number,
  given: readonly NewEntry[],
  ids: ReadonlyMap<number, NewEntry>,
): void => {
  const entries = entriesOfPiece(db, piece);
  const { trouble } = foldPiece(entries);
  if (trouble) {
    const mine = ids.get(trouble.entry.id);
    const { fault, entry } = trouble;
    throw badInputs([
      mine
        ? faultIn(mine, given, fault)
        : // What is new makes an older entry impossible: taking back "set" under a "fired", say.
          {
            field: 'entry',
            value: `${given.map(({ kind }) => kind).join(', ')}`,
            expected: `nothing that entry ${entry.id} ("${entry.kind}" of ${entry.at_utc.slice(0, 10)}) cannot follow: that one needs ${fault.expected}; take it back first`,
          },
    ]);
  }
  keepPiece(db, piece, entries);
};

const judgeFiring = (
  db: Db,
  firing: number,
  given: readonly NewEntry[],
  ids: ReadonlyMap<number, NewEntry>,
): void => {
  const { state, trouble } = foldFiring(entriesOfFiring(db, firing));
  if (trouble) {
    const mine = ids.get(trouble.entry.id);
    throw badInputs([
      mine
        ? faultIn(mine, given, trouble.fault)
        : {
            field: 'entry',
            value: given.map(({ kind }) => kind).join(', '),
            expected: `nothing that entry ${trouble.entry.id} ("${trouble.entry.kind}") cannot follow; take that one back first`,
          },
    ]);
  }
  for (const piece of piecesNamedIn(db, firing))
    for (const entry of standing(entriesOfPiece(db, piece))) {
      if (entry.firing !== firing) continue;
      const fault = loadFault(entry, state);
      if (fault) throw badInputs([faultIn(ids.get(entry.id) ?? entry, given, fault)]);
    }
  keepFiring(db, firing);
};

const numberTaken = (error: unknown): AfterfireError | undefined =>
  /UNIQUE constraint failed: piece_state.number/.test(String(error))
    ? badInput('entry.data.number', 'a number that another piece has', 'a number of its own')
    : /UNIQUE constraint failed: firing_state.name/.test(String(error))
      ? badInput('entry.data.name', 'a name that another firing has', 'a name of its own')
      : undefined;

/**
 * Entries as they came, each already in the record by its `uid`: a device that got no answer sends again.
 * Throws `bad-input` where a `uid` stands for something else.
 */
const sentBefore = (db: Db, entries: readonly NewEntry[]): Entry[] | undefined => {
  const found = entries.map(({ uid }) => (uid === undefined ? undefined : entryByUid(db, uid)));
  if (found.every((entry) => entry === undefined)) return undefined;
  for (const [i, entry] of found.entries())
    if (!entry || !sameEntry(entry, entries[i]))
      throw badInput(
        `entries[${i}].uid`,
        entries[i].uid,
        'a uid of its own: another entry was sent by this one',
      );
  return found as Entry[];
};

const checkTimes = (entries: readonly NewEntry[], now_utc: string): void => {
  const latest = new Date(Date.parse(now_utc) + AHEAD_MS).toISOString();
  const faults = entries
    .filter(({ at_utc }) => at_utc > latest || at_utc < '1900')
    .map((entry) =>
      faultIn(entry, entries, {
        field: 'at_utc',
        value: entry.at_utc,
        expected: `a time since 1900 and not after now, ${now_utc}`,
      }),
    );
  if (faults.length > 0) throw badInputs(faults);
};

/**
 * Writes entries, all in one go or none of them.
 * @returns them as they stand in the journal
 * @throws AfterfireError `bad-input` naming the entry and the field, and what would be right
 */
export const record = (db: Db, given: readonly unknown[], now_utc: string): Entry[] => {
  const entries = given.map((entry, i) => parseEntry(entry, given.length > 1 ? `entries[${i}]` : 'entry'));
  if (entries.length === 0) return [];
  checkTimes(entries, now_utc);
  try {
    return db.together(() => {
      const before = sentBefore(db, entries);
      if (before) return before;
      const batch = (db.one<{ id: number | null }>('SELECT max(id) AS id FROM journal')?.id ?? 0) + 1;
      const ids = new Map<number, NewEntry>();
      const written = entries.map((entry, i) => {
        const fault = subjectFault(db, entry) ?? undoFault(db, entry);
        if (fault) throw badInputs([faultIn(entry, entries, fault)]);
        ids.set(batch + i, entry);
        return insert(db, entry, batch + i, batch, now_utc);
      });
      const pieces = new Set(written.flatMap(({ piece }) => piece ?? []));
      const firings = new Set(
        written.flatMap(
          (entry) => entry.firing ?? (entry.undoes ? entryById(db, entry.undoes)?.firing : []) ?? [],
        ),
      );
      for (const firing of firings) judgeFiring(db, firing, entries, ids);
      for (const piece of pieces) judgePiece(db, piece, entries, ids);
      return written;
    });
  } catch (error) {
    throw numberTaken(error) ?? error;
  }
};

const undoneEntry = (entry: Entry, now_utc: string, zone: string): NewEntry => ({
  at_utc: now_utc,
  zone,
  ...(entry.piece === undefined ? {} : { piece: entry.piece }),
  ...(entry.firing === undefined ? {} : { firing: entry.firing }),
  kind: 'undone',
  undoes: entry.id,
});

/**
 * Takes back all that was written in one go with this entry, and that still counts. Undoing the `undone` entries brings
 * it back.
 */
export const undoBatch = (db: Db, batch: number, now_utc: string, zone: string): Entry[] => {
  const entries = entriesOfBatch(db, batch);
  if (entries.length === 0) throw badInput('batch', batch, 'a step that is in the journal');
  const counts = entries.filter((entry) => {
    const about =
      entry.piece === undefined ? entriesOfFiring(db, entry.firing!) : entriesOfPiece(db, entry.piece);
    return !takenBack(about).has(entry.id);
  });
  if (counts.length === 0)
    throw badInput('batch', batch, 'a step that counts; this one is taken back already');
  return record(
    db,
    counts.map((entry) => undoneEntry(entry, now_utc, zone)),
    now_utc,
  );
};

/** Takes one entry back. */
export const undoEntry = (db: Db, id: number, now_utc: string, zone: string): Entry => {
  const entry = entryById(db, id);
  if (!entry) throw badInput('entry', id, 'an entry that is in the journal');
  return record(db, [undoneEntry(entry, now_utc, zone)], now_utc)[0];
};

/** Puts other data, words or another time in the place of an entry; the old one stays readable. */
export const correct = (
  db: Db,
  id: number,
  better: Partial<Pick<NewEntry, 'data' | 'note' | 'at_utc' | 'zone' | 'firing'>>,
  now_utc: string,
): Entry => {
  const entry = entryById(db, id);
  if (!entry) throw badInput('entry', id, 'an entry that is in the journal');
  const { id: _, batch: __, undoes: ___, ...as } = entry;
  return record(db, [{ ...as, ...better, undoes: id }], now_utc)[0];
};
