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
