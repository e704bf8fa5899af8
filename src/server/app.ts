import { serveStatic } from '@hono/node-server/serve-static';
import { Hono, type MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { AfterfireError } from '../error.ts';
import { MAX_PHOTO_BYTES } from '../store/photos.ts';
import { MAX_TEXT_BYTES } from '../store/read-text.ts';
import type { StudioWriter } from '../store/studio-writer.ts';
import { guardHeaders, onlyLoopbackHost } from './headers.ts';
import { learningRoute, unloadingsRoute } from './learning.ts';
import type { Printer } from './record/printer.ts';
import { recordRoutes } from './record/record-routes.ts';
import type { RecordSource } from './record/source.ts';
import { onlyOwnPage } from './same-origin.ts';
import { laptopRoutes } from './share/laptop-routes.ts';
import type { Sharing } from './share/share.ts';
import { STATUS } from './status.ts';
import { type StudioSource, studioRoute } from './studio.ts';

export interface Doors {
  /** Folder of the built page. */
  readonly page: string;
  readonly studio: StudioSource;
  /** What may be added to the studio; left out: nothing is kept. */
  readonly writer?: StudioWriter;
  /** The record of every piece; left out: there is none. */
  readonly record?: RecordSource;
  /** Makes the papers of pieces; left out: nothing is printed. */
  readonly printer?: Printer;
  /** Who may come in; left out: this machine alone. */
  readonly admit?: MiddlewareHandler;
  /** Letting other devices in, on the laptop's own page; left out: nothing is shared. */
  readonly sharing?: Sharing;
}

const asJson = (error: Error) =>
  error instanceof AfterfireError
    ? { code: error.code, message: error.message, faults: error.faults }
    : {
        code: 'broken' as const,
        message: 'Something in the program broke; the terminal says what.',
        faults: [],
      };

const PHOTOS = '/api/record/photos';

const atMost = (maxSize: number): MiddlewareHandler =>
  bodyLimit({
    maxSize,
    onError: (c) =>
      c.json({ error: { code: 'too-large', message: `body: at most ${maxSize} bytes`, faults: [] } }, 413),
  });

/** The server as a function from Request to Response; listen.ts alone opens a socket. */
export const app = (doors: Doors): Hono => {
  const site = new Hono();
  site.use(guardHeaders);
  site.use(doors.admit ?? onlyLoopbackHost);
  const [texts, photos] = [MAX_TEXT_BYTES, MAX_PHOTO_BYTES].map(atMost);
  site.use((c, next) => (c.req.path === PHOTOS && c.req.method === 'PUT' ? photos : texts)(c, next));
  site.use(onlyOwnPage);
  site.get('/api/health', (c) => c.json({ ok: true }));
  site.route('/api/studio', studioRoute(doors.studio, doors.record !== undefined));
  site.route('/api/unloadings', unloadingsRoute(doors.writer));
  site.route('/api/learning', learningRoute(doors.writer));
  site.route('/api/record', recordRoutes(doors.record, doors.printer));
  if (doors.sharing) site.route('/api/share', laptopRoutes(doors.sharing));
  site.all('/api/*', (c) =>
    c.json(
      { error: { code: 'not-found', message: `${c.req.path}: there is no such thing here`, faults: [] } },
      404,
    ),
  );
  site.get('*', serveStatic({ root: doors.page }));
  site.onError((error, c) => {
    const said = asJson(error);
    if (said.code === 'broken') console.error(error);
    return c.json({ error: said }, STATUS[said.code]);
  });
  return site;
};
