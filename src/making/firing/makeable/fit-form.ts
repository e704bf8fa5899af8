import { leastSquares } from '../../../kernel/numerics/least-squares.ts';
import { nodeNormals, triangleAreas } from '../../../kernel/shell/geometry.ts';
import type { Form } from '../../form/form.ts';
import { type Hand, handsOf, withHands } from './hands.ts';
import { type Motion, moved, movedBack, NO_MOTION } from './motion.ts';
import { endsOf, lengthAt, lieOn, type Places, placesOf, slide, surfaceOf, tangentsAt } from './places.ts';
import type { Target } from './target.ts';

/**
 * Numbers of a form that bring its surface nearest to free points. Each node is compared with the surface at right angles to
 * its own (a slide along the wall is no difference), lips and feet across the wall as well, walls by their thickness.
 * S. Ahn, W. Rauh, H.-J. Warnecke, Pattern Recognition 34 (2001) 2283: orthogonal distance fitting.
 */
export interface Fit {
  /** The form with the numbers found, nothing rounded. */
  readonly form: Form;
  readonly hands: readonly Hand[];
  readonly x: Float64Array;
  readonly motion: Motion;
  readonly places: Places;
  /** How far the target lies outside (+) or inside (-) the form's surface, mm; a number a node. */
  readonly off_mm: Float64Array;
  /** The same as a way, lips and feet across the wall included, 3 a node, in the target's own directions. */
  readonly way_mm: Float64Array;
  readonly wallOff_mm: Float64Array;
  /** Root mean square over the wall, mm. */
  readonly rms_mm: number;
  readonly max_mm: number;
  /** Column by column, first the hands, then the motion; squares of a column sum to mean mm² for each unit of its hand. */
  readonly jacobian: Float64Array;
  readonly residuals: Float64Array;
}

/** A tenth of a millimetre of wall counts like two tenths of place: the fire feels its cube. */
const WALL_COUNTS = 2;
/** What the points leave open (a height on a straight line) stays as it was: so much of mm for a step of the hand. */
const STAYS = 0.002;
/** Neighbouring points of the line move alike unless the clay says otherwise: so much of mm for a mm of zigzag. */
const ZIGZAG = 0.01;
/** Likewise the motion: a round piece turned about its axis is the same, and must not spin. */
const MOTION_STAYS = [1e-3, 1e-3, 1e-3, 1e-3, 1e-3, 0.01] as const;
const ROUNDS = 20;
const SETTLED_mm = 2e-3;

interface Rows {
  /** Weight of each node, its share of the area. */
  readonly share: Float64Array;
  readonly normals: Float64Array;
  /** Across the edge in the surface; zero elsewhere. */
  readonly across: Float64Array;
}

const rowsOf = (target: Target): Rows => {
  const { positions_mm, triangles } = target;
  const n = positions_mm.length / 3;
  const areas = new Float64Array(triangles.length / 3);
  triangleAreas(positions_mm, triangles, areas);
  const share = new Float64Array(n);
  let total = 0;
  for (let t = 0; t < areas.length; t++)
    for (let k = 0; k < 3; k++) {
      share[triangles[3 * t + k]] += areas[t] / 3;
      total += areas[t] / 3;
    }
  for (let i = 0; i < n; i++) share[i] *= target.counts[i] / total;
  const normals = new Float64Array(3 * n);
  nodeNormals(positions_mm, triangles, normals);
  return { share, normals, across: new Float64Array(3 * n) };
};

/** For every edge node the direction at right angles to its normal and to the edge. */
const lookAcross = (rows: Rows, places: Places, form: Form, target: Target, motion: Motion): void => {
  const surface = surfaceOf(form, target.tooFine);
  const ends = endsOf(surface.section);
  for (let i = 0; i < places.edge.length; i++) {
    if (places.edge[i] !== 1) continue;
    const [, r] = tangentsAt(surface, lengthAt(places, ends, i), places.angle_rad[i]);
    const [rx, ry, rz] = moved(motion, r, [0, 0, 0]);
    const [nx, ny, nz] = rows.normals.subarray(3 * i, 3 * i + 3);
    const c = [ny * rz - nz * ry, nz * rx - nx * rz, nx * ry - ny * rx];
    const size = Math.hypot(c[0], c[1], c[2]) || 1;
    for (let k = 0; k < 3; k++) rows.across[3 * i + k] = c[k] / size;
  }
};

const pointsOf = (target: Target, motion: Motion): Float64Array => {
  const out = new Float64Array(target.positions_mm.length);
  movedBack(motion, target.positions_mm, target.centre_mm, out);
  for (let i = 0; i < out.length; i++) out[i] -= target.extra_mm[i];
  return out;
};

/** Hands of every three points of the line in a row, radii and heights each. */
const zigzagsOf = (hands: readonly Hand[]): readonly (readonly [number, number, number])[] => {
  const at = new Map(hands.map((h, j) => [h.field, j]));
  const rows: [number, number, number][] = [];
  for (const what of ['radius_mm', 'height_mm'])
    for (let i = 1; ; i++) {
      const three = [i - 1, i, i + 1].map((k) => at.get(`line[${k}].${what}`));
      if (three[2] === undefined) break;
      // The first point's height is no hand: it stays on the shelf.
      if (three.every((j) => j !== undefined)) rows.push(three as [number, number, number]);
    }
  return rows;
};

/** Residuals of all rows with places held; the surface is laid anew only when a hand has moved. */
const evaluator = (form: Form, hands: readonly Hand[], places: Places, target: Target, rows: Rows) => {
  const n = places.share.length;
  const flat = new Float64Array(3 * n);
  const walls = new Float64Array(n);
  const there = new Float64Array(3 * n);
  const zigzags = zigzagsOf(hands);
  let lain: Float64Array | undefined;
  return (x: Float64Array, out: Float64Array): void => {
    const of = x.subarray(0, hands.length);
    if (!lain || of.some((v, j) => v !== lain?.[j])) {
      lieOn(places, surfaceOf(withHands(form, hands, of), target.tooFine), flat, walls);
      lain = of.slice();
    }
    const motion = Array.from(x.subarray(hands.length)) as unknown as Motion;
    for (let i = 0; i < flat.length; i++) there[i] = flat[i] + target.extra_mm[i];
    moveAll(motion, there, target.centre_mm);
    for (let i = 0; i < n; i++) {
      let [away, across] = [0, 0];
      for (let k = 3 * i; k < 3 * i + 3; k++) {
        const d = target.positions_mm[k] - there[k];
        away += d * rows.normals[k];
        across += d * rows.across[k];
      }
      const w = Math.sqrt(rows.share[i]);
      out[i] = w * away;
      out[n + i] = w * across;
      out[2 * n + i] = WALL_COUNTS * w * (target.walls_mm[i] - walls[i] - target.extraWall_mm[i]);
    }
    hands.forEach(({ value, grid }, j) => {
      out[3 * n + j] = (STAYS * (x[j] - value)) / grid;
    });
    zigzags.forEach(([a, b, c], j) => {
      const change = (k: number): number => x[k] - hands[k].value;
      out[3 * n + hands.length + 6 + j] = ZIGZAG * (change(b) - 0.5 * (change(a) + change(c)));
    });
    MOTION_STAYS.forEach((weight, j) => {
      out[3 * n + hands.length + j] = weight * x[hands.length + j];
    });
  };
};

const moveAll = (motion: Motion, p: Float64Array, centre: Vec3): void => {
  for (let i = 0; i < p.length; i += 3) {
    const q = moved(motion, [p[i], p[i + 1], p[i + 2]], centre);
    p[i] = q[0];
    p[i + 1] = q[1];
    p[i + 2] = q[2];
  }
};

type Vec3 = readonly [number, number, number];

/** How far the motion may go one way: up, and tilted, only what does not stand on the shelf. */
const motionBounds = (stands: boolean, way: 1 | -1): number[] =>
  MOTION_STAYS.map((_, k) => way * (stands && k >= 2 && k <= 4 ? HELD_mm : Number.POSITIVE_INFINITY));
const HELD_mm = 1e-9;

/**
 * @param form where to begin, `sizes: 'thrown'`
 * @param hands which numbers may change; left out, all that hands can set
 * @param begin a fit of the same form to a target near by
 */
export const fitForm = (
  form: Form,
  target: Target,
  hands = handsOf(form, target.tooFine),
  begin?: Fit,
): Fit => {
  const rows = rowsOf(target);
  let x: Float64Array = Float64Array.from([...hands.map((h) => h.value), ...(begin?.motion ?? NO_MOTION)]);
  let places = begin?.places ?? placesOf(target, surfaceOf(form, target.tooFine));
  const n = places.share.length;
  let last: ReturnType<typeof leastSquares> | undefined;
  for (let round = 0; round < ROUNDS; round++) {
    const now = withHands(form, hands, x);
    const motion = Array.from(x.subarray(hands.length)) as unknown as Motion;
    const points = pointsOf(target, motion);
    const surface = surfaceOf(now, target.tooFine);
    for (let k = 0; k < (round === 0 ? 1 : 2); k++) places = slide(places, surface, points);
    lookAcross(rows, places, now, target, motion);
    const before = last?.sum;
    last = leastSquares({
      residuals: evaluator(form, hands, places, target, rows),
      count: 3 * n + hands.length + 6 + zigzagsOf(hands).length,
      start: x,
      low: [...hands.map((h) => h.low), ...motionBounds(target.stands, -1)],
      high: [...hands.map((h) => h.high), ...motionBounds(target.stands, 1)],
      step: [...hands.map((h) => h.probe), ...MOTION_STAYS.map(() => 0.02)],
      oneSided: true,
      mostSteps: 12,
      leastGain: 1e-4,
    });
    x = last.x;
    if (before !== undefined && Math.abs(Math.sqrt(before) - Math.sqrt(last.sum)) < SETTLED_mm) break;
  }
  return fitOf(form, hands, places, rows, last as ReturnType<typeof leastSquares>);
};

const fitOf = (
  form: Form,
  hands: readonly Hand[],
  places: Places,
  rows: Rows,
  { x, residuals, jacobian }: ReturnType<typeof leastSquares>,
): Fit => {
  const n = places.share.length;
  const of = (k: number): Float64Array =>
    Float64Array.from({ length: n }, (_, i) =>
      rows.share[i] > 0 ? residuals[k * n + i] / Math.sqrt(rows.share[i]) : 0,
    );
  const away = of(0);
  const across = of(1);
  let [sum, max] = [0, 0];
  for (let i = 0; i < n; i++) {
    const square = away[i] ** 2 + across[i] ** 2;
    sum += rows.share[i] * square;
    max = Math.max(max, Math.sqrt(square));
  }
  return {
    form: withHands(form, hands, x),
    hands,
    x: x.slice(0, hands.length),
    motion: Array.from(x.subarray(hands.length)) as unknown as Motion,
    places,
    off_mm: away,
    way_mm: rows.normals.map(
      (normal, k) => away[Math.floor(k / 3)] * normal + across[Math.floor(k / 3)] * rows.across[k],
    ),
    wallOff_mm: of(2).map((w) => w / WALL_COUNTS),
    rms_mm: Math.sqrt(sum / rows.share.reduce((a, b) => a + b, 0)),
    max_mm: max,
    jacobian,
    residuals,
  };
};
