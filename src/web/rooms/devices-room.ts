import { h } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { askServer } from '../share/ask.ts';
import { onDay } from '../words.ts';

interface Told {
  readonly open: boolean;
  readonly places: { readonly secure: string; readonly trust: string; readonly fingerprint: string };
  readonly trustPicture: string;
  readonly code?: { readonly shown: string; readonly left_s: number; readonly picture: string };
  readonly devices: readonly {
    readonly id: string;
    readonly name: string;
    readonly since_ms: number;
    readonly seen_ms: number;
  }[];
}

const REFRESH_ms = 3000;

/** A picture the server drew; shown as an image, so that nothing in it can act. */
const picture = (svg: string, says: string) =>
  h('img', { class: 'qr', alt: says, src: `data:image/svg+xml;utf8,${encodeURIComponent(svg)}` });

const steps = ({ places, trustPicture, code }: Told, openCode: () => void) =>
  h(
    'ol',
    { class: 'steps' },
    h(
      'li',
      null,
      h('h2', null, 'Once for each device: let it trust this laptop'),
      h('div', { class: 'beside' }, picture(trustPicture, `The address ${places.trust}`), [
        h('p', { key: 'where' }, 'Scan with the device, or open there: ', h('b', null, places.trust)),
        h(
          'p',
          { key: 'print' },
          'It shows a fingerprint. Go on only if it is this one: ',
          h('code', null, places.fingerprint),
        ),
      ]),
    ),
    h(
      'li',
      null,
      h('h2', null, 'Let it in'),
      code
        ? h('div', { class: 'beside' }, picture(code.picture, `${places.secure} with the code`), [
            h('p', { key: 'code', class: 'code' }, code.shown),
            h(
              'p',
              { key: 'left' },
              `Good for ${Math.ceil(code.left_s / 60)} min, for one device. Scan, or open ${places.secure} there and type it.`,
            ),
          ])
        : h(
            'button',
            { type: 'button', class: 'main', 'data-do': 'open code', onClick: openCode },
            'Show a code',
          ),
    ),
  );

/** Phones and tablets of the studio: opened, let in and put out on the laptop. */
export const DevicesRoom = () => {
  const [told, setTold] = useState<Told>();
  const [wrong, setWrong] = useState<{ readonly message: string; readonly asked: boolean }>();
  // What a tap could not do stays said until the next tap: the asking every few seconds must not wipe it away.
  const ask = (path = '', method = 'GET'): void => {
    const asked = method !== 'GET';
    askServer<Told>(`/api/share${path}`, method).then(
      (next) => {
        setTold(next);
        setWrong((before) => (before?.asked && !asked ? before : undefined));
      },
      ({ message }: Error) => setWrong((before) => (before?.asked && !asked ? before : { message, asked })),
    );
  };
  useEffect(() => {
    ask();
    const again = setInterval(ask, REFRESH_ms);
    return () => clearInterval(again);
  }, []);
  return h(
    'main',
    { class: 'room devices' },
    h('h1', null, 'Other devices'),
    h(
      'p',
      null,
      'A phone or tablet beside the wheel can show and record what this laptop holds. Nothing leaves the studio: both must be on the same network, and without being opened here the laptop answers nobody but itself.',
    ),
    wrong && h('p', { role: 'alert', class: 'wrong' }, wrong.message),
    told && !told.open
      ? h(
          'button',
          { type: 'button', class: 'main', 'data-do': 'open to devices', onClick: () => ask('', 'POST') },
          'Open to devices on this network',
        )
      : undefined,
    told?.open && [
      h(
        'div',
        { key: 'steps' },
        steps(told, () => ask('/code', 'POST')),
      ),
      h('h2', { key: 'h' }, 'Let in so far'),
      told.devices.length === 0
        ? h('p', { key: 'none' }, 'No device yet.')
        : h(
            'ul',
            { key: 'list', class: 'device-list' },
            told.devices.map(({ id, name, since_ms, seen_ms }) =>
              h(
                'li',
                { key: id },
                h('b', null, name),
                ` since ${onDay(since_ms)}, last here ${onDay(seen_ms)} `,
                h(
                  'button',
                  {
                    type: 'button',
                    onClick: () => ask(`/devices/${id}`, 'DELETE'),
                    'aria-label': `Put out ${name}`,
                  },
                  'Put out',
                ),
              ),
            ),
          ),
      h(
        'button',
        { key: 'close', type: 'button', onClick: () => ask('', 'DELETE') },
        'Close to other devices',
      ),
    ],
  );
};
