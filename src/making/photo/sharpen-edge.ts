import { lightAt, type Picture } from './picture.ts';
import { normalsOf, type Ring, smoothedAlong } from './ring.ts';

/** The edge to a fraction of a pixel, and how plainly it is seen at each point. */
export interface SharpEdge {
  /** Pixels. */
  readonly ring: Ring;
  /** 0 (a guess) to 1 (plain). */
  readonly sure: Float64Array;
  /** Light inside less light outside, 0 to 1. */
  readonly contrast: Float64Array;
  /** Pixels over which the light changes from one to the other. */
  readonly softness_px: Float64Array;
}

/** Between samples across the edge, px. */
const STEP = 0.5;
/** Levels of inside and outside are read this far beyond where the edge may lie, px. */
const MARGIN = 6;
/** What a whole step sideways from point to point costs, against the steepest edge of the point. */
const BEND_COST = 0.35;
/** An edge this soft is focus and lens; one this much softer is a shadow. */
const SHARP_px = 5;
const SOFT_px = 14;

interface Profiles {
  readonly count: number;
  readonly samples: number;
  /** Light projected on the change from outside (about 0) to inside (about 1), `samples` a point, outward. */
  readonly light: Float64Array;
  readonly contrast: Float64Array;
  readonly noise: Float64Array;
}

/** Colours across the edge at each point, a little averaged along it, on the line from outside colour to inside colour. */
const profilesOf = (picture: Picture, ring: Ring, normals: Float64Array, reach: number): Profiles => {
  const count = ring.length / 2;
  const half = Math.round((reach + MARGIN) / STEP);
  const samples = 2 * half + 1;
  const raw = new Float64Array(3 * samples * count);
  for (let i = 0; i < count; i++)
    for (let k = 0; k < samples; k++) {
      const t = (k - half) * STEP;
      lightAt(
        picture,
        ring[2 * i] + t * normals[2 * i],
        ring[2 * i + 1] + t * normals[2 * i + 1],
        raw,
        3 * (i * samples + k),
      );
    }
  const colours = smoothedAlong(raw, 3 * samples, 1);
  const ends = Math.round(MARGIN / STEP);
  const change = new Float64Array(3 * count);
  const level = new Float64Array(3 * count);
  for (let i = 0; i < count; i++)
    for (let c = 0; c < 3; c++) {
      let [inner, outer] = [0, 0];
      for (let k = 0; k < ends; k++) {
        inner += colours[3 * (i * samples + k) + c] / ends;
        outer += colours[3 * (i * samples + samples - 1 - k) + c] / ends;
      }
      change[3 * i + c] = inner - outer;
      level[3 * i + c] = outer;
    }
  const way = smoothedAlong(change, 3, 8);
  const light = new Float64Array(samples * count);
  const contrast = new Float64Array(count);
  const noise = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const [a, b, c] = way.subarray(3 * i, 3 * i + 3);
    const size = Math.hypot(a, b, c) || 1e-9;
    contrast[i] = size;
    let rough = 0;
    for (let k = 0; k < samples; k++) {
      const p = 3 * (i * samples + k);
      light[i * samples + k] =
        ((colours[p] - level[3 * i]) * a +
          (colours[p + 1] - level[3 * i + 1]) * b +
          (colours[p + 2] - level[3 * i + 2]) * c) /
        (size * size);
      if (k >= samples - ends) rough += (light[i * samples + k] - light[i * samples + k - 1]) ** 2 / ends;
    }
    noise[i] = Math.sqrt(rough);
  }
  return { count, samples, light, contrast, noise };
};

/** Fall of the light outward at each sample: slope of a Gaussian-smoothed profile (deviation about 1 px). */
const fallsOf = ({ count, samples, light }: Profiles): Float64Array => {
  const falls = new Float64Array(light.length);
  for (let i = 0; i < count; i++)
    for (let k = 4; k < samples - 4; k++) {
      const p = i * samples + k;
      let sum = 0;
      let weight = 0;
      for (let d = 1; d <= 4; d++) {
        const w = d * Math.exp((-d * d) / 8);
        sum += w * (light[p - d] - light[p + d]);
        weight += w * 2 * d * STEP;
      }
      falls[p] = sum / weight;
    }
  return falls;
};

/** The way round that is steepest and bends least, by dynamic programming; the start is fixed by a second round. */
const bestWay = (
  falls: Float64Array,
  count: number,
  samples: number,
  low: number,
  high: number,
): Int32Array => {
  const wide = high - low + 1;
  const rounds = 2 * count;
  const from = new Int8Array(rounds * wide);
  let cost = new Float64Array(wide);
  for (let r = 0; r < rounds; r++) {
    const i = r % count;
    let steepest = 1e-6;
    for (let k = low; k <= high; k++) steepest = Math.max(steepest, falls[i * samples + k]);
    const now = new Float64Array(wide);
    for (let k = 0; k < wide; k++) {
      let [best, step] = [Number.POSITIVE_INFINITY, 0];
      for (let d = -2; d <= 2; d++) {
        if (k + d < 0 || k + d >= wide) continue;
        const c = cost[k + d] + BEND_COST * (d * STEP) ** 2;
        if (c < best) [best, step] = [c, d];
      }
      now[k] = best + 1 - Math.max(0, falls[i * samples + low + k]) / steepest;
      from[r * wide + k] = step;
    }
    cost = now;
  }
  const way = new Int32Array(count);
  let k = cost.indexOf(Math.min(...cost));
  for (let r = rounds - 1; r >= count / 2; r--) {
    if (r < 1.5 * count) way[r % count] = low + k;
    k += from[r * wide + k];
  }
  return way;
};

/** Width of the change, px: the whole change over its steepest fall. */
const softnessAt = (falls: Float64Array, p: number): number => 1 / Math.max(1e-3, falls[p]);

const clamped = (x: number): number => Math.min(1, Math.max(0, x));

/**
 * Moves a ring onto the steepest change of light near it.
 * @param ring pixels, evenly spaced, clockwise as the eye sees it (anticlockwise with y down)
 * @param reach how far off it may be, px
 */
export const sharpenEdge = (picture: Picture, ring: Ring, reach: number): SharpEdge => {
  const calm = smoothedAlong(ring, 2, 3);
  const normals = normalsOf(calm);
  const profiles = profilesOf(picture, calm, normals, reach);
  const { count, samples, contrast, noise } = profiles;
  const falls = fallsOf(profiles);
  const middle = (samples - 1) / 2;
  const steps = Math.round(reach / STEP);
  const way = bestWay(falls, count, samples, middle - steps, middle + steps);
  const offset = new Float64Array(count);
  const sure = new Float64Array(count);
  const softness_px = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const p = i * samples + way[i];
    const [a, b, c] = [falls[p - 1], falls[p], falls[p + 1]];
    const bend = a - 2 * b + c;
    // The top of the parabola through three falls.
    const part = bend < 0 ? Math.max(-1, Math.min(1, (0.5 * (a - c)) / bend)) : 0;
    offset[i] = (way[i] - middle + part) * STEP;
    softness_px[i] = softnessAt(falls, p);
    const plain = clamped(contrast[i] / 0.04) * clamped(0.5 / (4 * noise[i] + 1e-9));
    sure[i] = plain * clamped((SOFT_px - softness_px[i]) / (SOFT_px - SHARP_px));
  }
  const calmOffset = smoothedAlong(offset, 1, 2);
  const out = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i++) out[i] = calm[i] + calmOffset[i >> 1] * normals[i];
  return { ring: out, sure: smoothedAlong(sure, 1, 2), contrast, softness_px };
};
