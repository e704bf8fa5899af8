import { Hono } from 'hono';
import { keepPhoto, keepSmallPhoto, readPhoto, smallPhotoOf } from '../../store/photos.ts';
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
    .put('/:sha256/small', async (c) => {
      const bytes = new Uint8Array(await c.req.arrayBuffer());
      return c.json(keepSmallPhoto(await source(), c.req.param('sha256'), bytes, nowUtc()), 201);
    })
    .get('/:sha256/small', async (c) => {
      const record = await source();
      const photo = c.req.param('sha256');
      const small = smallPhotoOf(record.db, photo);
      // Without a small one the photo itself stands in, and not for long: a small one may come.
      const { format, bytes } = readPhoto(record, small ?? photo);
      c.header('Content-Type', `image/${format}`);
      c.header('Cache-Control', `private, max-age=${small ? '31536000, immutable' : '60'}`);
      return c.body(new Uint8Array(bytes));
    })
    .get('/:sha256', async (c) => {
      const { format, bytes } = readPhoto(await source(), c.req.param('sha256'));
      c.header('Content-Type', `image/${format}`);
      c.header('Cache-Control', 'private, max-age=31536000, immutable');
      return c.body(new Uint8Array(bytes));
    });
