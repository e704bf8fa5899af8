import { badInput } from '../error.ts';
import type { Entry, NewEntry } from '../making/record/entry.ts';
import type { FiringState } from '../making/record/firing-state.ts';
import type { Db } from './db.ts';
import { record } from './journal.ts';
import { listPieces, type Piece } from './pieces.ts';

/** Firings: what is said of one is said of all that stands in it, in one go. */

export interface FiringRow {
  readonly id: number;
  readonly day: string | null;
  readonly state: FiringState;
  /** How many pieces were ever fired in it or stand in it. */
  readonly pieces: number;
}

interface Row {
  readonly firing: number;
  readonly day: string | null;
  readonly state: string;
  readonly pieces: number;
}

const SELECT = `SELECT s.firing, s.day, s.state,
  (SELECT count(DISTINCT j.piece) FROM journal AS j WHERE j.firing = s.firing AND j.piece IS NOT NULL) AS pieces
  FROM firing_state AS s`;

const rowOf = ({ firing, day, state, pieces }: Row): FiringRow => ({
  id: firing,
  day,
  state: JSON.parse(state),
  pieces,
});

export const firingById = (db: Db, id: number): FiringRow | undefined =>
  db.all<Row>(`${SELECT} WHERE s.firing = ?`, id).map(rowOf)[0];

/** Firings, the latest first. */
export const listFirings = (db: Db, most = 100): FiringRow[] =>
  db.all<Row>(`${SELECT} WHERE s.stage <> 'not planned' ORDER BY s.firing DESC LIMIT ?`, most).map(rowOf);

export const firingsAt = (db: Db, stage: FiringState['stage']): FiringRow[] =>
  db.all<Row>(`${SELECT} WHERE s.stage = ? ORDER BY s.firing DESC LIMIT 100`, stage).map(rowOf);

type When = Pick<NewEntry, 'at_utc' | 'zone' | 'note' | 'uid'>;

/** Plans a firing. `kiln` and `schedule` are sheets. */
export const planFiring = (
  db: Db,
  plan: When & {
    readonly name: string;
    readonly kiln?: number;
    readonly schedule?: number;
    readonly on?: string;
  },
  now_utc: string,
): { readonly firing: number; readonly entries: Entry[] } =>
  db.together(() => {
    const { name, kiln, schedule, on, ...when } = plan;
    const sent =
      when.uid === undefined
        ? undefined
        : db.one<{ firing: number | null }>('SELECT firing FROM journal WHERE uid = ?', when.uid)?.firing;
    const firing = sent ?? db.run('INSERT INTO firing DEFAULT VALUES').id;
    const data = Object.fromEntries(
      Object.entries({ name, kiln, schedule, on }).filter(([, value]) => value !== undefined),
    );
    return { firing, entries: record(db, [{ ...when, firing, kind: 'planned', data }], now_utc) };
  });

/** What stands in a firing now. */
export const loadOf = (db: Db, firing: number): Piece[] => listPieces(db, { firing }, 1000);

export const lightFiring = (db: Db, firing: number, when: When, now_utc: string): Entry[] =>
  record(db, [{ ...when, firing, kind: 'lit' }], now_utc);

/** Switched off: every piece that stands in it was fired. */
export const endFiring = (db: Db, firing: number, when: When, now_utc: string): Entry[] =>
  db.together(() => {
    const { at_utc, zone } = when;
    const fired = loadOf(db, firing).map(({ id }) => ({ at_utc, zone, piece: id, firing, kind: 'fired' }));
    return record(db, [{ ...when, firing, kind: 'off' }, ...fired], now_utc);
  });

export interface Found {
  readonly piece: number;
  readonly came?: 'as wanted' | 'with a flaw';
  /** It did not come through. */
  readonly lost?: string;
  readonly note?: string;
}

/** Opened: every piece that was fired in it came out, or is lost. Pieces not named came out as nothing is said of them. */
export const openFiring = (
  db: Db,
  firing: number,
  when: When,
  found: readonly Found[],
  now_utc: string,
): Entry[] =>
  db.together(() => {
    const { at_utc, zone } = when;
    const load = loadOf(db, firing);
    for (const [i, { piece }] of found.entries())
      if (!load.some(({ id }) => id === piece))
        throw badInput(`found[${i}].piece`, piece, 'a piece that stands in this firing');
    const entries = load.map(({ id }): Record<string, unknown> => {
      const { came, lost, note = '' } = found.find(({ piece }) => piece === id) ?? {};
      const about = { at_utc, zone, piece: id, note };
      return lost === undefined
        ? { ...about, firing, kind: 'unloaded', data: came === undefined ? {} : { came } }
        : { ...about, kind: 'lost', data: { cause: lost } };
    });
    return record(db, [{ ...when, firing, kind: 'opened' }, ...entries], now_utc);
  });
