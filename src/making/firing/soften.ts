import { valueAt } from '../../kernel/numerics/between.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { type CreepEnd, type CreepStep, creep } from '../../kernel/shell/creep.ts';
import { toNodes, triangleAreas } from '../../kernel/shell/geometry.ts';
import { findMeeting } from '../../kernel/shell/self-contact.ts';
import { GRAVITY_m_s2 } from '../../units.ts';
import type { Clay } from '../clay/clay.ts';
import type { ClayHistory } from '../clay/clay-history.ts';
import type { FormMesh } from '../form/mesh-form.ts';
import { type HotSide, viscosityAt } from './hot-side.ts';
import type { Setting } from './setting.ts';
import { restsOnProps, type Standing } from './standing.ts';

/**
 * The soft part of a firing, as one creep problem in bone-dry lengths. Because pots shrink the same in every
 * direction on a shelf that slides, shrinking only changes the pace (x = L·X: spans shrink as L, weight a
 * volume grows as 1/L³, so dX/dt = W(X)/(eta phi L²)); the shape obeys one equation in the clock
 * ∫ dt/(eta phi L²). With a shelf that grips, the foot is taken to shrink freely and only to resist spreading.
 */
export interface Softening {
  readonly steps: readonly CreepStep[];
  readonly end: CreepEnd;
  /** Clock reading at which one part of the wall met another, if it did. */
  readonly metAtClock: number | undefined;
}

export interface SofteningPlan {
  readonly mesh: FormMesh;
  /** As set on the shelf, bone dry, 3 × nodes, m. */
  readonly positions: Float64Array;
  readonly clay: Clay;
  readonly history: ClayHistory;
  readonly shelf: Setting['shelf'];
  /** Props and friction; left out: the bare shelf. */
  readonly standing?: Standing;
  readonly hotSide?: HotSide | undefined;
  /** How far to run the clock, 1/Pa. */
  readonly clockEnd: number;
  readonly steps?: number;
  readonly tolerance_m?: number;
  /** No step longer than this at a reading of the clock, 1/Pa. */
  readonly longest?: ((clock: number) => number) | undefined;
  /** A faster engine, where the door has one. */
  readonly engine?: MakeEngine | undefined;
}

/** Weight-giving density in bone-dry lengths: what burns off is gone before anything is soft. */
export const softDensity = (clay: Clay): number =>
  clay.boneDryDensity.value_kg_m3 * (1 - clay.lossOnIgnition.value_percent / 100);

/** Wall of each triangle from that of its corners. */
export const trianglesFromNodes = (triangles: Uint32Array, values: Float64Array): Float64Array => {
  const out = new Float64Array(triangles.length / 3);
  for (let t = 0; t < out.length; t++)
    out[t] = (values[triangles[3 * t]] + values[triangles[3 * t + 1]] + values[triangles[3 * t + 2]]) / 3;
  return out;
};

/** Runs the soft part; yields each step. It ends early where the wall meets itself. */
export function* soften(plan: SofteningPlan): Generator<CreepStep, Softening, void> {
  const { mesh, positions, clay, history } = plan;
  const run = creep(
    {
      positions,
      triangles: mesh.triangles,
      thickness_m: trianglesFromNodes(mesh.triangles, mesh.thickness_m),
      density_kg_m3: softDensity(clay),
      gravity_m_s2: GRAVITY_m_s2,
      // Per clock, which carries the viscosity at the middle of the piece.
      viscosity_Pa_s: viscosityAt(plan.hotSide, { positions, triangles: mesh.triangles }, clay, history),
      poissonAt: (clock) => valueAt(history.creepClockUnshrunk, history.poisson, clock),
      shelf: plan.shelf,
      ...(plan.standing && restsOnProps(plan.standing, history)),
      held: new Uint8Array(0),
      duration_s: plan.clockEnd,
    },
    {
      steps: plan.steps,
      tolerance_m: plan.tolerance_m,
      longest_s: plan.longest,
      engine: plan.engine,
    },
  );
  // Whoever stops watching lets the engine go as well.
  try {
    return yield* followed(plan, run);
  } finally {
    run.return(undefined as never);
  }
}

function* followed(
  { mesh, positions }: SofteningPlan,
  run: Generator<CreepStep, CreepEnd, void>,
): Generator<CreepStep, Softening, void> {
  const steps: CreepStep[] = [];
  const areas = new Float64Array(mesh.triangles.length / 3);
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) return { steps, end: r.value, metAtClock: undefined };
    const step = r.value;
    steps.push(step);
    yield step;
    triangleAreas(step.positions, mesh.triangles, areas);
    const wall = toNodes(step.thickness_m, areas, mesh.triangles, mesh.thickness_m.length);
    if (findMeeting(positions, step.positions, wall, mesh.triangles))
      return { steps, end: endedAt(step, steps.length), metAtClock: step.time_s };
  }
}

const endedAt = (step: CreepStep, steps: number): CreepEnd => ({
  kind: 'time is up',
  time_s: step.time_s,
  steps,
  factorisations: 0,
  iterations: 0,
  touched_s: Float64Array.from(step.resting, (r) => (r ? step.time_s : Number.NaN)),
});
