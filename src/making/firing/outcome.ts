import { timeAtClock } from '../clay/clay-history.ts';
import { startPorosity } from '../clay/sintering.ts';
import { type TemperatureHistory, temperatureAt } from '../clay/temperature-history.ts';
import { heatWork } from '../kiln/heat-work.ts';
import { judgeHeat } from '../kiln/judge-heat.ts';
import { temperatureHistory } from '../kiln/schedule.ts';
import type { Estimate, Verdict, Warning } from './firing.ts';
import { hotSideWarnings } from './hot-side.ts';
import type { Placed } from './placed.ts';
import type { Softening } from './soften.ts';
import { STANDS_SHARE, say } from './verdict.ts';

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

/** What became of it. */
export const fate = (b: Placed, run: Softening, estimates: Readonly<Record<string, Estimate>>): Verdict => {
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
export const sizeOf = (positions: Float64Array): number => {
  let size = 0;
  for (const x of positions) size = Math.max(size, Math.abs(x));
  return size;
};

/** What a potter should be told before trusting the picture. */
export const warningsOf = (b: Placed, heat: ReturnType<typeof temperatureHistory>): Warning[] => {
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
  if (input.setting.attitude !== 'on its side' && down.footing_m < NARROW * sizeOf(down.positions))
    out.push({
      kind: 'narrow-footing',
      text: `It stands on a narrow footing: ${(1000 * down.footing_m).toFixed(1)} mm to tipping.`,
    });
  return out;
};
