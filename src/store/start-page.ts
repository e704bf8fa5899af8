import { daysBetween, hoursBetween, wallClock } from '../making/record/instant.ts';
import type { Db } from './db.ts';
import { type FiringRow, firingsAt } from './firings.ts';
import { readSettings } from './settings.ts';

/** What needs somebody now. */

export interface Named {
  readonly piece: number;
  readonly number: string;
}

export interface Drying extends Named {
  /** Real hours since it stands drying. */
  readonly hours: number;
  /** Against the studio's carving window. */
  readonly window: 'soon' | 'open' | 'over';
}

export interface Due extends Named {
  readonly day: string;
  /** Negative: overdue. */
  readonly days: number;
  readonly why: 'promised' | 'shown' | 'on consignment';
}

/** How many there are, and the first of them. */
export interface Some<T> {
  readonly count: number;
  readonly first: readonly T[];
}

export interface StartPage {
  readonly drying: Some<Drying>;
  readonly firings: readonly FiringRow[];
  readonly due: Some<Due>;
  readonly unpriced: Some<Named>;
  readonly unphotographed: Some<Named>;
  readonly stages: Readonly<Record<string, number>>;
}

const MOST = 50;
/** A window that opens within this many hours is worth knowing of. */
const SOON_H = 6;
/** Days ahead of which a date is shown. */
const AHEAD_DAYS = 30;

/** @param by which index to take: without statistics the planner does not see that it holds just these rows */
const some = <T>(
  db: Db,
  by: string,
  columns: string,
  where: string,
  order: string,
  ...values: (string | number)[]
): Some<T> => {
  const from = `FROM piece_state INDEXED BY ${by} WHERE ${where}`;
  return {
    count: db.one<{ n: number }>(`SELECT count(*) AS n ${from}`, ...values)?.n ?? 0,
    first: db.all<T>(`SELECT ${columns} ${from} ORDER BY ${order} LIMIT ${MOST}`, ...values),
  };
};

const NAMED = 'piece, number';
/** Out of the kiln and still to be sold. */
const TO_SELL = "stands NOT IN ('sold', 'lost')";

const dryingNow = (db: Db, now_utc: string): Some<Drying> => {
  const { carveFrom_h, carveUntil_h } = readSettings(db);
  const latest = new Date(Date.parse(now_utc) - (carveFrom_h - SOON_H) * 3_600_000).toISOString();
  const { count, first } = some<Named & { since: string }>(
    db,
    'piece_state_drying',
    `${NAMED}, drying_since_utc AS since`,
    "stage = 'drying' AND stands = 'in the studio' AND drying_since_utc <= ?",
    'drying_since_utc',
    latest,
  );
  return {
    count,
    first: first.map(({ piece, number, since }) => {
      const hours = hoursBetween(since, now_utc);
      const window = hours < carveFrom_h ? 'soon' : hours <= carveUntil_h ? 'open' : 'over';
      return { piece, number, hours, window };
    }),
  };
};

const dueNow = (db: Db, now_utc: string): Some<Due> => {
  const today = wallClock(now_utc, readSettings(db).zone).day;
  const last = new Date(Date.parse(`${today}T00:00:00Z`) + AHEAD_DAYS * 86_400_000)
    .toISOString()
    .slice(0, 10);
  const { count, first } = some<Named & { day: string; why: Due['why'] }>(
    db,
    'piece_state_due',
    `${NAMED}, due AS day, CASE WHEN json_extract(state, '$.promised.by') = due THEN 'promised' ELSE stands END AS why`,
    'due IS NOT NULL AND due <= ?',
    'due',
    last,
  );
  return { count, first: first.map((row) => ({ ...row, days: daysBetween(today, row.day) })) };
};

/** How many pieces stand where; sold and lost ones by that. */
const stagesNow = (db: Db): Record<string, number> => {
  const counts: Record<string, number> = {};
  for (const { stage, stands, n } of db.all<{ stage: string; stands: string; n: number }>(
    "SELECT stage, stands, count(*) AS n FROM piece_state WHERE stage <> 'not begun' GROUP BY stage, stands",
  )) {
    const key = stands === 'sold' || stands === 'lost' ? stands : stage;
    counts[key] = (counts[key] ?? 0) + n;
  }
  return counts;
};

/** The start page as of an instant. */
export const startPage = (db: Db, now_utc: string): StartPage => ({
  drying: dryingNow(db, now_utc),
  firings: [...firingsAt(db, 'lit'), ...firingsAt(db, 'off')],
  due: dueNow(db, now_utc),
  unpriced: some<Named>(
    db,
    'piece_state_unpriced',
    NAMED,
    `stage = 'finished' AND ${TO_SELL} AND priced = 0`,
    'last_utc DESC',
  ),
  unphotographed: some<Named>(
    db,
    'piece_state_unphotographed',
    NAMED,
    `stage IN ('unloaded', 'finished') AND ${TO_SELL} AND shown_after = 0`,
    'last_utc DESC',
  ),
  stages: stagesNow(db),
});
