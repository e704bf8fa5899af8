import type { Clay } from './clay.ts';

/**
 * Shrinkage arithmetic: each shrinkage is a share of the length before it (ASTM C326: drying on the plastic
 * length, firing on the dry length), so lengths multiply and shrinkages never add. Fractions, not per cent.
 */

/** One linear shrinkage for two that follow each other: 0.06 then 0.08 is 0.1352. */
export const combinedShrinkage = (first: number, second: number): number => 1 - (1 - first) * (1 - second);

/** The firing shrinkage that, after this drying shrinkage, makes up this total: the inverse of combining. */
export const secondShrinkage = (total: number, first: number): number => 1 - (1 - total) / (1 - first);

/** Loss of volume for a linear shrinkage that is the same in every direction. */
export const volumeShrinkage = (linear: number): number => 1 - (1 - linear) ** 3;

/** The linear shrinkage behind a loss of volume. */
export const linearFromVolumeShrinkage = (volume: number): number => 1 - Math.cbrt(1 - volume);

export type State = 'wet' | 'dry' | 'fired';

/** Length of what was 1 long as thrown: wet 1, bone dry, fully fired. */
export const lengthIn = (clay: Clay, state: State): number => {
  if (state === 'wet') return 1;
  const dry = 1 - clay.dryingShrinkage.value_percent / 100;
  return state === 'dry' ? dry : dry * (1 - clay.firingShrinkage.value_percent / 100);
};

/** What to multiply a length by to carry it from one state of the clay to another, either way. */
export const scaleBetween = (clay: Clay, from: State, to: State): number =>
  lengthIn(clay, to) / lengthIn(clay, from);

/** What to multiply a weight by: water goes in drying, the loss on ignition in the fire. */
export const massBetween = (clay: Clay, from: State, to: State): number =>
  massIn(clay, to) / massIn(clay, from);

const massIn = (clay: Clay, state: State): number => {
  if (state === 'wet') return 1 + clay.throwingMoisture.value_percent / 100;
  return state === 'dry' ? 1 : 1 - clay.lossOnIgnition.value_percent / 100;
};
