import { createMiddleware } from 'hono/factory';

/**
 * What changes anything must come from our own page: a page elsewhere can send a POST here too, and its browser then says
 * where that page is from (Origin; OWASP, cross-site request forgery). Where nothing is said, it was no page of ours.
 */
export const onlyOwnPage = createMiddleware(async (c, next) => {
  const { method } = c.req;
  if (method === 'GET' || method === 'HEAD') return next();
  const origin = c.req.header('origin');
  const host = c.req.header('host') ?? new URL(c.req.url).host;
  if (origin !== `http://${host}` && origin !== `https://${host}`)
    return c.json(
      {
        error: {
          code: 'bad-input',
          message: `Origin: got ${origin ?? 'nothing'}; a change must come from the studio's own page`,
          faults: [],
        },
      },
      403,
    );
  return next();
});
