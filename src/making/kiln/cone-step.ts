import { CONE_CHART } from './cones.ts';

/** Half cones stand between the others and would halve the step. */
const WHOLE = CONE_CHART.filter(({ cone }) => !cone.includes('.'));

/**
 * How many kelvin one cone is, near a cone: the mean of the steps to it and from it, end points at 60 °C/h on the
 * maker's chart. Undefined, for a heat below the chart, stands for its softest cone.
 */
export const coneStep_K = (cone: string | undefined): number => {
  const i = Math.max(
    0,
    WHOLE.findIndex((c) => c.cone === cone),
  );
  const before = Math.max(0, i - 1);
  const after = Math.min(WHOLE.length - 1, i + 1);
  return (WHOLE[after]!.at60_C - WHOLE[before]!.at60_C) / (after - before);
};
