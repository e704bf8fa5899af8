import { Hono } from 'hono';
import type { Studio } from '../store/studio-folder.ts';

/** Where the studio comes from; read anew at each request, so that an edited file shows on reload. */
export type StudioSource = () => Promise<Studio>;

/** @param recorded whether a record of its pieces is open too: the page then begins with what needs somebody now */
export const studioRoute = (source: StudioSource, recorded = false): Hono =>
  new Hono().get('/', async (c) => {
    c.header('Cache-Control', 'no-store');
    return c.json({ ...(await source()), ...(recorded && { recorded }) });
  });
