import { valueAt } from '../../kernel/numerics/between.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { type CreepEnd, type CreepStep, creep } from '../../kernel/shell/creep.ts';
import { triangleAreas } from '../../kernel/shell/geometry.ts';
import { ofCorners, skinShareOf, wallAtNodes } from '../../kernel/shell/soft-shape.ts';
import { GRAVITY_m_s2 } from '../../units.ts';
import type { Clay } from '../clay/clay.ts';
import type { ClayHistory } from '../clay/clay-history.ts';
import type { FormMesh } from '../form/mesh-form.ts';
import { type HotSide, viscosityAt } from './hot-side.ts';
import type { Setting } from './setting.ts';
import { slipped } from './slip.ts';
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
  /** Clock reading at which one part of the wall met another, if it did; there it stops at itself. */
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
  /** Whether it lies on something it can roll on, so that rigid motion wants steadying. */
  readonly steadied?: boolean;
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

/** Where a stretch of creeping begins. */
interface Start {
  readonly clock: number;
  readonly positions: Float64Array;
  /** Wall of each triangle. */
  readonly thickness_m: Float64Array;
  readonly density_kg_m3: number;
  readonly skinShare: Float64Array;
}

/** Part of its weight that slows sliding, rolling and tipping at the speed of the wall's own flow. */
const STEADYING = 0.01;
/** A piece that slips this often, or that so soon slips again (part of the whole clock) so often, falls. */
const MOST_SLIPS = 40;
const SOON = 1e-3;
const MOST_SOON = 4;

/** Runs the soft part; yields each step. */
export function* soften(plan: SofteningPlan): Generator<CreepStep, Softening, void> {
  const { mesh, positions, clay } = plan;
  let start: Start = {
    clock: 0,
    positions,
    thickness_m: ofCorners(mesh.triangles, mesh.thickness_m),
    density_kg_m3: softDensity(clay),
    skinShare: skinShareOf(mesh.thickness_m, positions, mesh.triangles),
  };
  const steps: CreepStep[] = [];
  let soon = 0;
  for (let slips = 0; ; slips++) {
    const run = creepFrom(plan, start);
    // Whoever stops watching lets the engine go as well.
    let part: Softening;
    try {
      part = yield* followed(run, start, steps);
    } finally {
      run.return(undefined as never);
    }
    const last = steps[steps.length - 1];
    if (part.end.kind === 'time is up' || !plan.standing || slips === MOST_SLIPS) return part;
    soon = last.time_s - start.clock < SOON * plan.clockEnd ? soon + 1 : 0;
    const next = soon < MOST_SOON ? afterSlip(plan, plan.standing, last, start) : undefined;
    if (!next) return part;
    start = next;
  }
}

const massOf = (positions: Float64Array, wall: Float64Array, triangles: Uint32Array): number => {
  const areas = new Float64Array(wall.length);
  triangleAreas(positions, triangles, areas);
  return areas.reduce((sum, a, t) => sum + a * wall[t], 0);
};

/** Where creeping goes on after a slip; undefined where there is nothing to slip on, or it does not stop. */
const afterSlip = (
  plan: SofteningPlan,
  standing: Standing,
  last: CreepStep,
  start: Start,
): Start | undefined => {
  if (standing.props.length === 0) return undefined;
  const { triangles } = plan.mesh;
  const { skinShare } = start;
  const thickness_m = wallAtNodes({ ...last, skinShare }, triangles);
  const wall = { positions: last.positions, triangles, thickness_m };
  const positions = slipped(wall, standing, plan.history, last.time_s);
  const ratio =
    massOf(start.positions, start.thickness_m, triangles) /
    massOf(last.positions, last.thickness_m, triangles);
  return (
    positions && {
      // A moment later, so that a film of the steps runs forward.
      clock: last.time_s + 1e-7 * plan.clockEnd,
      positions,
      thickness_m: last.thickness_m,
      skinShare,
      // Closing pores take volume, not weight.
      density_kg_m3: start.density_kg_m3 * ratio,
    }
  );
};

const creepFrom = (plan: SofteningPlan, start: Start): Generator<CreepStep, CreepEnd, void> => {
  const { mesh, clay, history, longest } = plan;
  const { clock: from } = start;
  // Per clock, which carries the viscosity at the middle of the piece.
  const softness = viscosityAt(
    plan.hotSide,
    { positions: plan.positions, triangles: mesh.triangles },
    clay,
    history,
  );
  return creep(
    {
      positions: start.positions,
      triangles: mesh.triangles,
      thickness_m: start.thickness_m,
      skinShare: start.skinShare,
      density_kg_m3: start.density_kg_m3,
      gravity_m_s2: GRAVITY_m_s2,
      viscosity_Pa_s: typeof softness === 'function' ? (clock) => softness(from + clock) : softness,
      poissonAt: (clock) => valueAt(history.creepClockUnshrunk, history.poisson, from + clock),
      shelf: plan.shelf,
      ...(plan.standing && restsOnProps(plan.standing, history, from)),
      held: new Uint8Array(0),
      selfContact: true,
      steadying: plan.steadied ? STEADYING : 0,
      duration_s: plan.clockEnd - from,
    },
    {
      steps: plan.steps,
      tolerance_m: plan.tolerance_m,
      longest_s: longest && ((clock) => longest(from + clock)),
      engine: plan.engine,
    },
  );
};

function* followed(
  run: Generator<CreepStep, CreepEnd, void>,
  start: Start,
  steps: CreepStep[],
): Generator<CreepStep, Softening, void> {
  const touched = firstTouches(steps);
  const metBefore = steps[steps.length - 1]?.met_s;
  const metBy = (met_s: number | undefined): number | undefined =>
    metBefore ?? (met_s === undefined ? undefined : start.clock + met_s);
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) {
      const end = r.value;
      const touched_s = end.touched_s.map((t, n) => (touched[n] >= 0 ? touched[n] : start.clock + t));
      const metAtClock = metBy(end.met_s);
      return {
        steps,
        end: { ...end, time_s: start.clock + end.time_s, touched_s, met_s: metAtClock },
        metAtClock,
      };
    }
    const step = { ...r.value, time_s: start.clock + r.value.time_s, met_s: metBy(r.value.met_s) };
    steps.push(step);
    yield step;
  }
}

/** When each node first rested in the steps so far; NaN: not yet. */
const firstTouches = (steps: readonly CreepStep[]): Float64Array => {
  const out = new Float64Array(steps[0]?.resting.length ?? 0).fill(Number.NaN);
  for (const { resting, time_s } of steps)
    for (let n = 0; n < out.length; n++) if (resting[n] && Number.isNaN(out[n])) out[n] = time_s;
  return out;
};
