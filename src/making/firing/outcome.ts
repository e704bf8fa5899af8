import { timeAtClock } from '../clay/clay-history.ts';
import { startPorosity } from '../clay/sintering.ts';
import type { TemperatureHistory } from '../clay/temperature-history.ts';
import { carvedWords } from '../form/carving/carved-words.ts';
import { judgeHeat } from '../kiln/judge-heat.ts';
import type { Moment } from './ensemble.ts';
import type { Estimate, Trials, Verdict, Warning } from './firing.ts';
import { hotSideWarnings } from './hot-side.ts';
import { heatOf, type Placed } from './placed.ts';
import { rimName } from './rim.ts';
import type { Softening } from './soften.ts';
import { tipsOver } from './tipping.ts';
import { STANDS_SHARE, say } from './verdict.ts';
import { whenTold } from './when.ts';

/** Less than this part of the firing shrinkage done is not fired. */
const NOT_FIRED = 0.5;
/** Weight this near the edge of its footing, against its size, deserves a word. */
const NARROW = 0.05;
/** Its own axis this near upright (cosine), a piece laid down has tipped. */
const TIPPED = 0.7;

/** First clock reading at which a lip node that began above the shelf touched it. */
const lipTouch = (b: Placed, run: Softening): number | undefined => {
  let first = Number.POSITIVE_INFINITY;
  const began = run.steps[0].resting;
  for (const n of b.mesh.lipNodes) if (!began[n]) first = Math.min(first, run.end.touched_s[n] || Infinity);
  return Number.isFinite(first) ? first : undefined;
};

/** The film reaches the end of the firing: the piece neither fell nor met what ends it. */
export const reachesEnd = (run: Softening, clockEnd: number): boolean =>
  run.end.kind === 'time is up' && run.steps[run.steps.length - 1].time_s >= clockEnd * (1 - 1e-6);

/** What the trials say of it: how many fall and the like, and each one's clock to tell when. */
export interface Doubt {
  readonly trials: Trials;
  readonly moments: readonly Moment[];
}

/** What became of it. */
export const fate = (
  b: Placed,
  run: Softening,
  estimates: Readonly<Record<string, Estimate>>,
  doubt?: Doubt,
): Verdict => {
  const { clay, setting } = b.input;
  const shrunk = 1 - Math.cbrt(1 - startPorosity(clay));
  const shrinkageDone = shrunk > 0 ? (1 - b.scale) / shrunk : 1;
  const clocks = b.history.creepClockUnshrunk;
  const followed = reachesEnd(run, clocks[clocks.length - 1]);
  const facts = {
    part: rimName(setting.attitude),
    drop: setting.attitude === 'rim down' ? estimates.topDrop_m : estimates.lipDrop_m,
    shrinkageDone,
    followed,
    trials: doubt?.trials,
    spared: 0,
  } as const;
  const at = (kind: Verdict['kind'], clock: number): Verdict => {
    const time_s = timeAtClock(b.history, clock);
    const when = whenTold(heatOf(b.input), time_s, clock, doubt?.moments ?? []);
    const spared = (doubt?.moments ?? []).filter((m) => m.clock < clock).length;
    return say({ ...facts, kind, time_s, when, spared });
  };
  if (run.end.kind !== 'time is up') {
    const { positions, rates } = run.steps[run.steps.length - 1];
    return at(tipsOver(positions, rates) ? 'falls-over' : 'keeps-falling', run.end.time_s);
  }
  if (run.metAtClock !== undefined) return at('wall-on-wall', run.metAtClock);
  const touch = setting.attitude === 'upright' ? lipTouch(b, run) : undefined;
  if (touch !== undefined) return at('rim-on-shelf', touch);
  if (shrinkageDone < NOT_FIRED) return say({ ...facts, kind: 'not-fired' });
  const moved = estimates.greatestSag_m.value;
  return say({ ...facts, kind: moved < STANDS_SHARE * sizeOf(b.down.positions) ? 'stands' : 'sags' });
};

/** Half the greatest extent, m: what "much" is measured against. */
export const sizeOf = (positions: Float64Array): number => {
  let size = 0;
  for (const x of positions) size = Math.max(size, Math.abs(x));
  return size;
};

/** What a potter should be told before trusting the picture. */
export const warningsOf = (b: Placed, heat: TemperatureHistory): Warning[] => {
  const out: Warning[] = judgeHeat(heat, b.input.clay).map((r) => ({ kind: r.kind, text: r.text }));
  out.push(...hotSideWarnings(b.input.setting.hotSide, b.history));
  const { down, input } = b;
  const degrees = (rad: number) => Math.round((rad * 180) / Math.PI);
  if (input.setting.attitude === 'on its side' && degrees(down.rolled_rad) >= 2)
    out.push({
      kind: 'rolls',
      text: `It rolls by ${degrees(down.rolled_rad)}° on the shelf before it rests.`,
    });
  if (input.setting.attitude === 'on its side' && Math.abs(down.turn[8]) > TIPPED)
    out.push({ kind: 'tips-over', text: 'It does not stay on its side: it tips until it stands.' });
  for (const i of b.mesh.tooFine)
    out.push({
      kind: 'too-fine',
      text: `Alteration ${i + 1} (${input.form.alterations[i].kind}) is too fine for this many triangles and is left out here.`,
    });
  for (const text of carvedWords(b.mesh.carved)) out.push({ kind: 'too-fine', text });
  // What leans is held by what it leans on.
  const stands = input.setting.attitude === 'upright' || input.setting.attitude === 'rim down';
  if (stands && down.footing_m < NARROW * sizeOf(down.positions))
    out.push({
      kind: 'narrow-footing',
      text: `It stands on a narrow footing: ${(1000 * down.footing_m).toFixed(1)} mm to tipping.`,
    });
  return out;
};
