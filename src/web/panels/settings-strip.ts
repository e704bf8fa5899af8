import { h } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Session } from '../session.ts';
import {
  ATTITUDES,
  type Attitude,
  type Fired,
  firedIn,
  inAttitude,
  sameWork,
  workOf,
} from '../state/page.ts';
import { openPortrait, type Portrait } from '../view/portrait.ts';
import { type Lengths, lengthReading, readWithUnit, roughly } from '../words.ts';
import type { Seen } from '../worker/film.ts';

const WIDTH_px = 208;
const HEIGHT_px = 176;
const REST_ms = 250;
let portrait: Portrait | undefined;

/** The end of a film, small; in red what does not stand so. */
export const Picture = ({
  seen,
  wrong = false,
}: {
  readonly seen: Seen | undefined;
  readonly wrong?: boolean;
}) => {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    if (!seen) {
      canvas.current?.getContext('2d')?.clearRect(0, 0, WIDTH_px, HEIGHT_px);
      return undefined;
    }
    // Not under a moving hand: the large picture goes first.
    const resting = setTimeout(() => {
      portrait ??= openPortrait(WIDTH_px, HEIGHT_px);
      if (canvas.current) portrait(seen, wrong, canvas.current);
    }, REST_ms);
    return () => clearTimeout(resting);
  }, [seen]);
  return h('canvas', { ref: canvas, width: WIDTH_px, height: HEIGHT_px, 'aria-hidden': true });
};

const NAMES: Readonly<Record<Attitude, string>> = {
  upright: 'Upright',
  'rim down': 'Rim down',
  'on its side': 'On its side',
  leaning: 'Leaning',
};

/** Less than this is not told apart, m. */
const LITTLE_m = 1e-4;
/** A quick look is told in whole millimetres from here on, m. */
const ROUGH_m = 1e-3;

/** What the settings are compared by, in two words. */
const inBrief = (fired: Fired | undefined, lengths: Lengths): string => {
  if (!fired) return '…';
  const { film } = fired;
  const { verdict, estimates, warnings } = film;
  const sag = estimates.greatestSag_m;
  if (verdict.kind === 'keeps-falling' || verdict.kind === 'falls-over') return 'falls';
  if (verdict.kind === 'not-fired') return 'not fired';
  if (warnings.some(({ kind }) => kind === 'tips-over')) return 'tips over';
  if (!sag) return '';
  const reading = lengthReading(lengths);
  if (sag.value < LITTLE_m)
    return `moves < ${readWithUnit(LITTLE_m, { ...reading, places: reading.unit === 'in' ? 3 : 1 })}`;
  const rough = film.care === 'quick' && sag.value > ROUGH_m;
  return `moves ${readWithUnit(sag.value, rough ? roughly(reading) : reading)}`;
};

/** The same piece in four settings, each a quick look, side by side: tap one to choose it. */
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
        const wanted = inAttitude(page, attitude);
        const fresh = (fired && sameWork(fired.of, wanted)) || refused?.stood !== undefined;
        return h(
          'button',
          {
            key: attitude,
            type: 'button',
            'aria-pressed': attitude === chosen,
            class: fresh ? '' : 'stale',
            'data-setting': attitude,
            onClick: () => session.edit(['setting'], wanted.setting),
          },
          h(Picture, refused ? { seen: refused.stood, wrong: true } : { seen: fired?.film }),
          h(
            'div',
            null,
            h('b', null, NAMES[attitude]),
            h('span', null, refused === undefined ? inBrief(fired, page.lengths) : refused.brief),
          ),
        );
      }),
    ),
  );
};
