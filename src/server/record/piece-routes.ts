import { Hono } from 'hono';
import { z } from 'zod';
import { AfterfireError } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import type { Db } from '../../store/db.ts';
import { type FiringRow, firingById, firingsAt } from '../../store/firings.ts';
import { record, undoBatch } from '../../store/journal.ts';
import { entriesOfPiece } from '../../store/journal-rows.ts';
import { beginPiece, listPieces, type Piece, pieceById, pieceByNumber } from '../../store/pieces.ts';
import { jsonOf } from '../json-body.ts';
import { idOf, nowUtc, type RecordSource } from './source.ts';

const Entries = z.strictObject({ entries: z.array(z.looseObject({})).min(1).max(1000) });

const Undo = z.strictObject({ batch: z.int().positive(), zone: z.string() });

const Begun = z.strictObject({
  number: z.string().trim(),
  title: z.string().optional(),
  form: z.int().optional(),
  clay: z.int().optional(),
  note: z.string().optional(),
  at_utc: z.string(),
  zone: z.string(),
  uid: z.string(),
  also: z.array(z.looseObject({})).max(20).default([]),
});

/** A piece, its whole journal, the firings it names and those it could be set in. */
const told = (db: Db, piece: Piece | undefined, asked: string) => {
  if (!piece || piece.state.stage === 'not begun')
    throw new AfterfireError('not-found', `${asked}: there is no such piece in the record`);
  const entries = entriesOfPiece(db, piece.id);
  const named = new Set(entries.flatMap(({ firing }) => firing ?? []));
  const firings = [...named].flatMap((id): FiringRow[] => {
    const firing = firingById(db, id);
    return firing ? [firing] : [];
  });
  return { piece, entries, firings, planned: firingsAt(db, 'planned') };
};

const MOST_LISTED = 200;

/** A number of an address's query; what is not one is left out. */
const numberOf = (text: string | undefined): number | undefined =>
  text !== undefined && /^\d{1,15}$/.test(text) ? Number(text) : undefined;

export const pieceRoutes = (source: RecordSource): Hono =>
  new Hono()
    .get('/pieces', async (c) => {
      const { db } = await source();
      const { stage, stands, form, series, firing, before, most } = c.req.query();
      const wanted = {
        ...(stage && { stage }),
        ...(stands && { stands }),
        form: numberOf(form),
        series: numberOf(series),
        firing: numberOf(firing),
        before: numberOf(before),
      };
      return c.json({ pieces: listPieces(db, wanted, Math.min(numberOf(most) ?? 60, MOST_LISTED)) });
    })
    .get('/pieces/:id', async (c) => {
      const { db } = await source();
      const id = idOf(c.req.param('id'));
      return c.json(told(db, pieceById(db, id), `piece ${id}`));
    })
    .get('/numbered/:number', async (c) => {
      const { db } = await source();
      const number = c.req.param('number').slice(0, 100).replaceAll('\u0000', '');
      return c.json(told(db, pieceByNumber(db, number), number));
    })
    .post('/pieces', async (c) => {
      const { db } = await source();
      const { also, ...begun } = parseShape(Begun, await jsonOf(c), 'piece');
      // What follows is checked by the journal itself, entry by entry.
      const { piece } = beginPiece(db, begun, nowUtc(), also as never);
      return c.json(told(db, pieceById(db, piece), begun.number), 201);
    })
    .post('/entries', async (c) => {
      const { db } = await source();
      const { entries } = parseShape(Entries, await jsonOf(c), 'body');
      return c.json({ entries: record(db, entries, nowUtc()) }, 201);
    })
    .post('/undo', async (c) => {
      const { db } = await source();
      const { batch, zone } = parseShape(Undo, await jsonOf(c), 'undo');
      return c.json({ entries: undoBatch(db, batch, nowUtc(), zone) }, 201);
    });
