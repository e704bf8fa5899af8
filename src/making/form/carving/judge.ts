import { type Fault, shownValue } from '../../../error.ts';
import type { Form } from '../form-shape.ts';
import { drawable } from '../pattern.ts';
import { formSection } from '../section.ts';
import { survey } from '../sizes.ts';
import { alteredSurface, type Surface } from '../surface.ts';
import type { Carving, DepthMap } from './carving-shape.ts';
import { type LoosePart, looseParts } from './falls-off.ts';
import { gapsOf } from './gaps.ts';
import { type Laid, outlineOf, spotsOf } from './lay.ts';
import { type LineOnWall, lineOnWall } from './line-on-wall.ts';
import { crossesItself, overlaps } from './overlap.ts';
import { depthOf } from './relief.ts';
import { type Unrolled, unroll } from './unroll.ts';

/** What is wrong with a form's carving, and which of the laid outlines are at fault. */
export interface CarvingJudged {
  readonly surface: Surface;
  readonly wall: Unrolled;
  readonly laid: readonly Laid[];
  readonly lines: readonly LineOnWall[];
  readonly bad: readonly boolean[];
  readonly faults: readonly Fault[];
}

/** Clay that must stay between openings, and between an opening and lip or floor, mm. A guess at what hands can do. */
const LEAST_STRUT_mm = 1;
/** Wall that must stay under a relief, mm; the same as the thinnest wall a form may have. */
const LEAST_LEFT_mm = 0.3;
/** More outlines than this are a slip of the numbers, not a pot. */
const MOST_OUTLINES = 1500;

const round = (x: number): number => Math.round(x * 10) / 10;
const degrees = (rad: number): number => Math.round((((rad * 180) / Math.PI) % 360) + 360) % 360;

interface Found {
  readonly carving: number;
  readonly fault: Fault;
  /** Outlines to be drawn as bad; all of the carving when left out. */
  readonly outlines?: readonly number[];
}

const found = (
  carving: number,
  field: string,
  value: unknown,
  expected: string,
  outlines?: readonly number[],
): Found => ({
  carving,
  fault: {
    field: `form.carving[${carving}]${field}`,
    value: typeof value === 'string' ? value : shownValue(value),
    expected,
  },
  ...(outlines ? { outlines } : {}),
});

const copyName = ({ spot }: Laid): string => `copy ${spot.copy + 1} in row ${spot.row + 1}`;

/** Faults of the entry itself: unreadable, open or self-crossing outlines, ragged maps, too many copies. */
const entryFaults = (c: Carving, i: number): Found[] => {
  if ('map' in c) return mapFaults(c, i);
  const copies = c.count * c.rows;
  if (copies > MOST_OUTLINES)
    return [found(i, '.count', c.count, `count times rows of at most ${MOST_OUTLINES} (here ${copies})`)];
  const { polygons, fault } = outlineOf(c);
  const path = shownValue('path' in c.outline ? c.outline.path : c.outline.motif);
  const where = 'path' in c.outline ? '.outline.path' : '.outline.motif';
  if (fault) return [found(i, where, path, `closed outlines as SVG path data; ${fault}`)];
  for (const polygon of polygons) {
    const at = crossesItself(polygon);
    if (at)
      return [
        found(
          i,
          where,
          path,
          `outlines that do not cross or touch themselves; this one does ${round(Math.abs(at.x))} mm ` +
            `${at.x < 0 ? 'left' : 'right'} of and ${round(Math.abs(at.y))} mm ${at.y < 0 ? 'below' : 'above'} its middle`,
        ),
      ];
  }
  return [];
};

const mapFaults = (c: DepthMap, i: number): Found[] => {
  const ragged = c.map.findIndex((row) => row.length !== c.map[0].length);
  if (ragged >= 0)
    return [
      found(
        i,
        `.map[${ragged}]`,
        `${c.map[ragged].length} numbers`,
        `${c.map[0].length}, as in the first row`,
      ),
    ];
  if (c.alongTo <= c.alongFrom)
    return [found(i, '.alongTo', c.alongTo, `more than alongFrom (${c.alongFrom})`)];
  return [];
};

/** Outlines that reach over the lip or the floor. */
const edgeFaults = (wall: Unrolled, laid: readonly Laid[], form: Form): Found[] => {
  const [bottom, top] = [wall.rise(wall.from), wall.rise(wall.to)];
  const worst = new Map<number, { over: number; k: number; lip: boolean; all: number[] }>();
  laid.forEach((one, k) => {
    const least = one.through ? LEAST_STRUT_mm : 0;
    const heights = one.polygon.y.map((v) => v + one.spot.rise);
    const overLip = heights.reduce((a, b) => Math.max(a, b)) + least - top;
    const underFloor = bottom - heights.reduce((a, b) => Math.min(a, b)) + least;
    const over = Math.max(overLip, underFloor);
    if (over <= 1e-9) return;
    const at = worst.get(one.carving) ?? { over: 0, k, lip: true, all: [] };
    at.all.push(k);
    worst.set(one.carving, over > at.over ? { over, k, lip: overLip >= underFloor, all: at.all } : at);
  });
  const floor = form.foot.kind === 'none' ? 'the lower edge' : 'the floor';
  return [...worst].map(([carving, { over, k, lip, all }]) => {
    const c = form.carving[carving] as { along: number };
    const edge = lip ? 'the lip' : floor;
    const stay = laid[k].through
      ? `outlines that stay ${LEAST_STRUT_mm} mm clear of ${edge}`
      : `outlines within the wall`;
    return found(
      carving,
      '.along',
      c.along,
      `${stay}; row ${laid[k].spot.row + 1} reaches ${round(over)} mm too far ${lip ? 'up' : 'down'}`,
      all,
    );
  });
};

const partName = (part: LoosePart, surface: Surface, wall: Unrolled): string => {
  const p = new Float64Array(6);
  const middle = 0.5 * (part.from + part.to);
  const angle = wall.angle(middle, part.x);
  surface.at(part.from, angle, p, 0);
  surface.at(part.to, angle, p, 3);
  const size = `${round(part.area_mm2 / 100)} cm²`;
  const heights = `height ${round(p[2])} to ${round(p[5])} mm`;
  if (part.allRound && part.to >= wall.to - 2) return `everything above it (${heights}, ${size}) falls off`;
  return part.allRound
    ? `a belt all round (${heights}, ${size}) falls off`
    : `a piece of ${size} at ${heights}, ${degrees(angle)}° falls out`;
};

/** Parts cut loose, then outlines that overlap, then struts too narrow: of these only the first kind found. */
const openingFaults = (
  surface: Surface,
  wall: Unrolled,
  laid: readonly Laid[],
  lines: readonly LineOnWall[],
): Found[] => {
  const through = laid.map((_, k) => k).filter((k) => laid[k].through);
  const cut = through.map((k) => lines[k]);
  const pairs = overlaps(cut).map(([a, b]) => [through[a], through[b]] as const);
  if (pairs.length > 0) {
    const groups = new Map<string, number[]>();
    for (const k of through) {
      const { carving, spot } = laid[k];
      const name = `${carving} ${spot.row} ${spot.copy}`;
      groups.set(name, [...(groups.get(name) ?? []), k]);
    }
    const list = [...groups.values()];
    const loose = looseParts(
      wall,
      list.map((group) => group.map((k) => lines[k])),
    );
    if (loose.length > 0) {
      const carving = laid[list[loose[0].by][0]].carving;
      const more = loose.length > 1 ? `, and ${loose.length - 1} more` : '';
      return [
        found(
          carving,
          '',
          'openings that cut the pot in two',
          `clay left between them: ${partName(loose[0], surface, wall)}${more}`,
          pairs.flat(),
        ),
      ];
    }
    const [a, b] = pairs[0];
    const what =
      a === b
        ? 'meets itself round the piece'
        : `overlaps ${copyName(laid[a])} of carving[${laid[a].carving}]`;
    return [
      found(
        laid[b].carving,
        '',
        copyName(laid[b]),
        `openings at least ${LEAST_STRUT_mm} mm apart; this one ${what}`,
        pairs.flat(),
      ),
    ];
  }
  const { width, of, across } = gapsOf(wall, cut, 3 * LEAST_STRUT_mm).narrowest;
  if (width >= LEAST_STRUT_mm || across < 0) return [];
  const one = through[of];
  return [
    found(
      laid[one].carving,
      '',
      copyName(laid[one]),
      `at least ${LEAST_STRUT_mm} mm of clay to the next opening; here ${Math.round(100 * width) / 100} mm stay`,
      [one, through[across]],
    ),
  ];
};

/** Reliefs that leave less wall than there must be. */
const depthFaults = (form: Form, surface: Surface, wall: Unrolled): Found[] =>
  form.carving.flatMap((c, i) => {
    if (c.kind !== 'relief') return [];
    const depth = depthOf(c, wall);
    let worst = { left: LEAST_LEFT_mm, thick: 0, length: 0, angle: 0 };
    const [from, to] = [Math.max(wall.from, depth.from), Math.min(wall.to, depth.to)];
    for (let row = 0; row <= 80; row++)
      for (let k = 0; k < 360; k++) {
        const length = from + ((to - from) * row) / 80;
        const angle = (k * Math.PI) / 180;
        const here = depth.at(length, angle);
        if (here === 0) continue;
        const thick = surface.thickness(length, angle);
        if (thick - here < worst.left) worst = { left: thick - here, thick, length, angle };
      }
    if (worst.thick === 0) return [];
    const p = new Float64Array(3);
    surface.at(worst.length, worst.angle, p, 0);
    const most = Math.max(0, Math.floor(10 * (worst.thick - LEAST_LEFT_mm)) / 10);
    return [
      found(
        i,
        '.depth_mm',
        c.depth_mm,
        `at most ${most} mm: the wall is ${round(worst.thick)} mm at height ${round(p[2])} mm, ` +
          `${degrees(worst.angle)}°, and ${LEAST_LEFT_mm} mm must stay`,
      ),
    ];
  });

/** The last form judged: it is checked first and drawn next, and laying its outlines out takes a tenth of a second. */
let last: { readonly form: Form; readonly judged: CarvingJudged } | undefined;

/** Lays all outlines of a form whose body is sound on its wall and says what is wrong with them. */
export const judgeCarving = (form: Form): CarvingJudged => {
  if (last?.form !== form) last = { form, judged: judge(form) };
  return last.judged;
};

const judge = (form: Form): CarvingJudged => {
  const section = formSection(form);
  const { pattern } = drawable(form.alterations, section, 1e6);
  const surface = alteredSurface(section, form.alterations);
  const wall = unroll(surface, survey(surface, pattern));
  const entries = form.carving.flatMap(entryFaults);
  const wrong = new Set(entries.map((f) => f.carving));
  const laid = form.carving.flatMap((c, carving): Laid[] => {
    if ('map' in c || c.count * c.rows > MOST_OUTLINES) return [];
    const { polygons } = outlineOf(c);
    return spotsOf(c, wall).flatMap((spot) =>
      polygons.map((polygon) => ({ carving, through: c.kind === 'opening', spot, polygon })),
    );
  });
  const lines = laid.map((one) => lineOnWall(wall, one));
  const list = [...entries];
  if (wrong.size === 0) {
    list.push(...edgeFaults(wall, laid, form));
    if (list.length === 0) list.push(...openingFaults(surface, wall, laid, lines));
    list.push(...depthFaults(form, surface, wall));
  }
  const bad = laid.map(
    (one, k) =>
      list.some((f) => f.carving === one.carving && !f.outlines) || list.some((f) => f.outlines?.includes(k)),
  );
  return { surface, wall, laid, lines, bad, faults: list.map((f) => f.fault) };
};

/** Faults of a form's carving; its body must be sound. */
export const carvingFaults = (form: Form): readonly Fault[] =>
  form.carving.length === 0 ? [] : judgeCarving(form).faults;
