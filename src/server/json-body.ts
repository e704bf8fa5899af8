import type { Context } from 'hono';
import { badInput } from '../error.ts';
import { parseJson } from '../store/json-text.ts';

/** The body of a request as JSON. A form of another site cannot send this kind without asking first. */
export const jsonOf = async (c: Context): Promise<unknown> => {
  const kind = c.req.header('content-type') ?? '';
  if (!/^application\/json\s*(;|$)/i.test(kind)) throw badInput('Content-Type', kind, 'application/json');
  return parseJson('body', await c.req.text());
};
