import { shellStiffness, triangleFrame } from '../src/kernel/shell/element.ts';

/**
 * The kernel's element taken through large turns, elastically: a driver for tests only. The program itself never needs
 * one (a creeping wall has no memory), but the published large-deflection tables are elastic.
 *
 * Each element keeps the stiffness of its first shape and is asked only for what is left once its own turn is taken out
 * (element-independent co-rotation: C. C. Rankin, F. A. Brogan, J. Press. Vessel Technol. 108 (1986) 165-174; C. A. Felippa,
 * B. Haugen, Comput. Methods Appl. Mech. Eng. 194 (2005) 2285-2335; formulae derived from U = ½ d·K·d). The frame goes along
 * the first side. Tangent by differences of the element's force (it is not symmetric on the way); Newton under rising load,
 * band elimination in mesh order.
 */
export interface Bent {
  /** 3 × nodes. */
  readonly positions: Float64Array;
  /** 9 × nodes: turn of each node from its start, row by row. */
  readonly turns: Float64Array;
}

export interface ElasticWall {
  readonly positions: Float64Array;
  readonly triangles: Uint32Array;
  readonly thickness: number;
  readonly modulus: number;
  readonly poisson: number;
  /** 6 × nodes. */
  readonly held: Uint8Array;
}

interface Element {
  readonly nodes: readonly [number, number, number];
  /** Local stiffness, 18 × 18. */
  readonly stiffness: Float64Array;
  /** First frame (rows) and corners from the middle, local. */
  readonly axes: Float64Array;
  readonly corners: Float64Array;
}

const elementsOf = (w: ElasticWall): Element[] =>
  Array.from({ length: w.triangles.length / 3 }, (_, t) => {
    const nodes = [0, 1, 2].map((k) => w.triangles[3 * t + k]) as [number, number, number];
    const axes = new Float64Array(9);
    const c = new Float64Array(3);
    triangleFrame(axes, c, w.positions, ...nodes);
    const flat = Float64Array.of(0, 0, 0, c[0], 0, 0, c[1], c[2], 0);
    const stiffness = new Float64Array(324);
    shellStiffness(stiffness, flat, 0, 1, 2, w.thickness, w.modulus, w.poisson);
    return { nodes, stiffness, axes, corners: fromMiddle(flat) };
  });

const fromMiddle = (p: Float64Array): Float64Array =>
  p.map((x, i) => x - (p[i % 3] + p[3 + (i % 3)] + p[6 + (i % 3)]) / 3);

/** Rotation matrix of a turn vector (Rodrigues). */
const turnOf = (a: number, b: number, c: number): Float64Array => {
  const t = Math.hypot(a, b, c);
  const s = t < 1e-8 ? 1 - (t * t) / 6 : Math.sin(t) / t;
  const k = t < 1e-8 ? 0.5 : (1 - Math.cos(t)) / (t * t);
  return Float64Array.of(
    1 - k * (b * b + c * c),
    k * a * b - s * c,
    k * a * c + s * b,
    k * a * b + s * c,
    1 - k * (a * a + c * c),
    k * b * c - s * a,
    k * a * c - s * b,
    k * b * c + s * a,
    1 - k * (a * a + b * b),
  );
};

/** Turn vector of a rotation matrix below half a turn. */
const vectorOf = (m: Float64Array): readonly [number, number, number] => {
  const [x, y, z] = [m[7] - m[5], m[2] - m[6], m[3] - m[1]];
  const s = 0.5 * Math.hypot(x, y, z);
  const t = Math.atan2(s, 0.5 * (m[0] + m[4] + m[8] - 1));
  const k = s < 1e-8 ? 0.5 : t / (2 * s);
  return [k * x, k * y, k * z];
};

/** out = a·b, of 3 × 3 matrices. */
const multiply = (a: Float64Array, b: Float64Array, out: Float64Array): void => {
  for (let i = 0; i < 9; i += 3)
    for (let j = 0; j < 3; j++) out[i + j] = a[i] * b[j] + a[i + 1] * b[3 + j] + a[i + 2] * b[6 + j];
};

/** out = a·bᵀ. */
const multiplyTurned = (a: Float64Array, b: Float64Array, out: Float64Array): void => {
  for (let i = 0; i < 9; i += 3)
    for (let j = 0; j < 3; j++)
      out[i + j] = a[i] * b[3 * j] + a[i + 1] * b[3 * j + 1] + a[i + 2] * b[3 * j + 2];
};

const times = (a: Float64Array, b: Float64Array): Float64Array => {
  const out = new Float64Array(9);
  multiply(a, b, out);
  return out;
};

const turning = new Float64Array(9);
const left = new Float64Array(9);
const now = new Float64Array(9);
const axes = new Float64Array(9);
const side = new Float64Array(3);
const d = new Float64Array(18);
const g = new Float64Array(18);

/** Inner force of an element (global, 18) at corner positions `p` (9) and turns of its corners. */
const innerForce = (e: Element, p: Float64Array, turns: readonly Float64Array[], out: Float64Array): void => {
  triangleFrame(axes, side, p, 0, 1, 2);
  const [mx, my] = [(side[0] + side[1]) / 3, side[2] / 3];
  now.set([-mx, -my, 0, side[0] - mx, -my, 0, side[1] - mx, side[2] - my, 0]);
  const theta: (readonly [number, number, number])[] = [];
  for (let k = 0; k < 3; k++) {
    multiply(axes, turns[k], turning);
    multiplyTurned(turning, e.axes, left);
    const th = vectorOf(left);
    theta.push(th);
    for (let c = 0; c < 3; c++) {
      d[6 * k + c] = now[3 * k + c] - e.corners[3 * k + c];
      d[6 * k + 3 + c] = th[c];
    }
  }
  for (let i = 0; i < 18; i++) {
    let s = 0;
    for (let j = 0; j < 18; j++) s += e.stiffness[18 * i + j] * d[j];
    g[i] = s;
  }
  // Moments meet the spin of the corner through the derivative of the logarithm: mᵀ·(1 - ½θ× + θ×θ×/12).
  const moment = [0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const m = 6 * k + 3;
    const th = theta[k];
    const q = cross(g[m], g[m + 1], g[m + 2], th[0], th[1], th[2]);
    const qq = cross(q[0], q[1], q[2], th[0], th[1], th[2]);
    for (let c = 0; c < 3; c++) g[m + c] += -0.5 * q[c] + qq[c] / 12;
    const r = cross(now[3 * k], now[3 * k + 1], now[3 * k + 2], g[6 * k], g[6 * k + 1], g[6 * k + 2]);
    for (let c = 0; c < 3; c++) moment[c] += r[c] + g[m + c];
  }
  // What would turn the frame is carried by the corners that define it: ωx = ∂w/∂y, ωy = -∂w/∂x, ωz = (v2 - v1)/l.
  const [l, x3, y3] = side;
  const [wx, wy] = [
    [-1 / l, 1 / l, 0],
    [(x3 / l - 1) / y3, -x3 / l / y3, 1 / y3],
  ];
  for (let k = 0; k < 3; k++) g[6 * k + 2] -= moment[0] * wy[k] - moment[1] * wx[k];
  g[1] += moment[2] / l;
  g[7] -= moment[2] / l;
  for (let b = 0; b < 18; b += 3)
    for (let c = 0; c < 3; c++) out[b + c] = axes[c] * g[b] + axes[3 + c] * g[b + 1] + axes[6 + c] * g[b + 2];
};

const cross = (a: number, b: number, c: number, x: number, y: number, z: number) => [
  b * z - c * y,
  c * x - a * z,
  a * y - b * x,
];

const nudged = [new Float64Array(18), new Float64Array(18)];
const NUDGE = 1e-5;

/** Square matrix with entries only within `reach` of the diagonal: row i, column j at i·(2·reach + 1) + j - i + reach. */
interface Band {
  readonly size: number;
  readonly reach: number;
  readonly values: Float64Array;
}

const bandFor = (w: ElasticWall): Band => {
  let apart = 0;
  for (let t = 0; t < w.triangles.length; t += 3) {
    const n = w.triangles.subarray(t, t + 3);
    apart = Math.max(apart, Math.max(...n) - Math.min(...n));
  }
  const reach = 6 * apart + 5;
  const size = 2 * w.positions.length;
  return { size, reach, values: new Float64Array(size * (2 * reach + 1)) };
};

/** Adds inner forces into `force` (6 × nodes) and their derivative into the band. */
const assembleAt = (b: Band, elements: readonly Element[], at: Bent, force: Float64Array): void => {
  force.fill(0);
  b.values.fill(0);
  const base = new Float64Array(18);
  const turnBy = [NUDGE, -NUDGE].map((by) => [turnOf(by, 0, 0), turnOf(0, by, 0), turnOf(0, 0, by)]);
  for (const e of elements) {
    const p = Float64Array.from(e.nodes.flatMap((n) => Array.from(at.positions.subarray(3 * n, 3 * n + 3))));
    const turns = e.nodes.map((n) => at.turns.subarray(9 * n, 9 * n + 9));
    innerForce(e, p, turns, base);
    const step = NUDGE * side[0];
    for (let k = 0; k < 3; k++)
      for (let c = 0; c < 6; c++) {
        // Central differences: one-sided ones are off by 1e-6 of the membrane, as much as a whole long strip resists.
        for (const by of [0, 1]) {
          const q = p.slice();
          const turned = turns.slice();
          if (c < 3) q[3 * k + c] += by === 0 ? step : -step;
          else turned[k] = times(turnBy[by][c - 3], turns[k]);
          innerForce(e, q, turned, nudged[by]);
        }
        const column = 6 * e.nodes[k] + c;
        for (let i = 0; i < 18; i++) {
          const row = 6 * e.nodes[(i / 6) | 0] + (i % 6);
          const slope = (nudged[0][i] - nudged[1][i]) / (2 * (c < 3 ? step : NUDGE));
          b.values[row * (2 * b.reach + 1) + column - row + b.reach] += slope;
        }
      }
    e.nodes.forEach((n, k) => {
      for (let c = 0; c < 6; c++) force[6 * n + c] += base[6 * k + c];
    });
  }
};

/** Solves in place by elimination without exchange (near equilibrium the diagonal leads); held unknowns stay 0. */
const solve = (b: Band, right: Float64Array, held: Uint8Array): Float64Array => {
  const { size, reach, values: a } = b;
  const width = 2 * reach + 1;
  const x = right.slice();
  for (let i = 0; i < size; i++) {
    if (!held[i]) continue;
    x[i] = 0;
    for (let j = Math.max(0, i - reach); j <= Math.min(size - 1, i + reach); j++) {
      a[i * width + j - i + reach] = 0;
      a[j * width + i - j + reach] = 0;
    }
    a[i * width + reach] = 1;
  }
  for (let k = 0; k < size; k++) {
    const last = Math.min(size - 1, k + reach);
    for (let i = k + 1; i <= last; i++) {
      const to = i * width - i + reach;
      const from = k * width - k + reach;
      const f = a[to + k] / a[from + k];
      if (f === 0) continue;
      for (let j = k; j <= last; j++) a[to + j] -= f * a[from + j];
      x[i] -= f * x[k];
    }
  }
  for (let i = size - 1; i >= 0; i--) {
    const at = i * width - i + reach;
    for (let j = i + 1; j <= Math.min(size - 1, i + reach); j++) x[i] -= a[at + j] * x[j];
    x[i] /= a[at + i];
  }
  return x;
};

const MOST_ROUNDS = 25;
/** Work of the rest of the load over that of the first round. */
const GOOD = 1e-9;
const WILD = 1e6;

/** Newton to equilibrium under `load`; undefined where it does not get there. */
const equilibrium = (
  band: Band,
  elements: readonly Element[],
  from: Bent,
  load: Float64Array,
  held: Uint8Array,
): Bent | undefined => {
  const at = { positions: from.positions.slice(), turns: from.turns.slice() };
  const force = new Float64Array(load.length);
  let first = 0;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    assembleAt(band, elements, at, force);
    const rest = load.map((f, i) => (held[i] ? 0 : f - force[i]));
    const v = solve(band, rest, held);
    const work = Math.abs(v.reduce((sum, x, i) => sum + x * rest[i], 0));
    if (round === 0) first = work;
    if (!(work < WILD * first)) return undefined;
    for (let n = 0; n < load.length / 6; n++) {
      for (let c = 0; c < 3; c++) at.positions[3 * n + c] += v[6 * n + c];
      const turned = times(
        turnOf(v[6 * n + 3], v[6 * n + 4], v[6 * n + 5]),
        at.turns.subarray(9 * n, 9 * n + 9),
      );
      at.turns.set(turned, 9 * n);
    }
    if (work < GOOD * first) return at;
  }
  return undefined;
};

/**
 * Follows a wall under `part` × `load` for each part asked for, rising from 0; a step that does not converge is halved.
 * @param load 6 × nodes; dead forces, and moments about fixed axes @throws Error where it is stuck
 */
export const follow = (
  w: ElasticWall,
  load: Float64Array,
  parts: readonly number[],
): { bent: Bent[]; solves: number } => {
  const band = bandFor(w);
  const elements = elementsOf(w);
  const nodes = w.positions.length / 3;
  const turns = new Float64Array(9 * nodes);
  for (let n = 0; n < nodes; n++) turns[9 * n] = turns[9 * n + 4] = turns[9 * n + 8] = 1;
  let at: Bent = { positions: w.positions.slice(), turns };
  let reached = 0;
  let solves = 0;
  const bent = parts.map((part) => {
    let step = part - reached;
    while (part - reached > 1e-12) {
      const to = Math.min(part, reached + step);
      solves++;
      const next = equilibrium(
        band,
        elements,
        at,
        load.map((f) => f * to),
        w.held,
      );
      if (next) {
        at = next;
        reached = to;
      } else step /= 2;
      if (step < 1e-4) throw new Error(`stuck at ${reached} of the load`);
    }
    return at;
  });
  return { bent, solves };
};
