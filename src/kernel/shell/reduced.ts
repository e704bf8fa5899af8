import { z } from 'zod';
import { badInput } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import type { MakeEngine } from '../numerics/front-engine.ts';
import { type CreepEnd, type CreepStep, creep } from './creep.ts';
import { positionsAt } from './film.ts';

/**
 * The firing stripped to mechanics: a raw mesh and constants, so that the same problem can be given to any
 * other solver. Everything in SI, everything in one JSON file.
 */
const finite = z.number();
const positive = z.number().positive();
const Axis = z.enum(['x', 'y', 'z']);

export const ReducedProblem = z.strictObject({
  afterfire: z.literal('reduced/1'),
  what: z.string().optional().describe('what it is, in words'),
  positions_m: z
    .array(z.tuple([finite, finite, finite]))
    .min(3)
    .describe('mid-surface nodes, z up, shelf at z = 0'),
  triangles: z
    .array(z.tuple([z.int().nonnegative(), z.int().nonnegative(), z.int().nonnegative()]))
    .min(1)
    .describe('three node numbers each, counted from 0'),
  wall_m: z.union([positive, z.array(positive)]).describe('wall thickness, one for all or one a triangle'),
  density_kg_m3: positive,
  viscosity_Pa_s: z
    .union([positive, z.array(positive)])
    .describe('shear viscosity, one for all or one a triangle'),
  gravity_m_s2: z.number().nonnegative().default(9.80665),
  shelf: z.enum(['none', 'slides', 'grips']).default('none').describe('whether and how it rests on z = 0'),
  held: z
    .array(
      z.strictObject({
        nodes: z.array(z.int().nonnegative()).min(1),
        velocity: z.array(Axis).default([]).describe('directions in which these nodes cannot move'),
        rotation: z.array(Axis).default([]).describe('axes about which the wall cannot turn there'),
      }),
    )
    .default([]),
  times_s: z.array(positive).min(1).describe('when to report, rising'),
  tolerance_m: positive.optional().describe('stepping error allowed a step'),
});
export type ReducedProblem = z.infer<typeof ReducedProblem>;

export interface ReducedResult {
  readonly times_s: readonly number[];
  /** Node positions at each reported time reached, 3 × nodes, m. */
  readonly positions_m: readonly Float64Array[];
  readonly end: CreepEnd;
  readonly stepError_m: number;
}

/** Checks a reduced problem from outside. @throws AfterfireError naming each wrong field */
export const parseReduced = (json: unknown): ReducedProblem => {
  const p = parseShape(ReducedProblem, json, 'problem');
  const nodes = p.positions_m.length;
  p.triangles.forEach((t, i) => {
    for (const n of t) if (n >= nodes) throw badInput(`triangles[${i}]`, n, `a node number below ${nodes}`);
  });
  for (const field of ['wall_m', 'viscosity_Pa_s'] as const) {
    const v = p[field];
    if (typeof v !== 'number' && v.length !== p.triangles.length)
      throw badInput(
        field,
        `${v.length} values`,
        `${p.triangles.length} values, one a triangle, or one number`,
      );
  }
  p.held.forEach((h, i) => {
    for (const n of h.nodes)
      if (n >= nodes) throw badInput(`held[${i}].nodes`, n, `a node number below ${nodes}`);
  });
  p.times_s.forEach((t, i) => {
    if (i > 0 && t <= p.times_s[i - 1]) throw badInput(`times_s[${i}]`, t, `more than ${p.times_s[i - 1]}`);
  });
  return p;
};

/** Runs a reduced problem; yields the fraction done. @param engine plain TypeScript where left out */
export function* runReduced(p: ReducedProblem, engine?: MakeEngine): Generator<number, ReducedResult, void> {
  const nodes = p.positions_m.length;
  const triangles = Uint32Array.from(p.triangles.flat());
  const held = new Uint8Array(p.held.length > 0 ? 6 * nodes : 0);
  const at = { x: 0, y: 1, z: 2 };
  for (const h of p.held)
    for (const n of h.nodes) {
      for (const a of h.velocity) held[6 * n + at[a]] = 1;
      for (const a of h.rotation) held[6 * n + 3 + at[a]] = 1;
    }
  const duration = p.times_s[p.times_s.length - 1];
  const run = creep(
    {
      positions: Float64Array.from(p.positions_m.flat()),
      triangles,
      thickness_m:
        typeof p.wall_m === 'number'
          ? new Float64Array(p.triangles.length).fill(p.wall_m)
          : Float64Array.from(p.wall_m),
      density_kg_m3: p.density_kg_m3,
      viscosity_Pa_s:
        typeof p.viscosity_Pa_s === 'number' ? p.viscosity_Pa_s : Float64Array.from(p.viscosity_Pa_s),
      gravity_m_s2: p.gravity_m_s2,
      shelf: p.shelf,
      held,
      duration_s: duration,
    },
    { tolerance_m: p.tolerance_m, ...(engine && { engine }) },
  );
  const steps: CreepStep[] = [];
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) {
      const reached = steps.length > 0 ? steps[steps.length - 1].time_s : -1;
      const times = p.times_s.filter((t) => t <= reached * (1 + 1e-9));
      return {
        times_s: times,
        positions_m: times.map((t) => positionsAt(steps, t)),
        end: r.value,
        stepError_m: steps.length > 0 ? steps[steps.length - 1].stepError_m : 0,
      };
    }
    steps.push(r.value);
    yield r.value.time_s / duration;
  }
}
