import type { Clay } from '../clay/clay.ts';
import type { TemperatureHistory } from '../clay/temperature-history.ts';
import { KILN_OFF_CONES, unknownsOf } from '../firing/ensemble.ts';
import { coneStep_K } from '../kiln/cone-step.ts';
import type { Belief, KilnBelief } from './belief.ts';
import { DEVIATIONS_80 } from './expected.ts';
import type { LearningLog } from './learning-log.ts';

/** What is believed before anything was learned: what the clay file and the firing's own intervals say. */

/**
 * Pieces of one form and clay differ in softness by about this share, sd: a wall 6 % off (a quarter of a millimetre in
 * four) sags 12 % more, bending going as 1/h² under a weight that goes as h. A guess, and one of the things learned.
 */
const WALL_SCATTER = 0.12;
const WALL_SCATTER_SD = 0.5;

/** A kiln nobody has spoken of: off by half a cone near cone 10, four times in five (a guess). */
export const unknownKiln = (name: string): KilnBelief => ({
  name,
  mean_K: 0,
  sd_K: (KILN_OFF_CONES * coneStep_K('10')) / DEVIATIONS_80,
  withSoftness: 0,
});

const startBelief = (clay: Clay, heat: TemperatureHistory): Belief => {
  const unknown = unknownsOf(clay, heat);
  return {
    softness: { mean: 0, sd: Math.log(unknown.softness) / DEVIATIONS_80 },
    size: { mean: 0, sd: Math.hypot(unknown.drying, unknown.firing) / DEVIATIONS_80 },
    wall: { mean: Math.log(WALL_SCATTER), sd: WALL_SCATTER_SD },
    kilns: [],
  };
};

/** A log in which nothing has been learned yet. */
export const newLearningLog = (clay: Clay, heat: TemperatureHistory): LearningLog => {
  const { value_Pa_s, at_C, activation_kJ_mol, factor80 } = clay.sagViscosity;
  return {
    afterfire: 'learning/1',
    name: clay.name,
    clay: clay.name,
    reference: { value_Pa_s, at_C, activation_kJ_mol, factor80 },
    start: startBelief(clay, heat),
    entries: [],
  };
};
