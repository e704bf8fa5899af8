import { Hono } from 'hono';
import { z } from 'zod';
import { parseShape } from '../../shape.ts';
import type { Db } from '../../store/db.ts';
import { keepDescent } from '../../store/descent.ts';
import { listPieces, nextNumber, pieceById } from '../../store/pieces.ts';
import { knownPlaces } from '../../store/places.ts';
import { search } from '../../store/search.ts';
import { allSeries, familyOf, keepSeries } from '../../store/series.ts';
import { changeSettings, readSettings } from '../../store/settings.ts';
import { keepSheet, SHEET_KINDS, sheetJson, sheetsOfKind } from '../../store/sheets.ts';
import { startPage } from '../../store/start-page.ts';
import { jsonOf } from '../json-body.ts';
import { idOf, nowUtc, type RecordSource } from './source.ts';

const RECENT = 12;

const NewSheet = z.strictObject({
  kind: z.enum(SHEET_KINDS),
  key: z.string(),
  json: z.looseObject({}),
  parent: z.int().optional(),
  series: z.int().optional(),
});
const NewSeries = z.strictObject({ key: z.string(), name: z.string(), note: z.string().optional() });
const Descent = z.strictObject({
  parent: z.int().nullable(),
  series: z.union([z.int(), z.strictObject({ name: z.string() }), z.null()]),
});

/** What needs somebody now, with the state of each piece it names. */
const today = (db: Db, now_utc: string) => {
  const page = startPage(db, now_utc);
  const recent = listPieces(db, {}, RECENT);
  const { drying, due, unpriced, unphotographed } = page;
  const named = new Set(
    [drying, due, unpriced, unphotographed].flatMap(({ first }) =>
      (first as readonly { readonly piece: number }[]).map(({ piece }) => piece),
    ),
  );
  const pieces = Object.fromEntries([...named].map((id) => [id, pieceById(db, id)?.state]));
  return { now_utc, ...page, recent, pieces };
};

export const studioRoutes = (source: RecordSource): Hono =>
  new Hono()
    .get('/', async (c) => {
      const { db } = await source();
      const begun = listPieces(db, {}, 1).length > 0 || sheetsOfKind(db, 'form').length > 0;
      return c.json({ settings: readSettings(db), empty: !begun, next: nextNumber(db) ?? '' });
    })
    .get('/today', async (c) => c.json(today((await source()).db, nowUtc())))
    .get('/search', async (c) => c.json({ hits: search((await source()).db, c.req.query('q') ?? '') }))
    .get('/forms', async (c) => {
      const { db } = await source();
      const forms = familyOf(db).map((form) => ({ ...form, json: sheetJson(db, form.form) }));
      const [clays, kilns, schedules] = (['clay', 'kiln', 'schedule'] as const).map((kind) =>
        sheetsOfKind(db, kind),
      );
      return c.json({ forms, series: allSeries(db), clays, kilns, schedules });
    })
    .get('/places', async (c) => c.json({ places: knownPlaces((await source()).db) }))
    .patch('/settings', async (c) => {
      const { db } = await source();
      return c.json(changeSettings(db, parseShape(z.looseObject({}), await jsonOf(c), 'settings')));
    })
    .post('/sheets', async (c) => {
      const { db } = await source();
      const sheet = parseShape(NewSheet, await jsonOf(c), 'sheet');
      return c.json(keepSheet(db, sheet, nowUtc(), readSettings(db).zone), 201);
    })
    .post('/forms/:id/descent', async (c) => {
      const { db } = await source();
      const descent = parseShape(Descent, await jsonOf(c), 'form');
      return c.json(keepDescent(db, idOf(c.req.param('id')), descent, nowUtc()), 201);
    })
    .post('/series', async (c) => {
      const { db } = await source();
      const { key, name, note } = parseShape(NewSeries, await jsonOf(c), 'series');
      return c.json(keepSeries(db, key, name, note), 201);
    });
