/**
 * A narrow bar of soft clay on two supports, sagging far, worked out as a line: it bends and never stretches. With
 * frictionless or fully slipping supports the bending moments follow from the present shape by statics alone, and the
 * curvature of each part grows by M/(3 η I), the elastic beam with 3 η for the modulus (Stokes-Rayleigh analogy). So no
 * system is solved and a bar costs a millisecond.
 *
 * All lengths are bone-dry ones, X = x/L, and time is the clock ∫ dt/(η φ L²): see clay-history.ts. Supports do not
 * shrink, so in these lengths they move apart as 1/L and the bar is drawn in over them.
 *
 * Two ways to be held. `over edges`: laid over two fixed edges with some bar beyond each; bar is drawn in between them by
 * shrinkage and by sag, against friction. `by its ends`: the very ends cannot sink and slide in freely, which is the
 * published benchmark (test/reference) and what a bar in two slings would do.
 *
 * Checked (bar-creep.test.ts): small-sag formula, overhang by superposition, and the large-sag reference, between whose
 * middle and edge lines (a bar curls across its width, a line cannot) it stays; and our own shell solver with contact.
 */
import { GRAVITY_m_s2 } from '../../../units.ts';

export interface BoneDryBar {
  readonly held: 'over edges' | 'by its ends';
  /** Between the lines where it first rests, in true length; `by its ends`: of the whole bar, bone dry. */
  readonly span_m: number;
  /** Of the round of the edges, true length: a tilting bar rests further in by it. */
  readonly edgeRadius_m: number;
  /** Bone dry, over all; not read where held by its ends. */
  readonly length_m: number;
  /** Bone dry. */
  readonly thickness_m: number;
  /** Weight in bone-dry volume, dry·(1 - loss on ignition). */
  readonly density_kg_m3: number;
  /** Rise over run at which a support lets the bar slip. */
  readonly friction: number;
}

export interface BarEnd {
  /** How much lower the underside is in the middle than where it is held, true length. */
  readonly sag_m: number;
  /** Slope of the bar where it is held. */
  readonly slope: number;
}

/** Parts of half a bar, and steps of the clock; twice as many change the sag by less than 1e-3 (test). */
const PARTS = 48;
const STEPS = 32;

interface Half {
  readonly curvature: Float64Array;
  readonly slope: Float64Array;
  readonly x: Float64Array;
  readonly z: Float64Array;
}

/** From curvatures to the line: slope by trapezia, place by Simpson's rule. */
const drawn = ({ curvature: k, slope, x, z }: Half, part: number): void => {
  for (let i = 1; i < k.length; i++) {
    const from = slope[i - 1];
    const to = from + (part * (k[i - 1] + k[i])) / 2;
    const mid = from + (part * (3 * k[i - 1] + k[i])) / 8;
    slope[i] = to;
    x[i] = x[i - 1] + (part * (Math.cos(from) + 4 * Math.cos(mid) + Math.cos(to))) / 6;
    z[i] = z[i - 1] + (part * (Math.sin(from) + 4 * Math.sin(mid) + Math.sin(to))) / 6;
  }
};

interface Held {
  readonly along: number;
  readonly x: number;
  readonly z: number;
  readonly slope: number;
}

/** Where an edge half the span out, its centre `off` the middle line, touches the underside; undefined once the bar has slid in between the edges. */
const heldAt = ({ x, z, slope }: Half, part: number, half: number, off: number): Held | undefined => {
  const under = (i: number): number => x[i] + off * Math.sin(slope[i]);
  for (let i = 0; i + 1 < x.length; i++) {
    if (under(i + 1) < half) continue;
    const f = (half - under(i)) / (under(i + 1) - under(i));
    const at = (of: Float64Array): number => of[i] + f * (of[i + 1] - of[i]);
    return { along: (i + f) * part, x: at(x), z: at(z), slope: at(slope) };
  }
  return undefined;
};

/** Growth of curvature per clock at each point: M/(3 I) with viscosity 1. */
const growths = (bar: BoneDryBar, line: Half, part: number, held: Held, out: Float64Array): void => {
  const { x, z } = line;
  const n = x.length - 1;
  const q = bar.density_kg_m3 * GRAVITY_m_s2 * bar.thickness_m;
  const up = q * n * part;
  const inward = bar.held === 'over edges' ? up * Math.tan(held.slope - Math.atan(bar.friction)) : 0;
  const perMoment = 4 / bar.thickness_m ** 3;
  let length = 0;
  let moment = 0; // ∫ x ds from here outwards
  for (let i = n; i >= 0; i--) {
    if (i < n) {
      length += part;
      moment += (part * (x[i] + x[i + 1])) / 2;
    }
    const weight = -q * (moment - length * x[i]);
    const support = i * part < held.along ? up * (held.x - x[i]) + inward * (held.z - z[i]) : 0;
    out[i] = perMoment * (weight + support);
  }
};

/**
 * Lets a bar sag until its clock reads `clock` (1/Pa).
 * @param scaleAt linear scale against bone dry (1 at first) when this share of the clock is done
 * @returns undefined where the bar slid in between its supports on the way
 */
export const barCreep = (
  bar: BoneDryBar,
  clock: number,
  scaleAt: (share: number) => number,
  fineness = 1,
): BarEnd | undefined => {
  const n = PARTS * fineness;
  const ends = bar.held === 'by its ends';
  const part = (ends ? bar.span_m : bar.length_m) / 2 / n;
  const array = (): Float64Array => new Float64Array(n + 1);
  const line: Half = { curvature: array(), slope: array(), x: array(), z: array() };
  const middle: Half = { ...line, curvature: array() };
  const growth = array();
  const heldNow = (of: Half, share: number): Held | undefined => {
    drawn(of, part);
    if (ends) return { along: n * part, x: of.x[n], z: of.z[n], slope: of.slope[n] };
    const scale = scaleAt(share);
    return heldAt(of, part, bar.span_m / 2 / scale, bar.thickness_m / 2 + bar.edgeRadius_m / scale);
  };
  const steps = STEPS * fineness;
  const dc = clock / steps;
  for (let s = 0; s < steps; s++) {
    const held = heldNow(line, s / steps);
    if (!held) return undefined;
    growths(bar, line, part, held, growth);
    for (let i = 0; i <= n; i++) middle.curvature[i] = line.curvature[i] + (dc / 2) * growth[i];
    const half = heldNow(middle, (s + 0.5) / steps);
    if (!half) return undefined;
    growths(bar, middle, part, half, growth);
    for (let i = 0; i <= n; i++) line.curvature[i] += dc * growth[i];
  }
  const held = heldNow(line, 1);
  if (!held) return undefined;
  const off = bar.thickness_m / 2 + bar.edgeRadius_m / scaleAt(1);
  const lift = ends ? 0 : off * (1 - Math.cos(held.slope));
  return { sag_m: scaleAt(1) * (held.z + lift), slope: Math.tan(held.slope) };
};
