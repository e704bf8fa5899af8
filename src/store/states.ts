import type { Entry } from '../making/record/entry.ts';
import { type FiringState, foldFiring } from '../making/record/firing-state.ts';
import { foldPiece } from '../making/record/fold.ts';
import { wallClock } from '../making/record/instant.ts';
import type { PieceState } from '../making/record/piece-state.ts';
import { standing } from '../making/record/standing.ts';
import type { Db } from './db.ts';
import { entriesOfFiring, entriesOfPiece } from './journal-rows.ts';
import { forgetAllWords, putFiringWords, putPieceWords } from './words.ts';

/** What follows from the journal, kept ready. It can be thrown away and rebuilt at any time with the same result. */

const dueOf = ({ stands, until, promised }: PieceState): string | null => {
  if (stands === 'lost' || stands === 'sold') return null;
  return [until, promised?.by].flatMap((day) => day ?? []).sort()[0] ?? null;
};

const PIECE = `INSERT INTO piece_state
  (piece, number, form, clay, firing, stage, stands, begun_utc, last_utc, drying_since_utc, priced, shown_after, due, state)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
  ON CONFLICT (piece) DO UPDATE SET number = excluded.number, form = excluded.form, clay = excluded.clay,
    firing = excluded.firing, stage = excluded.stage, stands = excluded.stands, begun_utc = excluded.begun_utc,
    last_utc = excluded.last_utc, drying_since_utc = excluded.drying_since_utc, priced = excluded.priced,
    shown_after = excluded.shown_after, due = excluded.due, state = excluded.state`;

export const keepPiece = (db: Db, piece: number, entries = entriesOfPiece(db, piece)): void => {
  const { state } = foldPiece(entries);
  db.run(
    PIECE,
    piece,
    state.number ?? null,
    state.form ?? null,
    state.clay ?? null,
    state.firing ?? null,
    state.stage,
    state.stands,
    state.begun_utc ?? null,
    state.last_utc ?? null,
    state.dryingSince_utc ?? null,
    state.price === undefined ? 0 : 1,
    state.photosAfter.length > 0 ? 1 : 0,
    dueOf(state),
    JSON.stringify(state),
  );
  putPieceWords(db, piece, state, standing(entries));
};

/** The day a firing is known by: when it was lit, else for when it is planned. */
const dayOf = (state: FiringState, entries: readonly Entry[]): string | null => {
  const lit = standing(entries).find(({ kind }) => kind === 'lit');
  return lit ? wallClock(lit.at_utc, lit.zone).day : (state.on ?? null);
};

const FIRING = `INSERT INTO firing_state (firing, name, kiln, schedule, stage, day, lit_utc, state)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?)
  ON CONFLICT (firing) DO UPDATE SET name = excluded.name, kiln = excluded.kiln, schedule = excluded.schedule,
    stage = excluded.stage, day = excluded.day, lit_utc = excluded.lit_utc, state = excluded.state`;

export const keepFiring = (db: Db, firing: number, entries = entriesOfFiring(db, firing)): void => {
  const { state } = foldFiring(entries);
  db.run(
    FIRING,
    firing,
    state.name ?? null,
    state.kiln ?? null,
    state.schedule ?? null,
    state.stage,
    dayOf(state, entries),
    state.lit_utc ?? null,
    JSON.stringify(state),
  );
  putFiringWords(db, firing, state, standing(entries));
};

/** All states and words anew, from the journal alone. */
export const rebuildStates = (db: Db): void =>
  db.together(() => {
    db.exec('DELETE FROM piece_state; DELETE FROM firing_state');
    forgetAllWords(db);
    for (const { id } of db.all<{ id: number }>('SELECT id FROM firing ORDER BY id')) keepFiring(db, id);
    for (const { id } of db.all<{ id: number }>('SELECT id FROM piece ORDER BY id')) keepPiece(db, id);
  });
