import { badInputs } from '../../error.ts';
import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { standOff } from '../../kernel/shell/contact.ts';
import type { CreepStep } from '../../kernel/shell/creep.ts';
import { nodeNormals } from '../../kernel/shell/geometry.ts';
import { skinShareOf } from '../../kernel/shell/soft-shape.ts';
import { metresFromMm } from '../../units.ts';
import { clayHistory, timeAtClock } from '../clay/clay-history.ts';
import { massBetween, scaleBetween } from '../clay/shrinkage.ts';
import { measure } from '../form/measure.ts';
import { heatWork } from '../kiln/heat-work.ts';
import { judgeHeat } from '../kiln/judge-heat.ts';
import { filmTimes, frameAt } from './film.ts';
import type { FiringInput, FiringProgress, FiringRun, Frame } from './firing.ts';
import { howSure, type OnShelf, type Soften, whoFell } from './how-sure.ts';
import { lifted, showsItInside } from './lifted.ts';
import { contactArea, sagOf } from './moved.ts';
import { fate, reachesEnd, warningsOf } from './outcome.ts';
import { dryScaleOf, heatOf, type Placed, setOnShelf } from './placed.ts';
import { poseOf } from './pose.ts';
import { provenanceOf } from './provenance.ts';
import { readShape, scaled } from './reading.ts';
import { whatItRestsOn } from './rests-on.ts';
import { type Softening, type SofteningPlan, softDensity, soften } from './soften.ts';
import { unspread } from './spread.ts';
import { standingOf } from './standing.ts';

/** Pictures in a film: enough for a smooth scrubber, few enough to post to a screen. */
const FRAMES = { quick: 16, full: 60 } as const;
const QUICK_STEPS = 4;
const MOVES_ON: ReadonlySet<string> = new Set(['stands', 'sags']);
/** Skin within this of the shelf counts as lying on it, m. */
const ON_SHELF_m = 1e-4;

/** Width of the flat of a foot ring, bone dry, m; 0 where it stands on none. */
const ringWidth = (input: FiringInput): number => {
  const { foot } = input.form;
  return input.setting.attitude === 'upright' && foot.kind === 'ring'
    ? metresFromMm(foot.width_mm) * dryScaleOf(input)
    : 0;
};

function* follow(
  run: Generator<CreepStep, Softening, void>,
  plan: { readonly from: number; readonly to: number; readonly clockEnd: number; readonly note: string },
  look?: (step: CreepStep) => FiringProgress['frame'],
): Generator<FiringProgress, Softening, void> {
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) return r.value;
    const done = Math.min(1, r.value.time_s / plan.clockEnd);
    yield { fraction: plan.from + done * (plan.to - plan.from), note: plan.note, frame: look?.(r.value) };
  }
}

/**
 * Fires a form. Drive the generator to its end for the result; each `next()` is one step.
 * @param engine who does the factorisations; plain TypeScript where left out
 * @throws AfterfireError `bad-input` where the heat never melts or wholly melts this clay, or the piece cannot
 *   stand as set
 */
export function* fire(input: FiringInput, engine?: MakeEngine): FiringRun {
  const { clay } = input;
  const heat = heatOf(input);
  const faults = judgeHeat(heat, clay).filter((r) => r.severity === 'fault');
  if (faults.length > 0)
    throw badInputs(
      faults.map((f) => ({ field: f.field, value: `${f.value}. ${f.text}`, expected: f.expected })),
    );
  const history = clayHistory(clay, heat);
  const last = history.time_s.length - 1;
  const scale = history.linearScale[last];
  const clockEnd = history.creepClockUnshrunk[last];
  const placed: Placed = { input, history, scale, ...setOnShelf(input, input.triangles) };
  const { mesh, down } = placed;
  const full = input.care === 'full';
  const share = full ? 0.85 : 1;

  const { shelf, hotSide } = input.setting;
  const planFor = (piece: OnShelf, end: number): SofteningPlan => ({
    mesh: piece.mesh,
    positions: piece.down.positions,
    clay,
    history,
    shelf,
    standing: standingOf(input.setting, piece.down),
    hotSide,
    steadied: input.setting.attitude === 'on its side' || input.setting.props.length > 0,
    clockEnd: end,
    engine,
  });
  const main = planFor(placed, clockEnd);
  const stood = { triangles: mesh.triangles, props: input.setting.props, origin_m: down.origin_m };
  const { triangles } = mesh;
  const filmed = { triangles, skinShare: skinShareOf(mesh.thickness_m, down.positions, triangles) };
  const softening = (steps?: number) =>
    follow(soften({ ...main, steps }), { from: 0, to: share, clockEnd, note: 'softening' }, (s) =>
      frameAt([s], filmed, clay, history, timeAtClock(history, s.time_s)),
    );
  const endOf = (run: Softening): number =>
    reachesEnd(run, clockEnd)
      ? history.time_s[last]
      : timeAtClock(history, run.steps[run.steps.length - 1].time_s);
  const filmOf = (run: Softening): Frame[] =>
    filmTimes(history, endOf(run), FRAMES[input.care]).map((t) =>
      frameAt(run.steps, filmed, clay, history, t, (frame) => lifted(frame, stood)),
    );
  let run = yield* softening(full ? undefined : QUICK_STEPS);
  let frames = filmOf(run);
  // What slips or swings on its props in a few long steps may land inside them: then it is worth the careful steps.
  if (!full && stood.props.length > 0 && showsItInside(frames, stood)) {
    run = yield* softening();
    frames = filmOf(run);
  }
  const fallen = !reachesEnd(run, clockEnd);
  const final = frames[frames.length - 1];

  const firedDensity = softDensity(clay) / final.linearScale ** 3;
  const ended: Placed = { ...placed, scale: final.linearScale };
  const lastStep = run.steps[run.steps.length - 1];
  const { measures: firedMeasures, readings: fine } = readShape(
    ended,
    lastStep.positions,
    lastStep.thickness_m,
    firedDensity,
  );
  const fired = {
    positions: final.positions,
    triangles: mesh.triangles,
    thickness_m: final.thickness_m,
  };
  const outcome = {
    placed: ended,
    fired,
    steps: run.steps,
    readings: fine,
    stepError_m: lastStep.stepError_m,
  };
  const soft: Soften = (piece, plan) => soften({ ...planFor(piece, plan.clockEnd), ...plan });
  const sure =
    full && !fallen
      ? yield* howSure(outcome, heat, soft, (done) => ({ fraction: 0.85 + 0.15 * done, note: 'how sure' }))
      : undefined;
  const doubt =
    sure ??
    (full
      ? whoFell(input, heat, lastStep.time_s, run.end.kind === 'time is up' ? 'met' : 'fell')
      : undefined);
  const estimates =
    sure?.estimates ??
    unspread(fine, full ? 'not followed to the end: no interval' : 'a quick look: no interval yet');

  const verdict = fate(ended, run, estimates, doubt);
  const dryMeasures = measure(mesh, clay.boneDryDensity.value_kg_m3);
  const normals = new Float64Array(final.positions.length);
  nodeNormals(final.positions, triangles, normals);
  const off = new Float64Array(final.thickness_m.length);
  standOff(normals, final.thickness_m, off);
  const gap = off.map((o, n) => final.positions[3 * n + 2] - o);
  const onShelf = Uint8Array.from(gap, (g) => (g < ON_SHELF_m ? 1 : 0));
  return {
    input,
    dry: { positions: down.positions, triangles: mesh.triangles, thickness_m: mesh.thickness_m },
    asSet: poseOf(mesh, down),
    frames,
    wetMeasures: scaled(dryMeasures, scaleBetween(clay, 'dry', 'wet'), massBetween(clay, 'dry', 'wet')),
    dryMeasures,
    firedMeasures,
    sag_m: sagOf(down.shrunkOnly, final.positions, final.linearScale),
    onShelf,
    ...whatItRestsOn(fired, final.linearScale, input.setting, down.origin_m),
    contactArea_m2: contactArea(
      final.positions,
      triangles,
      final.thickness_m,
      gap,
      ON_SHELF_m,
      final.linearScale * ringWidth(input),
    ),
    thinnestWall_m: fine.thinnestWall_m,
    verdict,
    warnings: warningsOf(placed, heat),
    heatWork: { text: heatWork(heat).text },
    estimates,
    bands: sure?.bands,
    // A rim that lies on the shelf has nowhere left to go.
    margin: MOVES_ON.has(verdict.kind) ? sure?.margin : undefined,
    trials: doubt?.trials,
    provenance: provenanceOf(clay, input.setting),
    steps: run.end.steps,
  };
}
