import { z } from 'zod';
import { badInput } from '../../error.ts';
import { normalBelow, normalQuantile } from '../../kernel/numerics/normal.ts';
import { hotterBy, type TemperatureHistory } from '../clay/temperature-history.ts';
import { bendOf, CONE_LAWS, type ConeLaw, workOf } from './cone-law.ts';

/**
 * What the kiln's thermometer was off by, from cones that stood beside the ware: each bends as the cone laws say for the
 * heat that really was. The offset counts at the peak, and at lower heat in proportion, as in every prediction here.
 */

export const WitnessCone = z.strictObject({
  cone: z.string().describe('Number stamped on it, e.g. 9 or 05; self-supporting regular cones'),
  bend_deg: z
    .number()
    .min(0)
    .max(180)
    .describe('How far its tip came down from where it stood: 0 not at all, 90 level with its foot or lower'),
  plusMinus_deg: z
    .number()
    .positive()
    .max(90)
    .default(10)
    .describe('Four readings in five are no further off'),
  place: z.string().optional().describe('Where it stood in the kiln'),
  note: z.string().optional(),
});
export type WitnessCone = z.infer<typeof WitnessCone>;

export interface ConeTold {
  readonly cone: string;
  readonly kind: 'bent' | 'standing' | 'down';
  /** Offset at which the law has it bent so; for a standing or fallen cone where bending would begin or end. */
  readonly hotter_K: number;
  readonly sd_K: number;
}

export interface WitnessFinding {
  readonly cones: readonly ConeTold[];
  /**
   * `found`: an interval. `at least`: all cones down, the kiln was this much hotter or more. `at most`: all stood.
   * `contradictory`: no heat bends them like this.
   */
  readonly kind: 'found' | 'at least' | 'at most' | 'contradictory';
  /** How much hotter the ware got at the peak than the thermometer said, K; the bound where it is one. */
  readonly hotter_K: number;
  /** Four times in five; undefined for a bound. */
  readonly plusMinus80_K: number | undefined;
  readonly text: string;
  readonly contradictions: readonly string[];
  readonly notes: readonly string[];
}

const DEVIATIONS_80 = normalQuantile(0.9);
/** Bent less than this it counts as standing, more than this as down: nothing more can be read off then. */
const STANDING_deg = 6;
const DOWN_deg = 85;
const FULL_deg = 90;
/** No thermometer is believed to be further off. */
const FURTHEST_K = 120;
const STEP_K = 0.5;
/** What a law is off by, sd: within the chart's two rates, and outside them (cone-law.ts, measured there). */
const LAW_SD_K = 2;
const LAW_SD_OUTSIDE_K = 7;
/** A chart value from memory may be worse. */
const MEMORY_SD_K = 5;
const CHART_RATES_C_h = [50, 170] as const;
const LAST_K = 100;
const ODD = 3;

/** Mean rate over the last 100 °C of rise, the hold at the top counted in. */
const lastRate_C_h = ({ time_s, temperature_K }: TemperatureHistory): number => {
  const peak = temperature_K.reduce((a, b) => Math.max(a, b), 0);
  const last = temperature_K.findLastIndex((T) => T >= peak - 0.5);
  let i = last;
  while (i > 0 && temperature_K[i] > peak - LAST_K) i--;
  const [T, next] = [temperature_K[i], temperature_K[i + 1] ?? peak];
  const share = next > T ? Math.max(0, (peak - LAST_K - T) / (next - T)) : 0;
  const from_s = time_s[i] + share * ((time_s[i + 1] ?? time_s[i]) - time_s[i]);
  return (3600 * Math.min(LAST_K, peak - T)) / Math.max(1, time_s[last] - from_s);
};

const angleAt = (law: ConeLaw, heat: TemperatureHistory, off_K: number): number =>
  FULL_deg * bendOf(workOf(law, hotterBy(heat, off_K)));

/** The offset at which a cone is bent by an angle: it bends the more the hotter it is. */
const offsetFor = (law: ConeLaw, heat: TemperatureHistory, angle_deg: number): number => {
  let [low, high] = [-400, 400];
  for (let k = 0; k < 40; k++) {
    const mid = (low + high) / 2;
    if (angleAt(law, heat, mid) < angle_deg) low = mid;
    else high = mid;
  }
  return (low + high) / 2;
};

const toldBy = (seen: WitnessCone, law: ConeLaw, heat: TemperatureHistory, lawSd: number): ConeTold => {
  const own = Math.hypot(lawSd, law.chart.standing === 'memory' ? MEMORY_SD_K : 0);
  const { cone, bend_deg } = seen;
  if (bend_deg <= STANDING_deg)
    return { cone, kind: 'standing', hotter_K: offsetFor(law, heat, STANDING_deg), sd_K: own };
  if (bend_deg >= DOWN_deg)
    return { cone, kind: 'down', hotter_K: offsetFor(law, heat, DOWN_deg), sd_K: own };
  const at = offsetFor(law, heat, bend_deg);
  const sd_deg = seen.plusMinus_deg / DEVIATIONS_80;
  const perDegree =
    (offsetFor(law, heat, Math.min(88, bend_deg + 5)) - offsetFor(law, heat, Math.max(2, bend_deg - 5))) /
    (Math.min(88, bend_deg + 5) - Math.max(2, bend_deg - 5));
  return { cone, kind: 'bent', hotter_K: at, sd_K: Math.hypot(own, perDegree * sd_deg) };
};

const lnOf = (t: ConeTold, off_K: number): number => {
  const z = (off_K - t.hotter_K) / t.sd_K;
  if (t.kind === 'bent') return -0.5 * z * z;
  return Math.log(Math.max(1e-12, normalBelow(t.kind === 'down' ? z : -z)));
};

interface Spread {
  readonly mean: number;
  readonly sd: number;
}

const spreadOf = (told: readonly ConeTold[]): Spread => {
  const ln: number[] = [];
  for (let d = -FURTHEST_K; d <= FURTHEST_K; d += STEP_K) ln.push(told.reduce((s, t) => s + lnOf(t, d), 0));
  const top = Math.max(...ln);
  let [w, wd, wdd] = [0, 0, 0];
  ln.forEach((v, i) => {
    const d = -FURTHEST_K + i * STEP_K;
    const p = Math.exp(v - top);
    w += p;
    wd += p * d;
    wdd += p * d * d;
  });
  return { mean: wd / w, sd: Math.sqrt(Math.max(0, wdd / w - (wd / w) ** 2)) };
};

const hardness = (cone: string): number => CONE_LAWS.findIndex((l) => l.cone === cone);

/** Pairs that no heat explains: the harder cone bent further. Side by side, that is; in other places it can be true. */
const inverted = (seen: readonly WitnessCone[]): string[] =>
  seen.flatMap((a) =>
    seen.flatMap((b) => {
      if (a.place !== b.place || hardness(a.cone) >= hardness(b.cone)) return [];
      const slack = Math.hypot(a.plusMinus_deg, b.plusMinus_deg);
      return Math.min(b.bend_deg, DOWN_deg) > Math.min(a.bend_deg, DOWN_deg) + slack
        ? [
            `Cone ${b.cone} is bent by ${b.bend_deg}°, the softer cone ${a.cone} by ${a.bend_deg}°: no heat does that to cones side by side. Were they swapped, or was one held up or blown on?`,
          ]
        : [];
    }),
  );

const oddOnes = (told: readonly ConeTold[]): string[] =>
  told.flatMap((t) => {
    const others = told.filter((o) => o !== t);
    if (
      !others.some((o) => o.kind === 'bent') &&
      !(others.some((o) => o.kind === 'down') && others.some((o) => o.kind === 'standing'))
    )
      return [];
    const { mean, sd } = spreadOf(others);
    const z = (t.hotter_K - mean) / Math.hypot(t.sd_K, sd);
    const wrong = t.kind === 'bent' ? Math.abs(z) > ODD : t.kind === 'down' ? z > ODD : z < -ODD;
    const asks =
      t.kind === 'bent'
        ? `asks for ${signed(t.hotter_K)} °C`
        : t.kind === 'down'
          ? `is down, which takes ${signed(t.hotter_K)} °C or more`
          : `still stands, which takes ${signed(t.hotter_K)} °C or less`;
    return wrong ? [`Cone ${t.cone} ${asks}; the others have the kiln ${signed(mean)} °C off.`] : [];
  });

const signed = (K: number): string => (Math.round(K) > 0 ? `+${Math.round(K)}` : `${Math.round(K)}`);
const side = (K: number): string => (K >= 0 ? 'hotter' : 'cooler');

const worded = (kind: WitnessFinding['kind'], K: number, half: number | undefined): string => {
  const by = Math.abs(Math.round(K));
  if (kind === 'found' && half !== undefined)
    return `At its peak the kiln was ${by} °C ${side(K)} than its thermometer said, ± ${Math.max(1, Math.round(half))} °C four times in five.`;
  if (kind === 'at least')
    return `All cones are down: the kiln was at least ${by} °C ${K >= 0 ? 'hotter' : 'cooler or better'} by its thermometer (${signed(K)} °C or more). Next time add a harder cone.`;
  if (kind === 'at most')
    return `All cones stand: the kiln was off by ${signed(K)} °C at most. Next time add a softer cone.`;
  return 'These cones contradict one another; they say nothing of the thermometer.';
};

const notesFor = (rate: number, heat: TemperatureHistory): string[] => {
  const notes: string[] = [];
  if (rate < CHART_RATES_C_h[0] || rate > CHART_RATES_C_h[1])
    notes.push(
      `Over its last 100 °C, hold included, this firing rose at ${Math.round(rate)} °C/h; cone laws are sure between 60 and 150 °C/h and good to about ${LAW_SD_OUTSIDE_K} °C beyond.`,
    );
  if ((heat.temperature_K.at(-1) as number) > 700)
    notes.push('The log or schedule ends hot; cones go on bending while the kiln is still near its peak.');
  notes.push('Cones tell of where they stood: set them beside the ware, not beside the thermocouple.');
  return notes;
};

/**
 * The thermometer's offset from witness cones. Flat belief before, within ±120 °C: what else is known of the kiln is for
 * learning to join with it.
 * @throws AfterfireError `bad-input` for no cones, or a cone that is not on the chart
 */
export const witnessOffset = (seen: readonly WitnessCone[], heat: TemperatureHistory): WitnessFinding => {
  if (seen.length === 0) throw badInput('cones', '[]', 'at least one witness cone');
  const rate = lastRate_C_h(heat);
  const outside = rate < CHART_RATES_C_h[0] || rate > CHART_RATES_C_h[1];
  const told = seen.map((s, i) => {
    const law = CONE_LAWS.find((l) => l.cone === s.cone);
    if (!law)
      throw badInput(
        `cones[${i}].cone`,
        s.cone,
        `a cone of the chart: ${CONE_LAWS.map((l) => l.cone).join(', ')}`,
      );
    return toldBy(s, law, heat, outside ? LAW_SD_OUTSIDE_K : LAW_SD_K);
  });
  const contradictions = [...inverted(seen), ...oddOnes(told)];
  const low = told.filter((t) => t.kind !== 'standing');
  const high = told.filter((t) => t.kind !== 'down');
  const kind =
    inverted(seen).length > 0
      ? 'contradictory'
      : high.length === 0
        ? 'at least'
        : low.length === 0
          ? 'at most'
          : 'found';
  const { mean, sd } = spreadOf(told);
  const bound =
    kind === 'at least' ? Math.max(...told.map((t) => t.hotter_K)) : Math.min(...told.map((t) => t.hotter_K));
  const hotter_K = kind === 'found' || kind === 'contradictory' ? mean : bound;
  const plusMinus80_K = kind === 'found' ? DEVIATIONS_80 * sd : undefined;
  return {
    cones: told,
    kind,
    hotter_K,
    plusMinus80_K,
    text: worded(kind, hotter_K, plusMinus80_K),
    contradictions,
    notes: notesFor(rate, heat),
  };
};
