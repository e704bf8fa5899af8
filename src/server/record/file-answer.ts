import type { Context } from 'hono';
import { createMiddleware } from 'hono/factory';
import { studioKey } from '../../making/record-paper/paper-piece.ts';

/**
 * A page elsewhere may point a picture or a link at an address here. It would read nothing, yet this machine would work
 * for it: where a browser says that another site asks (Fetch Metadata, Sec-Fetch-Site), nothing is made.
 */
export const notForOthers = createMiddleware(async (c, next) => {
  const from = c.req.header('sec-fetch-site') ?? 'none';
  if (from !== 'same-origin' && from !== 'none')
    return c.json(
      {
        error: {
          code: 'bad-input',
          message: `Sec-Fetch-Site: got ${from.slice(0, 40)}; expected the studio's own page`,
          faults: [],
        },
      },
      403,
    );
  return next();
});

/** `reed-lane-pieces-2026-11-25.csv`: letters, figures and strokes alone, whatever the studio is called. */
export const fileName = (studio: string, what: string, ending: string): string =>
  `${studioKey(studio)}-${studioKey(what)}`.toLowerCase().slice(0, 60) + ending;

/** Says that what follows is a file of this kind and name, to be kept and not shown. */
export const asFile = (c: Context, type: string, name: string): void => {
  c.header('Content-Type', type);
  c.header('Content-Disposition', `attachment; filename="${name}"`);
};
