import type { TemperatureHistory } from '../clay/temperature-history.ts';
import { bendOf, CONE_LAWS, workOf } from './cone-law.ts';
import type { Standing } from './cones.ts';

export interface ConeSeen {
  readonly cone: string;
  /** 0 upright, 1 fully down. */
  readonly bend: number;
  /** Heat-work against what brings this cone down; goes on past 1. */
  readonly work: number;
  /** How well the chart values behind it are known. */
  readonly standing: Standing;
}

export interface HeatWork {
  /** What a row of every cone would look like after this heat, softest first. */
  readonly cones: readonly ConeSeen[];
  /** The hardest cone that is down with all softer ones, or undefined. */
  readonly reached: string | undefined;
  /** In the words of the trade, e.g. `cone 9, three quarters to cone 10`. */
  readonly text: string;
  /** How good that reading is, to show with it. */
  readonly how: string;
}

/** Measured against the chart in heat-work.test.ts. */
const HOW_GOOD =
  "by rate laws read off the cone maker's chart at 60 and 150 °C/h: within about 1 °C of it between those rates, about 7 °C (a third of a cone near cone 10) in much slower firing or long holds";

/** Half cones are made but seldom set; the trade speaks in whole ones. */
const isWhole = ({ cone }: { readonly cone: string }): boolean => !cone.includes('.');

const QUARTERS = ['', 'a quarter', 'half way', 'three quarters', 'nearly'] as const;

const inWords = (down: ConeSeen | undefined, next: ConeSeen | undefined): string => {
  const quarter = QUARTERS[Math.round(4 * (next?.bend ?? 0))]!;
  if (next === undefined) return `beyond cone ${down!.cone}, the hardest on the chart`;
  if (down === undefined) {
    return quarter === ''
      ? `below cone ${next.cone}, the softest on the chart`
      : `below cone ${next.cone}, the softest on the chart, but ${quarter} to it`;
  }
  if (quarter === 'nearly') return `cone ${down.cone}, nearly cone ${next.cone}`;
  return quarter === '' ? `cone ${down.cone}` : `cone ${down.cone}, ${quarter} to cone ${next.cone}`;
};

/** What a heat did, steady or not, holds and cooling included, read as cones (see cone-law.ts for how good it is). */
export const heatWork = (history: TemperatureHistory): HeatWork => {
  const cones = CONE_LAWS.map((law): ConeSeen => {
    const work = workOf(law, history);
    return { cone: law.cone, bend: bendOf(work), work, standing: law.chart.standing };
  });
  const whole = cones.filter(isWhole);
  const firstUp = whole.findIndex((c) => c.work < 1);
  const down = firstUp < 0 ? whole.at(-1) : whole[firstUp - 1];
  const next = firstUp < 0 ? undefined : whole[firstUp];
  const remembered = [down, next].some((c) => c?.standing === 'memory');
  const how = remembered ? `${HOW_GOOD}; a chart value used here is from memory, unverified` : HOW_GOOD;
  return { cones, reached: down?.cone, text: inWords(down, next), how };
};
