import type { Clay } from '../clay.ts';
import { disagreements } from '../consistency.ts';
import type { Mean } from './mean-of.ts';

/** A clay with values of its own bars in place of guesses. */

export interface BulkMeasures {
  readonly drying_percent?: Mean | undefined;
  readonly firing_percent?: Mean | undefined;
  readonly bulkDensity_kg_m3?: Mean | undefined;
  readonly openPorosity_percent?: Mean | undefined;
  /** When, and on what: goes into each note. */
  readonly note: string;
}

export interface MeasuredClay {
  readonly clay: Clay;
  readonly changed: readonly string[];
  /** What still does not go together, in the words of the clay file's own check; the clay is not usable until it does. */
  readonly disagreements: readonly string[];
}

const figures = (x: number, digits: number): number => Number(x.toFixed(digits));

/** A guess gives way to what measured values lead to, and stays a guess. */
const followed = (clay: Clay): { clay: Clay; changed: string[] } => {
  let now = clay;
  const changed: string[] = [];
  if (now.boneDryDensity.how === 'guess') {
    const dry =
      (now.firedDensity.value_kg_m3 * (1 - now.firingShrinkage.value_percent / 100) ** 3) /
      (1 - now.lossOnIgnition.value_percent / 100);
    const value_kg_m3 = Math.round(dry);
    if (Math.abs(value_kg_m3 / now.boneDryDensity.value_kg_m3 - 1) > 0.002) {
      changed.push(
        `Bone-dry density: ${value_kg_m3} kg/m³ follows (a guess still); it was ${now.boneDryDensity.value_kg_m3}.`,
      );
      now = {
        ...now,
        boneDryDensity: {
          value_kg_m3,
          how: 'guess',
          note: 'follows from fired density, firing shrinkage and loss on ignition',
        },
      };
    }
  }
  if (now.throwingMoisture.how === 'guess' && now.wetDensity === undefined) {
    const wet = now.boneDryDensity.value_kg_m3 * (1 - now.dryingShrinkage.value_percent / 100) ** 3;
    const value_percent = figures(1e5 * (1 / wet - 1 / now.solidDensity.value_kg_m3), 1);
    if (
      value_percent > 0 &&
      value_percent <= 60 &&
      Math.abs(value_percent - now.throwingMoisture.value_percent) > 0.1
    ) {
      changed.push(
        `Throwing moisture: ${value_percent} % follows (a guess still); it was ${now.throwingMoisture.value_percent}.`,
      );
      now = {
        ...now,
        throwingMoisture: {
          value_percent,
          how: 'guess',
          note: 'follows from bone-dry density and drying shrinkage',
        },
      };
    }
  }
  return { clay: now, changed };
};

/** The clay given stays as it is. */
export const measuredClay = (before: Clay, m: BulkMeasures): MeasuredClay => {
  const changed: string[] = [];
  const put = (
    name: string,
    mean: Mean,
    unit: string,
    was: { value: number; how: string },
    digits: number,
  ): string => {
    const half = (mean.high - mean.low) / 2;
    changed.push(
      `${name}: ${mean.value.toFixed(digits)} ± ${half.toFixed(digits)} ${unit}; it was ${was.value} (${was.how}).`,
    );
    return `${m.note}; ±${half.toFixed(digits)} four times in five`;
  };
  let clay = before;
  if (m.drying_percent) {
    const { value_percent: value, how } = before.dryingShrinkage;
    const note = put('Drying shrinkage', m.drying_percent, '%', { value, how }, 2);
    clay = {
      ...clay,
      dryingShrinkage: { value_percent: figures(m.drying_percent.value, 2), how: 'measured', note },
    };
  }
  if (m.firing_percent) {
    const { value_percent: value, how } = before.firingShrinkage;
    const note = put('Firing shrinkage', m.firing_percent, '%', { value, how }, 2);
    clay = {
      ...clay,
      firingShrinkage: {
        value_percent: figures(Math.max(0, m.firing_percent.value), 2),
        how: 'measured',
        note,
      },
    };
  }
  if (m.bulkDensity_kg_m3) {
    const { value_kg_m3: value, how } = before.firedDensity;
    const note = put('Fired density', m.bulkDensity_kg_m3, 'kg/m³', { value, how }, 0);
    clay = {
      ...clay,
      firedDensity: { value_kg_m3: Math.round(m.bulkDensity_kg_m3.value), how: 'measured', note },
    };
  }
  if (m.openPorosity_percent) {
    const { value_percent: value, how } = before.openPorosityFired;
    const note = put('Open pores', m.openPorosity_percent, '%', { value, how }, 2);
    clay = {
      ...clay,
      openPorosityFired: {
        value_percent: figures(Math.max(0, m.openPorosity_percent.value), 2),
        how: 'measured',
        note,
      },
    };
  }
  const then = changed.length > 0 ? followed(clay) : { clay, changed: [] };
  return {
    clay: then.clay,
    changed: [...changed, ...then.changed],
    disagreements: disagreements(then.clay).map((f) => `${f.field} is ${f.value}, expected ${f.expected}`),
  };
};
