import type { CreepStep } from './creep.ts';

/** The part of a step that a film needs. */
export type FilmStep = Pick<CreepStep, 'time_s' | 'positions' | 'rates' | 'thickness_m'>;

const stepBefore = (steps: readonly FilmStep[], time_s: number): number => {
  let k = 0;
  while (k < steps.length - 2 && steps[k + 1].time_s <= time_s) k++;
  return k;
};

/**
 * Node positions (3 × nodes, m) at any time between the first and last step: cubic Hermite through the
 * steps' positions and speeds. Times outside are clamped.
 */
export const positionsAt = (steps: readonly FilmStep[], time_s: number): Float64Array => {
  if (steps.length === 1) return steps[0].positions.slice();
  const k = stepBefore(steps, time_s);
  const a = steps[k];
  const b = steps[k + 1];
  const dt = b.time_s - a.time_s;
  const s = Math.min(1, Math.max(0, (time_s - a.time_s) / dt));
  const fromA = (1 + 2 * s) * (1 - s) * (1 - s);
  const slopeA = s * (1 - s) * (1 - s) * dt;
  const fromB = s * s * (3 - 2 * s);
  const slopeB = s * s * (s - 1) * dt;
  const out = new Float64Array(a.positions.length);
  for (let i = 0; i < out.length; i++) {
    const c = 6 * ((i / 3) | 0) + (i % 3);
    out[i] = fromA * a.positions[i] + slopeA * a.rates[c] + fromB * b.positions[i] + slopeB * b.rates[c];
  }
  return out;
};

/** Wall of each triangle (m) at a time, linear between steps. */
export const wallAt = (steps: readonly FilmStep[], time_s: number): Float64Array => {
  if (steps.length === 1) return steps[0].thickness_m.slice();
  const k = stepBefore(steps, time_s);
  const a = steps[k];
  const b = steps[k + 1];
  const s = Math.min(1, Math.max(0, (time_s - a.time_s) / (b.time_s - a.time_s)));
  return a.thickness_m.map((h, t) => (1 - s) * h + s * b.thickness_m[t]);
};
