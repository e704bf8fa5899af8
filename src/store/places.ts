import type { Db } from './db.ts';

/** Where pieces are or were last, the place of the newest piece first: to be tapped instead of typed. */
export const knownPlaces = (db: Db, most = 40): string[] =>
  db
    .all<{ place: string }>(
      `SELECT json_extract(state, '$.place') AS place FROM piece_state
       WHERE json_extract(state, '$.place') IS NOT NULL GROUP BY place ORDER BY max(last_utc) DESC LIMIT ?`,
      most,
    )
    .map(({ place }) => place);
