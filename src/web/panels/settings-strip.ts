import { h } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Session } from '../session.ts';
import {
  ATTITUDES,
  type Attitude,
  type Fired,
  firedIn,
  sameWork,
  withAttitude,
  workOf,
} from '../state/page.ts';
import { openPortrait, type Portrait } from '../view/portrait.ts';
import { type Lengths, lengthReading, readWithUnit } from '../words.ts';
import { NumberBox } from './number-box.ts';

const WIDTH_px = 208;
const HEIGHT_px = 176;
const REST_ms = 250;
let portrait: Portrait | undefined;

const Picture = ({ fired }: { readonly fired: Fired | undefined }) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  const film = fired?.film;
  useEffect(() => {
    if (!film) {
      canvas.current?.getContext('2d')?.clearRect(0, 0, WIDTH_px, HEIGHT_px);
      return undefined;
    }
    // Not under a moving hand: the large picture goes first.
    const resting = setTimeout(() => {
      portrait ??= openPortrait(WIDTH_px, HEIGHT_px);
      if (canvas.current) portrait(film, canvas.current);
    }, REST_ms);
    return () => clearTimeout(resting);
  }, [film]);
  return h('canvas', { ref: canvas, width: WIDTH_px, height: HEIGHT_px, 'aria-hidden': true });
};

const NAMES: Readonly<Record<Attitude, string>> = {
  upright: 'Upright',
  'rim down': 'Rim down',
  'on its side': 'On its side',
  leaning: 'Leaning',
};

/** What the settings are compared by, in two words. */
const inBrief = (fired: Fired | undefined, lengths: Lengths): string => {
  if (!fired) return '…';
  const { verdict, estimates, warnings } = fired.film;
  const sag = estimates.greatestSag_m;
  if (verdict.kind === 'keeps-falling' || verdict.kind === 'falls-over') return 'falls';
  if (verdict.kind === 'not-fired') return 'not fired';
  if (warnings.some(({ kind }) => kind === 'tips-over')) return 'tips over';
  return sag ? `moves ${readWithUnit(sag.value, lengthReading(lengths))}` : '';
};

const turnAndShelf = (session: Session) => {
  const { setting } = workOf(session.page());
  return h(
    'div',
    { class: 'row' },
    setting.attitude === 'on its side' &&
      h(NumberBox, { session, path: ['setting', 'turn_deg'], label: 'Turned by', unit: '°', step: 5 }),
    h(
      'label',
      { class: 'choice' },
      h('span', { class: 'name' }, 'On the shelf it'),
      h(
        'select',
        {
          value: setting.shelf,
          'data-field': 'setting.shelf',
          onChange: (event: Event) =>
            session.edit(['setting', 'shelf'], (event.target as HTMLSelectElement).value),
        },
        h('option', { value: 'slides' }, 'slides'),
        h('option', { value: 'grips' }, 'grips'),
      ),
    ),
  );
};

/** The same piece in three settings, each a quick look, side by side: tap one to choose it. */
export const SettingsStrip = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  const chosen = workOf(page).setting.attitude;
  return h(
    'section',
    { class: 'settings', 'aria-label': 'How it stands in the kiln' },
    h('h2', null, 'How it stands in the kiln'),
    h(
      'div',
      { class: 'pictures', role: 'group', 'aria-label': 'Setting' },
      ATTITUDES.map((attitude) => {
        const fired = firedIn(page, attitude);
        const refused = page.refused[attitude];
        const fresh = fired && sameWork(fired.of, withAttitude(workOf(page), attitude));
        return h(
          'button',
          {
            key: attitude,
            type: 'button',
            'aria-pressed': attitude === chosen,
            class: fresh ? '' : 'stale',
            'data-setting': attitude,
            onClick: () => session.edit(['setting', 'attitude'], attitude),
          },
          h(Picture, { fired: refused === undefined ? fired : undefined }),
          h('b', null, NAMES[attitude]),
          h('span', null, refused === undefined ? inBrief(fired, page.lengths) : refused.brief),
        );
      }),
    ),
    turnAndShelf(session),
  );
};
