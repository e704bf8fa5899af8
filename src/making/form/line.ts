import { between, curveThrough, slopes } from './curve.ts';
import type { Form } from './form-shape.ts';

/** The drawn outside of the un-altered piece, finely sampled from foot edge to lip. Lengths in mm. */
export interface OuterLine {
  readonly radius: Float64Array;
  readonly height: Float64Array;
  /** Arc length from the foot edge. */
  readonly length: Float64Array;
  /** The same as a share, 0 to 1. */
  readonly along: Float64Array;
  /** Unit normal pointing out of the clay, [radial, up]. */
  readonly normalRadial: Float64Array;
  readonly normalUp: Float64Array;
  readonly thickness: Float64Array;
}

/** Samples on each piece between two drawn points; odd, so that a straight piece still has a middle. */
const perPiece = (pieces: number): number => Math.max(12, Math.ceil(240 / pieces));

/** Points and tangents of the smooth curve, both coordinates as monotone cubics of the chord length. */
const sampleCurve = (form: Form) => {
  const r = form.line.map((p) => p.radius_mm);
  const z = form.line.map((p) => p.height_mm);
  const t = [0];
  for (let i = 1; i < r.length; i++) t.push(t[i - 1] + Math.hypot(r[i] - r[i - 1], z[i] - z[i - 1]));
  const [mr, mz] = [slopes(t, r), slopes(t, z)];
  const per = perPiece(r.length - 1);
  const radius: number[] = [r[0]];
  const height: number[] = [z[0]];
  for (let i = 0; i + 1 < r.length; i++)
    for (let k = 1; k <= per; k++) {
      const h = t[i + 1] - t[i];
      radius.push(between(r[i], r[i + 1], mr[i], mr[i + 1], h, k / per));
      height.push(between(z[i], z[i + 1], mz[i], mz[i + 1], h, k / per));
    }
  return { radius: Float64Array.from(radius), height: Float64Array.from(height) };
};

/** Wall thickness (mm) as a function of the place along the line, the lip's own taper included. */
const thicknessAlong = (form: Form, total: number): ((along: number) => number) => {
  const wall = curveThrough(form.wall.map((w) => [w.along, w.thickness_mm] as const));
  const { lip } = form;
  if (!lip) return wall;
  return (along) => {
    const left = Math.min(1, ((1 - along) * total) / lip.over_mm);
    // A quarter circle from full wall to lip: a rounded, not a bevelled, edge.
    const share = Math.sqrt(Math.max(0, 1 - (1 - left) ** 2));
    return lip.thickness_mm + (wall(along) - lip.thickness_mm) * share;
  };
};

/** The outer line of a form as it was drawn, mm. */
export const outerLine = (form: Form): OuterLine => {
  const { radius, height } = sampleCurve(form);
  const n = radius.length;
  const length = new Float64Array(n);
  for (let i = 1; i < n; i++)
    length[i] = length[i - 1] + Math.hypot(radius[i] - radius[i - 1], height[i] - height[i - 1]);
  const along = length.map((s) => s / length[n - 1]);
  const normalRadial = new Float64Array(n);
  const normalUp = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const [a, b] = [Math.max(0, i - 1), Math.min(n - 1, i + 1)];
    const [dr, dz] = [radius[b] - radius[a], height[b] - height[a]];
    const l = Math.hypot(dr, dz) || 1;
    normalRadial[i] = dz / l;
    normalUp[i] = -dr / l;
  }
  return {
    radius,
    height,
    length,
    along,
    normalRadial,
    normalUp,
    thickness: along.map(thicknessAlong(form, length[n - 1])),
  };
};

export type Corner = readonly [radius: number, height: number];

/** The un-altered section as a pencil would draw it, both lines from the axis (or a tube's lower edge) to the lip. */
export interface Outline {
  readonly outer: readonly Corner[];
  readonly inner: readonly Corner[];
}

const undersideOf = ({ foot, line }: Form): Corner[] => {
  const edge = line[0].radius_mm;
  if (foot.kind === 'none') return [];
  if (foot.kind === 'disc') return [[0, 0]];
  const inside = edge - foot.width_mm;
  return [
    [0, foot.recess_mm],
    [inside, foot.recess_mm],
    [inside, 0],
  ];
};

/** Points of a line from where it first rises to a height, that crossing included. */
const above = (line: readonly Corner[], height: number): Corner[] => {
  const i = line.findIndex((p) => p[1] >= height);
  if (i <= 0) return i === 0 ? [...line] : [];
  const [a, b] = [line[i - 1], line[i]];
  const s = (height - a[1]) / (b[1] - a[1]);
  return [[a[0] + s * (b[0] - a[0]), height], ...line.slice(i)];
};

/**
 * @param scale factor on every length: 1 gives mm as drawn, 0.001 metres
 * @returns the drawn lines, foot and all; unlike the mesh the ring has its true square section here
 */
export const outlineOf = (form: Form, scale: number): Outline => {
  const o = outerLine(form);
  const { foot } = form;
  const outside = Array.from(o.radius, (r, i): Corner => [r, o.height[i]]);
  const inside = Array.from(
    o.radius,
    (r, i): Corner => [r - o.thickness[i] * o.normalRadial[i], o.height[i] - o.thickness[i] * o.normalUp[i]],
  );
  const top = foot.kind === 'none' ? 0 : foot.thickness_mm + (foot.kind === 'ring' ? foot.recess_mm : 0);
  const inner: Corner[] = foot.kind === 'none' ? inside : [[0, top], ...above(inside, top)];
  const sized = (line: readonly Corner[]): Corner[] => line.map(([r, z]) => [r * scale, z * scale]);
  return { outer: sized([...undersideOf(form), ...outside]), inner: sized(inner) };
};
