import { Hono } from 'hono';
import { z } from 'zod';
import { AfterfireError } from '../error.ts';
import { LogEntry } from '../making/learning/learning-log.ts';
import { parseUnloading } from '../making/learning/unloading.ts';
import { parseShape } from '../shape.ts';
import type { StudioWriter } from '../store/studio-writer.ts';
import { jsonOf } from './json-body.ts';

const Learned = z.strictObject({
  clay: z.string().min(1).describe('Name of the clay, as in its file'),
  follows: z.string().nullable().describe('id of the last entry the page knew of; null for none'),
  entry: LogEntry,
});

const READ_ONLY = new AfterfireError(
  'cannot-do',
  'Nothing is kept in this studio: the demo belongs to the program. Copy its folder and open the copy (afterfire serve --studio <folder>).',
);

const opened = (writer: StudioWriter | undefined): StudioWriter => {
  if (!writer) throw READ_ONLY;
  return writer;
};

/** An unloading, as its file has it → kept under a name the server makes: 201 with its key. */
export const unloadingsRoute = (writer: StudioWriter | undefined): Hono =>
  new Hono().post('/', async (c) => {
    const into = opened(writer);
    const key = await into.unloading(parseUnloading(await jsonOf(c)));
    return c.json({ key }, 201);
  });

/** One more entry of a clay's log, a taking back among them: 201 with the log's key and the log as it now is. */
export const learningRoute = (writer: StudioWriter | undefined): Hono =>
  new Hono().post('/', async (c) => {
    const into = opened(writer);
    const { clay, follows, entry } = parseShape(Learned, await jsonOf(c), 'body');
    return c.json(await into.learning(clay, follows, entry), 201);
  });
