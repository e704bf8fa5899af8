import type { Clay } from '../../clay/clay.ts';
import type { Form } from '../../form/form.ts';
import { instantOf } from '../instant.ts';
import type { KindName } from '../kinds.ts';
import { DEMO_SERIES, type DemoForm, demoForms, sizeIn } from './demo-forms.ts';
import { type Draw, drawFrom } from './draw.ts';

/**
 * An invented studio: some eighteen months of work from one seed. Weights and heights follow from the forms and the clay
 * by the program's own functions; who lost or bought what is drawn. Nothing in it ever happened.
 */

export const DEMO_ZONE = 'Europe/Berlin';
const CURRENCY = 'EUR';
const LOADS = 14;
const IN_A_LOAD = 10;
const DAYS_BETWEEN = 39;

export interface Happening {
  readonly at_utc: string;
  readonly kind: KindName;
  readonly data?: Readonly<Record<string, string | number>>;
  readonly note?: string;
}

export interface DemoPiece {
  readonly number: string;
  readonly form: string;
  readonly begun_utc: string;
  /** From the clay to bone dry, or to its loss before. */
  readonly before: readonly Happening[];
  /** Left out: it never reached a kiln. */
  readonly set?: Happening;
  readonly lost?: { readonly cause: string; readonly note: string };
  readonly after: readonly Happening[];
  /** When it was photographed after the fire, if it was. */
  readonly photographed_utc?: string;
}

export interface DemoLoad {
  readonly name: string;
  readonly planned_utc: string;
  readonly pieces: readonly DemoPiece[];
  /** What is left out has not happened yet. */
  readonly lit_utc?: string;
  readonly off_utc?: string;
  readonly opened_utc?: string;
}

export interface DemoStudio {
  readonly series: readonly { readonly key: string; readonly name: string }[];
  readonly forms: readonly DemoForm[];
  readonly loads: readonly DemoLoad[];
  /** Pieces that stand drying now. */
  readonly drying: readonly DemoPiece[];
}

interface Made {
  readonly draw: Draw;
  readonly sizes: ReadonlyMap<string, Readonly<Record<'wet' | 'dry' | 'fired', ReturnType<typeof sizeIn>>>>;
  readonly forms: readonly DemoForm[];
  /** A day so many days before the present one, and a time on its clocks; never after now. */
  readonly at: (daysAgo: number, time: string) => string;
  readonly dayAhead: (days: number) => string;
  readonly hoursAgo: (hours: number) => string;
}

const clock = (draw: Draw, from: number, to: number): string =>
  `${String(draw.whole(from, to)).padStart(2, '0')}:${String(draw.whole(0, 59)).padStart(2, '0')}`;

const NOTES = [
  'Wedged twice; the clay was on the soft side.',
  'Lip trued after an hour.',
  'A little thin at the shoulder.',
  'Cutting went well, the wall was just firm enough.',
  'Tool chattered near the foot; smoothed.',
] as const;

const g = (weight: number): number => Math.round(weight);

const makingOf = (
  made: Made,
  form: DemoForm,
  opened: number,
  off: number,
): { happened: Happening[]; lost: boolean; begun_utc: string } => {
  const { draw, at, sizes } = made;
  const began = opened + draw.whole(11, 26);
  const { wet, dry } = sizes.get(form.key)!;
  const hour = draw.whole(9, 11);
  const first = at(began, `${String(hour).padStart(2, '0')}:10`);
  const how = form.series === 'reed' ? 'fluted' : form.series === 'hand-cup' ? 'faceted' : 'carved';
  const happened: Happening[] = [
    {
      at_utc: at(began, clock(draw, 12, 13)),
      kind: 'formed',
      data: { how: 'thrown', clay_g: g(wet.weight_g * off * 1.35), hours: draw.oneOf([0.3, 0.4, 0.5, 0.75]) },
      ...(draw.chance(0.3) ? { note: draw.oneOf(NOTES) } : {}),
    },
    {
      at_utc: at(began, clock(draw, 14, 15)),
      kind: 'drying',
      data: {
        cover: draw.oneOf(['loosely covered', 'wrapped']),
        place: draw.oneOf(['cool shelf', 'north wall']),
      },
    },
    {
      at_utc: at(began - 1, clock(draw, 10, 13)),
      kind: 'carved',
      data: { how, hours: draw.oneOf([0.75, 1.5, 2, 3.5]) },
    },
    {
      at_utc: at(began - 1, clock(draw, 15, 16)),
      kind: 'weighed',
      data: { clay: 'leather-hard', weight_g: g(wet.weight_g * off * 0.93) },
    },
  ];
  if (draw.chance(0.06))
    return {
      begun_utc: first,
      lost: true,
      happened: [
        ...happened,
        {
          at_utc: at(began - 4, clock(draw, 9, 12)),
          kind: 'lost',
          data: { cause: draw.oneOf(['cracked while drying', 'broke in handling']) },
        },
      ],
    };
  return {
    begun_utc: first,
    lost: false,
    happened: [
      ...happened,
      { at_utc: at(began - 6, clock(draw, 9, 11)), kind: 'dry' },
      {
        at_utc: at(began - 6, clock(draw, 12, 13)),
        kind: 'weighed',
        data: { clay: 'bone dry', weight_g: g(dry.weight_g * off) },
      },
    ],
  };
};

const CAUSES: Readonly<Record<string, readonly string[]>> = {
  reed: ['fell over', 'lip on the shelf', 'cracked'],
  'water-plate': ['cracked', 'stuck', 'wall on wall'],
  'hand-cup': ['cracked', 'stuck'],
};

const PLACES = ['packing table', 'shelf by the door', 'window shelf'] as const;
const PRICES: Readonly<Record<string, number>> = { reed: 42_000, 'water-plate': 26_000, 'hand-cup': 6_400 };

const inOrder = (steps: readonly (Happening & { readonly day: number })[]): Happening[] =>
  steps.toSorted((a, b) => (a.at_utc < b.at_utc ? -1 : 1)).map(({ day: _, ...step }) => step);

/** What became of a piece that came out well; the longer ago, the further it went. */
const afterFire = (made: Made, form: DemoForm, opened: number, off: number): Happening[] => {
  const { draw, at, sizes } = made;
  const { fired } = sizes.get(form.key)!;
  const sag = form.attitude === 'upright' ? draw.between(0.5, 5) : draw.between(0, 1.5);
  const price = { price_minor: PRICES[form.series] + 500 * draw.whole(-8, 8), currency: CURRENCY };
  const day = (after: number) => opened - after;
  const steps: (Happening & { readonly day: number })[] = [];
  const add = (after: number, kind: KindName, data: Happening['data'] = {}): void => {
    if (day(after) >= 1)
      steps.push({ day: day(after), at_utc: at(day(after), clock(draw, 10, 16)), kind, data });
  };
  add(0.5, 'weighed', { clay: 'fired', weight_g: g(fired.weight_g * off) });
  add(1, 'measured', {
    clay: 'fired',
    height_mm: Math.round(10 * (fired.height_mm - sag)) / 10,
    sag_mm: Math.round(10 * sag) / 10,
  });
  if (draw.chance(0.93))
    add(draw.whole(2, 8), 'finished', {
      how: draw.oneOf(['sanded', 'sanded', 'polished', 'gilded']),
      hours: 0.25,
    });
  const finished = steps.at(-1)?.kind === 'finished';
  if (draw.chance(0.85)) add(9, 'priced', price);
  if (!finished) return inOrder(steps);
  if (draw.chance(0.3)) add(10, 'moved', { place: draw.oneOf(PLACES) });
  const way = draw.between(0, 1);
  if (way < 0.45)
    add(draw.whole(14, 120), 'sold', {
      ...price,
      to: draw.oneOf(['a visitor', 'an old customer', 'a collector']),
    });
  else if (way < 0.6)
    add(draw.whole(14, 40), 'consigned', { place: 'Gallery at the Mill', share_percent: 40 });
  else if (way < 0.7) add(draw.whole(14, 60), 'shown', { place: 'Open studios' });
  else if (way < 0.9 && opened < 80)
    add(12, 'promised', { to: 'a wedding', by: made.dayAhead(draw.whole(3, 20)) });
  return inOrder(steps);
};

const pieceOf = (made: Made, number: string, form: DemoForm, opened: number): DemoPiece => {
  const { draw, at } = made;
  // How much heavier than drawn this one was thrown.
  const off = draw.between(0.96, 1.05);
  const { happened, lost, begun_utc } = makingOf(made, form, opened, off);
  const frame = { number, form: form.key, begun_utc, before: happened };
  if (lost) return { ...frame, after: [] };
  const set: Happening = {
    at_utc: at(opened + 3, clock(draw, 9, 16)),
    kind: 'set',
    data: {
      shelf: draw.whole(1, 4),
      attitude: form.attitude,
      ...(form.attitude === 'rim down' ? { props: 'a ring' } : {}),
    },
  };
  if (opened >= 1 && draw.chance(form.risk))
    return {
      ...frame,
      set,
      lost: { cause: draw.oneOf(CAUSES[form.series]), note: 'Seen when the kiln was opened.' },
      after: [],
    };
  const after = afterFire(made, form, opened, off);
  const photographed = draw.chance(0.85) && opened > 4;
  return { ...frame, set, after, ...(photographed ? { photographed_utc: at(opened - 2, '17:30') } : {}) };
};

/** Forms that were being made at that time: each family goes on to its children as the loads go by. */
const formsAt = (forms: readonly DemoForm[], load: number): DemoForm[] =>
  DEMO_SERIES.map(({ key }) => {
    const family = forms.filter(({ series }) => series === key);
    return family[Math.min(family.length - 1, Math.floor((load * family.length) / LOADS))];
  });

const loadOf = (made: Made, load: number): DemoLoad => {
  const { draw, at } = made;
  const last = load === LOADS - 1;
  const opened = last ? 0 : (LOADS - 1 - load) * DAYS_BETWEEN - draw.whole(0, 5);
  const choice = formsAt(made.forms, load);
  const pieces = Array.from({ length: IN_A_LOAD }, (_, i) =>
    pieceOf(
      made,
      `R-${String(load * IN_A_LOAD + i + 1).padStart(3, '0')}`,
      draw.oneOf(choice),
      last ? -1 : opened,
    ),
  );
  const frame = { name: `Firing ${load + 1}`, planned_utc: at(opened + 30, '08:30'), pieces };
  if (last) return { ...frame, planned_utc: at(28, '08:30'), lit_utc: at(0, '06:15') };
  return {
    ...frame,
    lit_utc: at(opened + 2, '06:15'),
    off_utc: at(opened + 2, '21:40'),
    opened_utc: at(opened, '08:20'),
  };
};

/** How long the youngest pieces stand drying, h: before, in and after the usual window for carving. */
const DRYING_H = [8, 14, 22, 31, 44, 60];

const dryingNow = ({ draw, forms, hoursAgo }: Made): DemoPiece[] =>
  DRYING_H.map(
    (hours, i): DemoPiece => ({
      number: `R-${String(LOADS * IN_A_LOAD + i + 1).padStart(3, '0')}`,
      form: draw.oneOf(formsAt(forms, LOADS - 1)).key,
      begun_utc: hoursAgo(hours + 3),
      before: [
        { at_utc: hoursAgo(hours + 2), kind: 'formed', data: { how: 'thrown', hours: 0.5 } },
        { at_utc: hoursAgo(hours), kind: 'drying', data: { cover: 'loosely covered', place: 'cool shelf' } },
      ],
      after: [],
    }),
  );

/** The invented studio as of a moment: the same seed and moment, the same studio. */
export const demoStudio = (
  seed: number,
  now_utc: string,
  given: { readonly forms: Readonly<Record<string, Form>>; readonly clay: Clay },
): DemoStudio => {
  const forms = demoForms(given.forms);
  const sizes = new Map(
    forms.map(({ key, form }) => {
      const [wet, dry, fired] = (['wet', 'dry', 'fired'] as const).map((state) =>
        sizeIn(state, form, given.clay),
      );
      return [key, { wet, dry, fired }] as const;
    }),
  );
  const at = (daysAgo: number, time: string): string => {
    const ms = Date.parse(now_utc) - Math.round(daysAgo) * 86_400_000;
    const day = new Date(ms).toISOString().slice(0, 10);
    const then = instantOf(`${day} ${time}`, DEMO_ZONE);
    return then < now_utc ? then : now_utc;
  };
  const inDays = (days: number): Date => new Date(Date.parse(now_utc) + days * 86_400_000);
  const made: Made = {
    draw: drawFrom(seed),
    sizes,
    forms,
    at,
    dayAhead: (days) => inDays(days).toISOString().slice(0, 10),
    hoursAgo: (hours) => inDays(-hours / 24).toISOString(),
  };
  const loads = Array.from({ length: LOADS }, (_, load) => loadOf(made, load));
  return { series: DEMO_SERIES, forms, loads, drying: dryingNow(made) };
};
