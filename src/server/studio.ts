import { Hono } from 'hono';
import type { Studio } from '../store/studio-folder.ts';

/** Where the studio comes from; read anew at each request, so that an edited file shows on reload. */
export type StudioSource = () => Promise<Studio>;

export const studioRoute = (source: StudioSource): Hono =>
  new Hono().get('/', async (c) => {
    c.header('Cache-Control', 'no-store');
    return c.json(await source());
  });
