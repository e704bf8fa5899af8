import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import type { ClayHistory } from '../clay/clay-history.ts';
import { distanceInDryLengths } from './props/obstacles.ts';
import { shelf } from './set-on-props.ts';
import { bodyOf } from './settle/body.ts';
import { settle } from './settle/settle.ts';
import { type Standing, scaleAtClock } from './standing.ts';

/**
 * A piece on props that is suddenly let go: as it shrinks it rubs along them, and what rubs one way holds nothing in the
 * others, so now and then it slips. That is over in a moment against the hours of the fire: it moves as a rigid body, without
 * friction, to where its weight lies lowest nearby, and goes on creeping there.
 */

/** A slip turns the piece by no more than this, rad, and moves it by no more than this part of half its size. */
const TURNS_rad = 0.15;
const GOES = 0.3;
const MOST_MOVES = 200;

/**
 * @param wall as it is now, bone-dry lengths
 * @returns where it comes to rest; undefined: it does not, and really falls
 */
export const slipped = (
  wall: WallMesh,
  standing: Standing,
  history: ClayHistory,
  clock: number,
): Float64Array | undefined => {
  const body = bodyOf(wall);
  const scale = scaleAtClock(history, clock);
  const supports = [shelf, ...standing.props.map((p) => distanceInDryLengths(p, standing.origin_m, scale))];
  const { kind } = settle(body, supports, {
    friction: 0,
    axis: [0, 0, 1],
    mostLean_rad: TURNS_rad,
    mostWay_m: GOES * body.size_m,
    mostDrop_m: GOES * body.size_m,
    mostMoves: MOST_MOVES,
  });
  return kind === 'rests' ? body.positions.slice(0, 3 * body.nodes) : undefined;
};
