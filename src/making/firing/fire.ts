import { badInput, badInputs } from '../../error.ts';
import type { CreepStep } from '../../kernel/shell/creep.ts';
import { toNodes, triangleAreas } from '../../kernel/shell/geometry.ts';
import { standOffOf } from '../../kernel/shell/rate.ts';
import { type ClayHistory, clayHistory, timeAtClock } from '../clay/clay-history.ts';
import { massBetween, scaleBetween } from '../clay/shrinkage.ts';
import { startPorosity } from '../clay/sintering.ts';
import { type TemperatureHistory, temperatureAt } from '../clay/temperature-history.ts';
import { measure } from '../form/measure.ts';
import type { Measures } from '../form/measures.ts';
import { type FormMesh, meshForm } from '../form/mesh-form.ts';
import { heatWork } from '../kiln/heat-work.ts';
import { judgeHeat } from '../kiln/judge-heat.ts';
import { temperatureHistory } from '../kiln/schedule.ts';
import { filmTimes, frameAt } from './film.ts';
import type { Estimate, FiringInput, FiringProgress, FiringRun, Verdict, Warning } from './firing.ts';
import { contactArea, greatest, mostDrop, sagOf, topDrop } from './moved.ts';
import { provenanceOf } from './provenance.ts';
import { type SetDown, setDown, turnBack } from './set-down.ts';
import { type Softening, softDensity, soften, trianglesFromNodes } from './soften.ts';
import { clockFactor, KILN_OFF_K, type Readings, type ReadShape, spreadOf, unspread } from './spread.ts';
import { STANDS_SHARE, say } from './verdict.ts';

/** Pictures in a film: enough for a smooth scrubber, few enough to post to a screen. */
const FRAMES = { quick: 16, full: 60 } as const;
const QUICK_STEPS = 5;
const COARSE_TRIANGLES = 900;
/** The coarse run that only feeds the intervals may step boldly. */
const COARSE_TOLERANCE = 3e-4;
/** A piece that leans over by itself this far when set down was not standing as asked. */
const LEANS_rad = 0.35;
const NOT_FIRED = 0.5;
/** Weight this near the edge of its footing, against its size, deserves a word. */
const NARROW = 0.05;
/** Skin within this of the shelf counts as lying on it, m. */
const ON_SHELF_m = 1e-4;

/** Everything the parts of a firing share. */
interface Bench {
  readonly input: FiringInput;
  readonly history: ClayHistory;
  readonly mesh: FormMesh;
  readonly down: SetDown;
  readonly scale: number;
}

/** Linear scale from the sizes as drawn to bone dry. */
export const dryScaleOf = (input: Pick<FiringInput, 'form' | 'clay'>): number =>
  scaleBetween(input.clay, input.form.sizes === 'thrown' ? 'wet' : 'fired', 'dry');

const setOnShelf = (input: FiringInput, triangles: number): { mesh: FormMesh; down: SetDown } => {
  const mesh = meshForm(input.form, { triangles, scale: dryScaleOf(input) });
  const down = setDown(mesh, input.setting);
  const { attitude } = input.setting;
  if (!down.steady || (attitude !== 'on its side' && down.turned_rad > LEANS_rad))
    throw badInput(
      'setting.attitude',
      attitude,
      'an attitude in which the piece stands by itself: its weight falls outside what it would stand on',
    );
  return { mesh, down };
};

/** What is read off every shape, fine or coarse, at its true fired size; `positions` in bone-dry lengths. */
const readShape = (
  b: Bench,
  positions: Float64Array,
  wall: Float64Array,
  density_kg_m3: number,
): { readonly measures: Measures; readonly readings: Readings } => {
  const L = b.scale;
  const areas = new Float64Array(wall.length);
  triangleAreas(positions, b.mesh.triangles, areas);
  const thickness = toNodes(wall, areas, b.mesh.triangles, positions.length / 3).map((h) => L * h);
  const fired = positions.map((x) => L * x);
  const upright = { ...b.mesh, positions: turnBack(fired, b.down.turn), thickness_m: thickness };
  const m = measure(upright, density_kg_m3);
  const dry = b.down.positions;
  return {
    measures: m,
    readings: {
      height_m: m.height_m,
      widest_m: m.widest_m,
      lipWidth_m: m.lipWidth_m,
      capacity_m3: m.capacity_m3,
      topDrop_m: topDrop(dry, fired, L),
      lipDrop_m: mostDrop(b.mesh.lipNodes, dry, fired, L),
      greatestSag_m: greatest(sagOf(dry, fired, L)),
      thinnestWall_m: m.thinnestWall_m,
    },
  };
};

/** Measures of the same shape at another size and weight. */
const scaled = (m: Measures, length: number, mass: number): Measures => ({
  height_m: m.height_m * length,
  widest_m: m.widest_m * length,
  lipWidth_m: m.lipWidth_m * length,
  footWidth_m: m.footWidth_m * length,
  area_m2: m.area_m2 * length ** 2,
  clayVolume_m3: m.clayVolume_m3 * length ** 3,
  weight_kg: m.weight_kg * mass,
  capacity_m3: m.capacity_m3 * length ** 3,
  centreOfMass_m: [m.centreOfMass_m[0] * length, m.centreOfMass_m[1] * length, m.centreOfMass_m[2] * length],
  thinnestWall_m: m.thinnestWall_m * length,
  thickestWall_m: m.thickestWall_m * length,
});

/** First clock reading at which a lip node that began above the shelf touched it. */
const lipTouch = (b: Bench, run: Softening): number | undefined => {
  let first = Number.POSITIVE_INFINITY;
  const began = run.steps[0].resting;
  for (const n of b.mesh.lipNodes) if (!began[n]) first = Math.min(first, run.end.touched_s[n] || Infinity);
  return Number.isFinite(first) ? first : undefined;
};

const fate = (b: Bench, run: Softening, estimates: Readonly<Record<string, Estimate>>): Verdict => {
  const { clay, schedule, setting } = b.input;
  const shrunk = 1 - Math.cbrt(1 - startPorosity(clay));
  const shrinkageDone = shrunk > 0 ? (1 - b.scale) / shrunk : 1;
  const [part, drop] =
    setting.attitude === 'rim down' ? ['the top', estimates.topDrop_m] : ['the lip', estimates.lipDrop_m];
  const facts = { part, drop, shrinkageDone } as const;
  const at = (kind: Verdict['kind'], clock: number): Verdict => {
    const time_s = timeAtClock(b.history, clock);
    const heat = temperatureHistory(schedule);
    const upTo = heatUpTo(heat, time_s);
    return say({
      ...facts,
      kind,
      time_s,
      temperature_K: temperatureAt(heat, time_s),
      cone: heatWork(upTo).text,
    });
  };
  if (run.metAtClock !== undefined) return at('wall-on-wall', run.metAtClock);
  if (run.end.kind !== 'time is up') return at('keeps-falling', run.end.time_s);
  const touch = setting.attitude === 'upright' ? lipTouch(b, run) : undefined;
  if (touch !== undefined) return at('rim-on-shelf', touch);
  if (shrinkageDone < NOT_FIRED) return say({ ...facts, kind: 'not-fired' });
  const moved = estimates.greatestSag_m.value;
  return say({ ...facts, kind: moved < STANDS_SHARE * sizeOf(b.down.positions) ? 'stands' : 'sags' });
};

/** The heat as far as it had got at a time. */
const heatUpTo = (heat: TemperatureHistory, time_s: number): TemperatureHistory => {
  const kept = heat.time_s.findLastIndex((t) => t < time_s) + 1;
  return {
    time_s: Float64Array.of(...heat.time_s.slice(0, kept), time_s),
    temperature_K: Float64Array.of(...heat.temperature_K.slice(0, kept), temperatureAt(heat, time_s)),
  };
};

/** Half the greatest extent, m: what "much" is measured against. */
const sizeOf = (positions: Float64Array): number => {
  let size = 0;
  for (const x of positions) size = Math.max(size, Math.abs(x));
  return size;
};

const warningsOf = (b: Bench, heat: ReturnType<typeof temperatureHistory>): Warning[] => {
  const out: Warning[] = judgeHeat(heat, b.input.clay).map((r) => ({ kind: r.kind, text: r.text }));
  const { down, input } = b;
  const degrees = (rad: number) => Math.round((rad * 180) / Math.PI);
  if (input.setting.attitude === 'on its side' && degrees(down.rolled_rad) >= 2)
    out.push({
      kind: 'rolls',
      text: `It rolls by ${degrees(down.rolled_rad)}° on the shelf before it rests.`,
    });
  if (input.setting.attitude !== 'on its side' && down.footing_m < NARROW * sizeOf(down.positions))
    out.push({
      kind: 'narrow-footing',
      text: `It stands on a narrow footing: ${(1000 * down.footing_m).toFixed(1)} mm to tipping.`,
    });
  return out;
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
 * @throws AfterfireError `bad-input` where the heat never melts or wholly melts this clay, or the piece cannot
 *   stand as set
 */
export function* fire(input: FiringInput): FiringRun {
  const { clay } = input;
  const heat = temperatureHistory(input.schedule);
  const faults = judgeHeat(heat, clay).filter((r) => r.severity === 'fault');
  if (faults.length > 0) throw badInputs(faults);
  const history = clayHistory(clay, heat);
  const last = history.time_s.length - 1;
  const scale = history.linearScale[last];
  const clockEnd = history.creepClockUnshrunk[last];
  const bench: Bench = { input, history, scale, ...setOnShelf(input, input.triangles) };
  const { mesh, down } = bench;
  const full = input.care === 'full';
  const share = full ? 0.85 : 1;

  const main = { mesh, positions: down.positions, clay, history, shelf: input.setting.shelf, clockEnd };
  const run = yield* follow(
    soften(full ? main : { ...main, steps: QUICK_STEPS }),
    { from: 0, to: share, clockEnd, note: 'softening' },
    (s) => frameAt([s], mesh.triangles, clay, history, timeAtClock(history, s.time_s)),
  );

  const fallen = run.end.kind !== 'time is up' || run.metAtClock !== undefined;
  const end_s = fallen ? timeAtClock(history, run.steps[run.steps.length - 1].time_s) : history.time_s[last];
  const frames = filmTimes(history, end_s, FRAMES[input.care]).map((t) =>
    frameAt(run.steps, mesh.triangles, clay, history, t),
  );
  const final = frames[frames.length - 1];

  const firedDensity = softDensity(clay) / final.linearScale ** 3;
  const ended: Bench = { ...bench, scale: final.linearScale };
  const lastStep = run.steps[run.steps.length - 1];
  const { measures: firedMeasures, readings: fine } = readShape(
    ended,
    lastStep.positions,
    lastStep.thickness_m,
    firedDensity,
  );
  let estimates: Record<string, Estimate>;
  if (full && !fallen) estimates = yield* surely(ended, fine, firedDensity, clockEnd);
  else estimates = unspread(fine, full ? 'it fell: no interval' : 'quick look: no interval yet');

  const dryMeasures = measure(mesh, clay.boneDryDensity.value_kg_m3);
  const off = standOffOf(
    {
      positions: final.positions,
      thickness_m: trianglesFromNodes(mesh.triangles, final.thickness_m),
      mass_kg: new Float64Array(0),
    },
    mesh.triangles,
  );
  const onShelf = Uint8Array.from(off, (o, n) => (final.positions[3 * n + 2] - o < ON_SHELF_m ? 1 : 0));
  return {
    input,
    dry: { positions: down.positions, triangles: mesh.triangles, thickness_m: mesh.thickness_m },
    frames,
    wetMeasures: scaled(dryMeasures, scaleBetween(clay, 'dry', 'wet'), massBetween(clay, 'dry', 'wet')),
    dryMeasures,
    firedMeasures,
    sag_m: sagOf(down.positions, final.positions, final.linearScale),
    onShelf,
    contactArea_m2: contactArea(final.positions, mesh.triangles, final.thickness_m, onShelf),
    thinnestWall_m: fine.thinnestWall_m,
    verdict: fate(ended, run, estimates),
    warnings: warningsOf(bench, heat),
    heatWork: { text: heatWork(heat).text },
    estimates,
    provenance: provenanceOf(clay),
    steps: run.end.steps,
  };
}

/** Intervals by a coarse run that goes on past the end. */
function* surely(
  b: Bench,
  fine: Readonly<Record<string, number>>,
  density_kg_m3: number,
  clockEnd: number,
): Generator<FiringProgress, Record<string, Estimate>, void> {
  const { input, history } = b;
  const { clay } = input;
  const peak_K = history.temperature_K.reduce((a, c) => Math.max(a, c), 0);
  const factor = clockFactor(clay, peak_K);
  const coarse = setOnShelf(input, Math.min(COARSE_TRIANGLES, input.triangles));
  const run = yield* follow(
    soften({
      mesh: coarse.mesh,
      positions: coarse.down.positions,
      clay,
      history,
      shelf: input.setting.shelf,
      clockEnd: clockEnd * factor,
      tolerance_m: COARSE_TOLERANCE * sizeOf(coarse.down.positions),
    }),
    { from: 0.85, to: 1, clockEnd: clockEnd * factor, note: 'how sure' },
  );
  const how = clay.sagViscosity.how === 'guess' ? 'a guess' : clay.sagViscosity.how;
  const why =
    `softness within a factor of ${clay.sagViscosity.factor80} (${how}), kiln within ±${KILN_OFF_K} °C (a guess), ` +
    'and the mesh; 80 %';
  const ratio = b.mesh.triangles.length / coarse.mesh.triangles.length;
  const read: ReadShape = (positions, wall) =>
    readShape({ ...b, ...coarse }, positions, wall, density_kg_m3).readings;
  return spreadOf(fine, run, read, clockEnd, factor, ratio, why);
}
