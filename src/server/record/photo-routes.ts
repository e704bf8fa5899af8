import { Hono } from 'hono';
import { keepPhoto, readPhoto } from '../../store/photos.ts';
import { nowUtc, type RecordSource } from './source.ts';

/**
 * Photos come as they are and are known by what is in them: what a request calls them plays no part, and what they are
 * is told by their first bytes.
 */
export const photoRoutes = (source: RecordSource): Hono =>
  new Hono()
    .put('/', async (c) => {
      const bytes = new Uint8Array(await c.req.arrayBuffer());
      return c.json(keepPhoto(await source(), bytes, nowUtc()), 201);
    })
    .get('/:sha256', async (c) => {
      const { format, bytes } = readPhoto(await source(), c.req.param('sha256'));
      c.header('Content-Type', `image/${format}`);
      c.header('Cache-Control', 'private, max-age=31536000, immutable');
      return c.body(new Uint8Array(bytes));
    });
