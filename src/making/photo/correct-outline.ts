import { badInput } from '../../error.ts';
import type { Outline } from './find-outline.ts';
import type { Point } from './homography.ts';
import { nearestOn } from './ring.ts';

/** A pull by hand: the place of the outline nearest to `from_m` goes to `to_m`, and its neighbours follow. */
export interface Drag {
  readonly from_m: Point;
  readonly to_m: Point;
  /** How far along the outline it pulls to each side, m. */
  readonly reach_m: number;
}

const pulled = ({ points_m: p, sure }: Outline, { from_m, to_m, reach_m }: Drag): Outline => {
  const n = sure.length;
  const { side, share } = nearestOn(p, from_m[0], from_m[1]);
  const next = (side + 1) % n;
  const at = [0, 1].map((c) => p[2 * side + c] + share * (p[2 * next + c] - p[2 * side + c]));
  const by = [to_m[0] - at[0], to_m[1] - at[1]];
  const points_m = p.slice();
  const said = sure.slice();
  const pull = (i: number, along: number): void => {
    const w = Math.cos((Math.PI / 2) * Math.min(1, along / reach_m)) ** 2;
    points_m[2 * i] += w * by[0];
    points_m[2 * i + 1] += w * by[1];
    said[i] = Math.max(said[i], w);
  };
  const walk = (start: number, step: 1 | -1): void => {
    let along = Math.hypot(p[2 * start] - at[0], p[2 * start + 1] - at[1]);
    for (let k = 0, i = start; k < n >> 1 && along < reach_m; k++) {
      pull(i, along);
      const j = (i + step + n) % n;
      along += Math.hypot(p[2 * j] - p[2 * i], p[2 * j + 1] - p[2 * i + 1]);
      i = j;
    }
  };
  walk(side, -1);
  walk(next, 1);
  return { points_m, sure: said };
};

/**
 * Corrects an outline by hand, one pull after another. The outline given is left as it is: keep it beside the pulls, and
 * any of them can be taken back.
 * @throws AfterfireError `bad-input` for a pull without reach
 */
export const correctOutline = (outline: Outline, drags: readonly Drag[]): Outline =>
  drags.reduce((now, drag, i) => {
    if (!(drag.reach_m > 0)) throw badInput(`drags[${i}].reach_mm`, 1000 * drag.reach_m, 'more than 0');
    if (![...drag.from_m, ...drag.to_m].every(Number.isFinite))
      throw badInput(`drags[${i}]`, drag, 'two places, each x and z');
    return pulled(now, drag);
  }, outline);
