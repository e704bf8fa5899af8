import { Hono } from 'hono';
import { AfterfireError } from '../../error.ts';
import { firingRoutes } from './firing-routes.ts';
import { keepRoutes } from './keep-routes.ts';
import { paperRoutes } from './paper-routes.ts';
import { photoRoutes } from './photo-routes.ts';
import { pieceRoutes } from './piece-routes.ts';
import type { Printer } from './printer.ts';
import type { RecordSource } from './source.ts';
import { studioRoutes } from './studio-routes.ts';

const NONE = new AfterfireError(
  'not-found',
  'No record is open. Start Afterfire with one: afterfire serve --record <file.sqlite>',
);

/** Everything about the studio's pieces; the store says what may be written, and nothing here reaches past it. */
export const recordRoutes = (source: RecordSource | undefined, printer?: Printer): Hono => {
  const opened: RecordSource =
    source ??
    (async () => {
      throw NONE;
    });
  const site = new Hono();
  site.use(async (c, next) => {
    c.header('Cache-Control', 'no-store');
    await next();
  });
  site.route('/', studioRoutes(opened));
  site.route('/', pieceRoutes(opened));
  site.route('/firings', firingRoutes(opened));
  site.route('/photos', photoRoutes(opened));
  site.route('/papers', paperRoutes(opened, printer));
  site.route('/keep', keepRoutes(opened));
  return site;
};
