import { boundFor, type Contacts, firstContacts, type Grip } from './contact.ts';
import { LEVEL, LINK_OVERSHOOT_m, OVERSHOOT, REACH, SHOWN_m, TOUCHING } from './contact-tolerances.ts';
import type { Rubbing } from './friction.ts';
import { insideLinks } from './insides.ts';
import { type Link, speedAlong } from './link.ts';
import type { Obstacle } from './obstacle.ts';
import { selfLinks } from './self-links.ts';
import { type SoftShape, skinOf } from './soft-shape.ts';
import { findSupports, makeSupports, type Supports } from './supports.ts';

/** A wall and what it may touch. */
export interface Touchable {
  /** 3 × nodes, m, z up; not changed. */
  readonly positions: Float64Array;
  readonly triangles: Uint32Array;
  /** Wall of each triangle, m. */
  readonly thickness_m: Float64Array;
  /** Each node's own wall against the mean of the triangles around it; left out: it is that mean. */
  readonly skinShare?: Float64Array | undefined;
  readonly shelf: Grip | 'none';
  /** Rigid shapes besides the shelf; one array for the whole run. */
  readonly obstacles?: readonly Obstacle[];
  /** For each obstacle, whether it shrinks along with the piece (rests in bone-dry lengths); left out: none does. */
  readonly obstaclesShrink?: readonly boolean[];
  /**
   * Coefficient of friction (Coulomb) on shelf and obstacles, in place of what `shelf` says; left out or 0: the shelf
   * as `shelf` says, obstacles slide.
   */
  readonly friction?: number;
  /**
   * Rate of ln L, the free linear scale, 1/s (negative while shrinking). With friction the support then slides outward
   * under the piece at -rate × its place, about the origin; what shrinks along does not.
   */
  readonly shrinkRateAt?: (time_s: number) => number;
  /** Whether the wall stops at itself. */
  readonly selfContact?: boolean;
  /** Unknowns held at zero, 6 × nodes (ux uy uz rx ry rz a node); empty for none. */
  readonly held: Uint8Array;
}

/** What a creeping wall may touch, and what is remembered of it from step to step. */
export interface Around {
  readonly problem: Touchable;
  readonly obstacles: readonly Obstacle[];
  /** Extent of the piece, m. */
  readonly size_m: number;
  readonly supports: Supports;
  /** 1 a node that rests. */
  readonly resting: Uint8Array;
  /** Links that push, by key, N. */
  readonly pushing: Map<number, number>;
  /** What last pressed each node on its support, N; only kept where there is friction. */
  readonly pressed_N: Float64Array;
  /** First key of links between parts of the wall. */
  readonly selfKeys: number;
  begun: boolean;
  /** Links of the step last prepared. */
  links: readonly Link[];
}

/** The step the speeds are meant for: AB2 with ratio r to the last, whose speeds were `last`. */
export interface Stride {
  readonly time_s: number;
  readonly dt_s: number;
  readonly r: number;
  readonly last: Float64Array | undefined;
  /** Greatest speed known, m/s; 0 before any. */
  readonly speed_m_s: number;
  /** Least time in which what lies too deep is brought up, s. */
  readonly ease_s: number;
}

/** No node moves further in one step than this part of the size of the piece. */
export const MOST_MOVE = 0.02;

export const makeAround = (problem: Touchable, size_m: number): Around => {
  const nodes = problem.positions.length / 3;
  return {
    problem,
    obstacles: problem.obstacles ?? [],
    size_m,
    supports: makeSupports(nodes, problem.shelf !== 'none'),
    resting: new Uint8Array(nodes),
    pushing: new Map(),
    pressed_N: new Float64Array(nodes),
    selfKeys: 256 * (nodes + problem.thickness_m.length),
    begun: false,
    links: [],
  };
};

/** Whether one part of the wall rests on another. */
export const meets = (a: Around): boolean => {
  for (const key of a.pushing.keys()) if (key >= a.selfKeys) return true;
  return false;
};

/** What may touch in the coming step, with the least speeds that keep everything out of everything. */
export const contactsFor = (a: Around, shape: SoftShape, step: Stride): Contacts => {
  const { problem, supports, resting } = a;
  const skin = skinOf(shape, problem.triangles);
  const most = MOST_MOVE * a.size_m;
  const way = step.speed_m_s > 0 ? Math.min(most, REACH * step.speed_m_s * step.dt_s) : most;
  const surroundings = {
    shelf: problem.shelf !== 'none',
    obstacles: a.obstacles,
    time_s: step.time_s,
    dt_s: step.dt_s,
    reach_m: way + TOUCHING * a.size_m,
  };
  findSupports(supports, skin, surroundings, problem.held);
  const { on, gap_m, opening_m_s, frames } = supports;
  const nodes = on.length;
  if (!a.begun && (surroundings.shelf || a.obstacles.length > 0))
    firstContacts(resting, gap_m, TOUCHING * a.size_m);
  const bound = new Float64Array(nodes).fill(Number.NEGATIVE_INFINITY);
  for (let n = 0; n < nodes; n++) {
    if (on[n] < 0) resting[n] = 0;
    else
      bound[n] = boundFor(
        gap_m[n],
        step.dt_s,
        step.r,
        lastAlong(supports, n, step.last),
        opening_m_s[n],
        OVERSHOOT * a.size_m,
        LEVEL * a.size_m,
        step.ease_s,
      );
  }
  const links = linksFor(a, skin, surroundings);
  a.links = links;
  if (!a.begun) for (const l of links) if (l.gap_m < TOUCHING * a.size_m) a.pushing.set(l.key, 0);
  a.begun = true;
  const linkBound = Float64Array.from(links, (l) =>
    boundFor(
      l.gap_m,
      step.dt_s,
      step.r,
      step.last ? speedAlong(l, step.last) : 0,
      l.opening_m_s,
      LINK_OVERSHOOT_m,
      LEVEL * a.size_m,
      step.ease_s,
    ),
  );
  return {
    on,
    bound_m_s: bound,
    frames: supports.turned ? frames : undefined,
    resting,
    links,
    linkBound_m_s: linkBound,
    pushing: a.pushing,
  };
};

/** Where most of what is on the shelf lies deep in it, a foot landed whole: by so much the piece is lifted whole, m. */
const landedBy = ({ supports, resting }: Around): number => {
  let deep = 0;
  let all = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let n = 0; n < resting.length; n++) {
    if (supports.on[n] !== 0) continue;
    const depth = -SHOWN_m - supports.gap_m[n];
    if (depth > 0) {
      deep++;
      least = Math.min(least, depth);
    }
    if (depth > 0 || resting[n]) all++;
  }
  return deep > all / 2 ? least : 0;
};

/**
 * The shape as handed out: what landed within the last step and lies a little deep is brought up, as the next step
 * would. The stepping itself goes on from where it is. For the positions `contactsFor` was last asked about.
 */
export const broughtUp = (a: Around, positions: Float64Array): Float64Array => {
  const p = positions.slice();
  const { on, gap_m, frames } = a.supports;
  const landed = landedBy(a);
  if (landed > 0) for (let i = 2; i < p.length; i += 3) p[i] += landed;
  for (let n = 0; n < on.length; n++) {
    const deep = -SHOWN_m - landed - gap_m[n];
    if (on[n] < 0 || deep <= 0) continue;
    for (let c = 0; c < 3; c++)
      p[3 * n + c] += deep * (frames.framed[n] ? frames.axes[9 * n + 6 + c] : c === 2 ? 1 : 0);
  }
  for (const l of a.links) {
    let deep = -SHOWN_m - l.gap_m;
    let square = 0;
    for (const d of l.direction) square += d * d;
    l.direction.forEach((d, k) => {
      deep -= d * (p[3 * l.nodes[(k / 3) | 0] + (k % 3)] - positions[3 * l.nodes[(k / 3) | 0] + (k % 3)]);
    });
    if (deep > 0)
      l.direction.forEach((d, k) => {
        p[3 * l.nodes[(k / 3) | 0] + (k % 3)] += (deep * d) / square;
      });
  }
  return p;
};

const linksFor = (
  a: Around,
  skin: ReturnType<typeof skinOf>,
  around: Parameters<typeof insideLinks>[2],
): Link[] => {
  const { problem, supports } = a;
  const links = [...supports.seconds];
  if (a.obstacles.length > 0)
    links.push(...insideLinks(skin, problem.triangles, around, 256 * skin.wall_m.length));
  if (problem.selfContact)
    links.push(
      ...selfLinks(
        skin,
        { start: problem.positions, triangles: problem.triangles },
        around.reach_m,
        a.selfKeys,
      ),
    );
  return links;
};

/** Speed of the last step along a node's normal. */
const lastAlong = (s: Supports, n: number, last: Float64Array | undefined): number => {
  if (!last) return 0;
  if (!s.frames.framed[n]) return last[6 * n + 2];
  const a = 9 * n + 6;
  const { axes } = s.frames;
  return axes[a] * last[6 * n] + axes[a + 1] * last[6 * n + 1] + axes[a + 2] * last[6 * n + 2];
};

/**
 * Friction for the coming step, where there is any. While a piece shrinks by s = -d ln L/dt, a support that does not
 * runs outward under it in lengths that shrink along: at s·x, about the origin. (About which point does not matter on
 * the shelf alone: a piece free to slide goes where the rubbing balances.)
 */
export const rubbingFor = (a: Around, shape: SoftShape, step: Stride): Rubbing | undefined => {
  const { problem, supports } = a;
  const coefficient = problem.friction ?? 0;
  if (!(coefficient > 0)) return undefined;
  const nodes = supports.on.length;
  const rate = problem.shrinkRateAt?.(step.time_s) ?? 0;
  const support = new Float64Array(3 * nodes);
  let fastest = 0;
  for (let n = 0; n < nodes; n++) {
    const on = supports.on[n];
    if (rate === 0 || on < 0 || (on > 0 && problem.obstaclesShrink?.[on - 1])) continue;
    for (let c = 0; c < 3; c++) support[3 * n + c] = -rate * shape.positions[3 * n + c];
    if (a.resting[n]) fastest = Math.max(fastest, Math.hypot(support[3 * n], support[3 * n + 1]));
  }
  return {
    coefficient,
    support_m_s: support,
    push_N: a.pressed_N.slice(),
    drag: new Float64Array(nodes),
    typical_m_s: Math.max(step.speed_m_s, fastest),
  };
};
