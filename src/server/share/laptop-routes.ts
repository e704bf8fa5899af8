import { Hono } from 'hono';
import QR from 'qrcode';
import { AfterfireError } from '../../error.ts';
import { codeShown } from './pairing-code.ts';
import { joinAddress, type Share, type Sharing } from './share.ts';

const qr = (text: string): Promise<string> => QR.toString(text, { type: 'svg', margin: 2 });

/** What the laptop's own screen shows of sharing. */
const told = async (share: Share) => {
  if (share.opened && share.now_ms() >= share.opened.until_ms) share.opened = undefined;
  const join = joinAddress(share);
  return {
    open: true,
    places: share.places,
    trustPicture: await qr(share.places.trust),
    code: share.opened && {
      shown: codeShown(share.opened.code),
      left_s: Math.round((share.opened.until_ms - share.now_ms()) / 1000),
      picture: await qr(join as string),
    },
    devices: share.book.all().map(({ id, name, since_ms, seen_ms }) => ({ id, name, since_ms, seen_ms })),
  };
};

const OFF = { open: false } as const;

/** Opened and closed on the laptop alone: these routes are not served to other devices. */
export const laptopRoutes = (sharing: Sharing): Hono => {
  const opened = (): Share => {
    const share = sharing.now();
    if (!share) throw new AfterfireError('cannot-do', 'The studio is not open to other devices now.');
    return share;
  };
  return new Hono()
    .get('/', async (c) => {
      c.header('Cache-Control', 'no-store');
      const share = sharing.now();
      return c.json(share ? await told(share) : OFF);
    })
    .post('/', async (c) => c.json(await told(sharing.now() ?? (await sharing.start()))))
    .delete('/', async (c) => {
      await sharing.stop();
      return c.json(OFF);
    })
    .post('/code', async (c) => {
      const share = opened();
      share.opened = share.codes.open(share.now_ms());
      return c.json(await told(share));
    })
    .delete('/devices/:id', async (c) => {
      const share = opened();
      const id = c.req.param('id');
      if (!share.book.all().some((d) => d.id === id))
        throw new AfterfireError('not-found', 'That device is not among those let in.');
      share.book.remove(id);
      return c.json(await told(share));
    });
};
