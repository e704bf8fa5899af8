import type { Form } from '../../form/form.ts';

/**
 * What the hands can set on a form: each a number with the steps and the range of the work. Ranges inside those of the file are
 * common practice of the wheel, no source.
 */
export interface Hand {
  /** As in a fault: `line[2].radius_mm`, `alterations[0].depth[1].depth_mm`. */
  readonly field: string;
  readonly unit: 'mm' | '%' | '°' | '';
  readonly low: number;
  readonly high: number;
  /** Hands and rulers go by steps of this. */
  readonly grid: number;
  /** Change for the differences. */
  readonly probe: number;
  readonly value: number;
}

/** Lines by the half millimetre, walls by a tenth, the rest by one of its unit. */
const LINE_GRID_mm = 0.5;
const WALL_GRID_mm = 0.1;
/** Thinner is not thrown and turned, unless it was asked for thinner. */
export const THINNEST_THROWN_mm = 1.2;
/** A line this far from the wanted one is another form: part of its size. */
const FURTHEST = 0.3;

const mm = (field: string, value: number, low: number, high: number, grid: number): Hand => ({
  field,
  unit: 'mm',
  low: Math.min(low, value),
  high: Math.max(high, value),
  grid,
  probe: 0.02,
  value,
});

const lineHands = (form: Form): Hand[] => {
  const size = Math.max(...form.line.map((p) => Math.max(p.radius_mm, p.height_mm)));
  const far = FURTHEST * size;
  return form.line.flatMap(({ radius_mm: r, height_mm: h }, i) => [
    mm(`line[${i}].radius_mm`, r, Math.max(0.5, r - far), Math.min(1000, r + far), LINE_GRID_mm),
    ...(i > 0
      ? [mm(`line[${i}].height_mm`, h, Math.max(0, h - far), Math.min(2000, h + far), LINE_GRID_mm)]
      : []),
  ]);
};

const alterationHands = (a: Form['alterations'][number], at: string): Hand[] => {
  switch (a.kind) {
    case 'lobes': {
      const depths = a.depth.map((d, i) =>
        mm(`${at}.depth[${i}].depth_mm`, d.depth_mm, -100, 100, LINE_GRID_mm),
      );
      if (a.twist_deg === 0) return depths;
      return [
        ...depths,
        {
          field: `${at}.twist_deg`,
          unit: '°',
          low: -720,
          high: 720,
          grid: 1,
          probe: 0.1,
          value: a.twist_deg,
        },
      ];
    }
    case 'oval':
      return [
        {
          field: `${at}.longer_percent`,
          unit: '%',
          low: 0,
          high: 100,
          grid: 1,
          probe: 0.05,
          value: a.longer_percent,
        },
      ];
    case 'facets':
      return [
        { field: `${at}.flatness`, unit: '', low: 0, high: 1, grid: 0.01, probe: 0.002, value: a.flatness },
      ];
    case 'push':
      return [mm(`${at}.depth_mm`, a.depth_mm, -150, 150, LINE_GRID_mm)];
    case 'cut lip':
      return [mm(`${at}.depth_mm`, a.depth_mm, 0, 200, LINE_GRID_mm)];
  }
};

/** @param without places of alterations a mesh is too coarse to show: nothing is learned of them */
export const handsOf = (form: Form, without: readonly number[] = []): Hand[] => [
  ...lineHands(form),
  ...form.wall.map((w, i) =>
    mm(`wall[${i}].thickness_mm`, w.thickness_mm, THINNEST_THROWN_mm, 60, WALL_GRID_mm),
  ),
  ...form.alterations.flatMap((a, i) => (without.includes(i) ? [] : alterationHands(a, `alterations[${i}]`))),
];

type Tree = { [key: string]: Tree & number };

/** A form with these numbers in these fields. */
export const withHands = (form: Form, hands: readonly Hand[], x: ArrayLike<number>): Form => {
  const copy = structuredCloneOf(form) as unknown as Tree;
  hands.forEach(({ field }, j) => {
    const path = field.replaceAll('[', '.').replaceAll(']', '').split('.');
    const last = path.pop() as string;
    const holder = path.reduce<Tree>((at, key) => at[key], copy);
    (holder as Record<string, unknown>)[last] = x[j];
  });
  return copy as unknown as Form;
};

/** Only lists and groups that hold what hands set are copied; the rest (carving) is shared. */
const structuredCloneOf = (form: Form): Form => ({
  ...form,
  line: form.line.map((p) => ({ ...p })),
  wall: form.wall.map((w) => ({ ...w })),
  alterations: form.alterations.map((a) =>
    a.kind === 'lobes' ? { ...a, depth: a.depth.map((d) => ({ ...d })) } : { ...a },
  ),
});

/** Free numbers on the way to round ones must not look like 13.000000001. */
export const onGrid = (value: number, { grid, low, high }: Hand): number => {
  const steps = Math.min(
    Math.floor(high / grid + 1e-9),
    Math.max(Math.ceil(low / grid - 1e-9), Math.round(value / grid)),
  );
  return Math.round(steps * grid * 1e6) / 1e6;
};
