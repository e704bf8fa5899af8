import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import { createMiddleware } from 'hono/factory';
import { z } from 'zod';
import { AfterfireError, badInput } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import { deviceOf, letIn } from './devices.ts';
import type { Share } from './share.ts';

/** Only a secure connection to this very host sends it back, and no script of any page can read it. */
const COOKIE = '__Host-afterfire';
const YEAR_s = 365 * 86_400;
const SEEN_EVERY_ms = 60_000;

const Join = z.strictObject({
  code: z.string().min(1).max(20).describe('The code shown on the laptop'),
  name: z.string().trim().min(1).max(40).describe('What this device is called, such as "kiln room tablet"'),
});

const refuse = (code: string, message: string) => ({ error: { code, message, faults: [] } });

/**
 * Who may come in over the studio's network: any device may load the page (there is nothing in it), only those let in by a
 * code reach the studio. Host is checked against the addresses the certificate names, so that no other site's name may
 * be pointed here; what changes anything must come from our own page.
 */
export const admitDevices = (share: Share, hosts: readonly string[]) => {
  const known = new Set(hosts);
  return createMiddleware(async (c, next) => {
    const host = c.req.header('host') ?? '';
    if (!known.has(host.replace(/:\d+$/, '')))
      return c.json(
        refuse('bad-input', `Host: got ${host}; expected an address of the studio's laptop`),
        403,
      );
    const { method, path } = c.req;
    if (method !== 'GET' && method !== 'HEAD' && c.req.header('origin') !== `https://${host}`)
      return c.json(refuse('bad-input', "Origin: a change must come from the studio's own page"), 403);
    if (path === '/api/join' && method === 'POST') {
      const { code, name } = parseShape(Join, await c.req.json().catch(() => undefined), 'join');
      const was = share.codes.take(code, share.now_ms());
      if (was === 'none open')
        throw new AfterfireError(
          'cannot-do',
          'No code is open. Open a new one on the laptop; each is good for five minutes.',
        );
      if (was === 'wrong')
        throw badInput(
          'join.code',
          code,
          'the code the laptop shows now; after five wrong ones it is closed',
        );
      share.opened = undefined;
      setCookie(c, COOKIE, letIn(share.book, name, share.now_ms()), {
        path: '/',
        secure: true,
        httpOnly: true,
        sameSite: 'Strict',
        maxAge: YEAR_s,
      });
      return c.json({ ok: true });
    }
    if (!path.startsWith('/api/')) return next();
    const device = deviceOf(share.book, getCookie(c, COOKIE));
    if (!device) {
      deleteCookie(c, COOKIE, { path: '/', secure: true });
      return c.json(
        refuse('not-let-in', 'This device has not been let in. Ask for a code on the laptop.'),
        401,
      );
    }
    if (path.startsWith('/api/share'))
      return c.json(refuse('not-found', 'Devices are let in and put out on the laptop.'), 404);
    if (share.now_ms() - device.seen_ms > SEEN_EVERY_ms)
      share.book.put({ ...device, seen_ms: share.now_ms() });
    return next();
  });
};
