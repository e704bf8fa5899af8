import { stretchAt, valueAt } from '../../kernel/numerics/between.ts';
import type { CreepProblem } from '../../kernel/shell/creep.ts';
import type { ClayHistory } from '../clay/clay-history.ts';
import { obstaclesOf } from './props/obstacles.ts';
import type { Prop } from './props/table.ts';
import type { SetDown } from './set-down.ts';
import { frictionOf } from './set-on-props.ts';
import type { Setting } from './setting.ts';

/** What a soft piece stands on besides the bare shelf, and how that holds it. */
export interface Standing {
  readonly props: readonly Prop[];
  /** Where the props' origin stands under the piece as set, m. */
  readonly origin_m: readonly [number, number];
  readonly friction: number | undefined;
}

export const standingOf = (setting: Setting, down: SetDown): Standing => ({
  props: setting.props,
  origin_m: down.origin_m,
  friction: frictionOf(setting),
});

/** Size against bone dry at a reading of the creep clock. */
export const scaleAtClock = (history: ClayHistory, clock: number): number =>
  valueAt(history.creepClockUnshrunk, history.linearScale, clock);

/** d ln L / d clock, Pa: how fast the piece shrinks by the clock it creeps by; 0 once the heat is over. */
export const shrinkRateAt = (history: ClayHistory, clock: number): number => {
  const { creepClockUnshrunk: c, linearScale: L } = history;
  if (clock >= c[c.length - 1]) return 0;
  const i = stretchAt(c, Math.max(0, clock));
  const dc = c[i + 1] - c[i];
  return dc > 0 ? Math.log(L[i + 1] / L[i]) / dc : 0;
};

/**
 * The part of a creep problem that says what the piece rests on, in bone-dry lengths.
 * @param from clock reading at which the problem begins
 */
export const restsOnProps = (
  standing: Standing,
  history: ClayHistory,
  from: number,
): Pick<CreepProblem, 'obstacles' | 'obstaclesShrink' | 'friction' | 'shrinkRateAt'> => ({
  ...(standing.props.length > 0 && {
    obstacles: obstaclesOf(standing.props, standing.origin_m, (clock) => scaleAtClock(history, from + clock)),
    // Rubbing by shrinking is left out on props: what rubs one way holds nothing in the others, and a piece on a few
    // points would walk off them, which pots in saddles are not known to do.
    obstaclesShrink: standing.props.map(() => true),
  }),
  ...(standing.friction !== undefined && {
    friction: standing.friction,
    shrinkRateAt: (clock: number) => shrinkRateAt(history, from + clock),
  }),
});
