import { Hono } from 'hono';
import { z } from 'zod';
import { AfterfireError } from '../../error.ts';
import { LOSS_CAUSES } from '../../making/record/kinds.ts';
import { parseShape } from '../../shape.ts';
import type { Db } from '../../store/db.ts';
import {
  endFiring,
  firingById,
  lightFiring,
  listFirings,
  loadOf,
  openFiring,
  planFiring,
} from '../../store/firings.ts';
import { entriesOfFiring, entryByUid } from '../../store/journal-rows.ts';
import { jsonOf } from '../json-body.ts';
import { idOf, nowUtc, type RecordSource } from './source.ts';

const When = {
  at_utc: z.string(),
  zone: z.string(),
  note: z.string().optional(),
  uid: z.string(),
};
const Step = z.strictObject(When);
const Plan = z.strictObject({
  ...When,
  name: z.string().trim(),
  kiln: z.int().optional(),
  schedule: z.int().optional(),
  on: z.string().optional(),
});
const Opening = z.strictObject({
  ...When,
  found: z
    .array(
      z.strictObject({
        piece: z.int(),
        came: z.enum(['as wanted', 'with a flaw']).optional(),
        lost: z.enum(LOSS_CAUSES).optional(),
        note: z.string().optional(),
      }),
    )
    .default([]),
});

const told = (db: Db, id: number) => {
  const firing = firingById(db, id);
  if (!firing) throw new AfterfireError('not-found', `firing ${id}: there is none such`);
  return { firing, load: loadOf(db, id), entries: entriesOfFiring(db, id) };
};

/** A step that was sent before and is written: its answer was lost on the way. */
const isWritten = (db: Db, uid: string): boolean => entryByUid(db, uid) !== undefined;

export const firingRoutes = (source: RecordSource): Hono =>
  new Hono()
    .get('/', async (c) => c.json({ firings: listFirings((await source()).db) }))
    .get('/:id', async (c) => c.json(told((await source()).db, idOf(c.req.param('id')))))
    .post('/', async (c) => {
      const { db } = await source();
      const { firing } = planFiring(db, parseShape(Plan, await jsonOf(c), 'firing'), nowUtc());
      return c.json(told(db, firing), 201);
    })
    .post('/:id/lit', async (c) => {
      const { db } = await source();
      const id = idOf(c.req.param('id'));
      const when = parseShape(Step, await jsonOf(c), 'firing');
      if (!isWritten(db, when.uid)) lightFiring(db, id, when, nowUtc());
      return c.json(told(db, id), 201);
    })
    .post('/:id/off', async (c) => {
      const { db } = await source();
      const id = idOf(c.req.param('id'));
      const when = parseShape(Step, await jsonOf(c), 'firing');
      if (!isWritten(db, when.uid)) endFiring(db, id, when, nowUtc());
      return c.json(told(db, id), 201);
    })
    .post('/:id/opened', async (c) => {
      const { db } = await source();
      const id = idOf(c.req.param('id'));
      const { found, ...when } = parseShape(Opening, await jsonOf(c), 'firing');
      if (!isWritten(db, when.uid)) openFiring(db, id, when, found, nowUtc());
      return c.json(told(db, id), 201);
    });
