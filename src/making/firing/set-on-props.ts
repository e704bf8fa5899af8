import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { type Footing, footingOf } from './footing.ts';
import { distanceAt } from './props/obstacles.ts';
import type { Distance } from './props/prop.ts';
import { type Prop, shapeOf } from './props/table.ts';
import { turnTo } from './rigid.ts';
import type { Setting } from './setting.ts';
import { type Body, bodyOf, copyOf, depthsOf, shiftBody, touchesOf } from './settle/body.ts';
import { lower, slideTo } from './settle/placing.ts';
import { leanOf, type Settled, type SettleWish, settle, TOUCHING_m } from './settle/settle.ts';

/**
 * Sets a piece down on shelf and props as a hand would: turned to its attitude over the props' origin, lowered until it
 * touches, pushed up to what it leans on, let go gently. Where it rests it is nudged all round; what tips by a nudge
 * does not stand.
 */
export interface SetOnProps {
  readonly body: Body;
  readonly settled: Settled;
  /** Where its weight stood when it was let go, from the props' origin, m. */
  readonly weightAt_m: readonly [number, number];
  /** Way its weight moved level and its axis turned while it settled. */
  readonly wandered_m: readonly [number, number];
  readonly leant_rad: number;
  /** Direction from x in which a nudge tips it, rad; undefined where it stands a nudge. */
  readonly tipsTo_rad: number | undefined;
  /** How deep it lies in each prop, m. */
  readonly depths_m: readonly number[];
  readonly footing: Footing;
}

export const shelf: Distance = (_x, _y, z, out) => {
  out[0] = 0;
  out[1] = 0;
  out[2] = 1;
  out[3] = z;
};

/**
 * Dry clay on kiln furniture slides on a slope of about this: a guess, and a cautious one (dry unglazed ceramics on
 * one another are mostly given as 0.4 to 0.6; from memory, no source).
 */
export const USUAL_FRICTION = 0.4;

/** How what it stands on holds a piece; undefined: as `shelf` says, there being no props. */
export const frictionOf = (setting: Setting): number | undefined =>
  setting.friction ?? (setting.props.length > 0 ? USUAL_FRICTION : undefined);

/** A piece that leans over by itself this far when set down was not standing as asked. */
export const LEANS_rad = 0.35;
/** On its side it may come to lie this much more aslant than level. */
const ASLANT_rad = 0.6;
const MOST_MOVES = 600;
/** A nudge shifts the weight by this part of half the size, and tips a piece where its axis then turns this far. */
const NUDGE = 0.02;
const NUDGES = 8;
const NUDGE_MOVES = 60;
const NUDGED_rad = 0.12;

/** What a piece leans on rather than stands on. */
const isLeantOn = (prop: Prop, setting: Setting, weightHeight_m: number): boolean =>
  prop.kind === 'wall' || (setting.attitude === 'leaning' && shapeOf(prop).top_m(prop) > weightHeight_m);

/** Over the props' origin: lying, the middle of its length; else its foot or rim as meshed. */
const centreOver = (body: Body, setting: Setting): void => {
  if (setting.attitude !== 'on its side') return;
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < body.positions.length; i += 3) {
    low = Math.min(low, body.positions[i]);
    high = Math.max(high, body.positions[i]);
  }
  shiftBody(body, -(low + high) / 2, 0, 0);
};

const bring = (body: Body, setting: Setting, distances: readonly Distance[]): void => {
  const { props } = setting;
  const tops = props.map((p) => shapeOf(p).top_m(p));
  const above = Math.max(0, ...tops.filter(Number.isFinite)) + 0.01;
  const weightHeight = Math.abs(body.centre[2]);
  const leantOn = props.map((p) => isLeantOn(p, setting, weightHeight));
  lower(body, [shelf, ...distances.filter((_, i) => !leantOn[i])], above);
  props.forEach((prop, i) => {
    if (!leantOn[i]) return;
    const towards = prop.kind === 'wall' ? (prop.towards_deg * Math.PI) / 180 : 0;
    const pierced = depthsOf(body, [distances[i]])[0] > 0;
    if (setting.attitude === 'leaning' || pierced) slideTo(body, distances[i], towards);
  });
};

const nudged = (body: Body, supports: readonly Distance[], wish: SettleWish): number | undefined => {
  const axis = [body.turn[6], body.turn[7], body.turn[8]] as const;
  for (let k = 0; k < NUDGES; k++) {
    const angle = (2 * Math.PI * k) / NUDGES;
    const trial = copyOf(body);
    trial.centre[0] += NUDGE * body.size_m * Math.cos(angle);
    trial.centre[1] += NUDGE * body.size_m * Math.sin(angle);
    const given = { ...wish, axis, mostLean_rad: NUDGED_rad, mostMoves: NUDGE_MOVES, mostWay_m: body.size_m };
    if (settle(trial, supports, given).kind === 'tips') return angle;
  }
  return undefined;
};

/** Sets a piece down on shelf and props; `wall` stands upright as meshed, foot at the bottom. */
export const setOnProps = (wall: WallMesh, setting: Setting): SetOnProps => {
  const body = bodyOf(wall);
  const { positions, normals, centre, turn } = body;
  for (const part of [positions, normals, centre, turn]) turnTo(part, setting);
  centreOver(body, setting);
  const distances = setting.props.map((p) => distanceAt(p, [0, 0]));
  const supports = [shelf, ...distances];
  bring(body, setting, distances);
  const axis = [turn[6], turn[7], turn[8]] as const;
  const [x, y] = centre;
  const wish: SettleWish = {
    friction: frictionOf(setting) ?? 0,
    axis,
    mostLean_rad: setting.attitude === 'on its side' ? ASLANT_rad : LEANS_rad,
    mostWay_m: 1.5 * body.size_m,
    mostMoves: MOST_MOVES,
  };
  const settled = settle(body, supports, wish);
  const touching = touchesOf(body, supports, TOUCHING_m).map(
    (t) => [centre[0] + t.arm[0], centre[1] + t.arm[1]] as const,
  );
  return {
    body,
    settled,
    weightAt_m: [x, y],
    wandered_m: [centre[0] - x, centre[1] - y],
    leant_rad: leanOf(body, axis),
    tipsTo_rad: settled.kind === 'rests' ? nudged(body, supports, wish) : undefined,
    depths_m: depthsOf(body, distances),
    footing: footingOf(touching.length > 0 ? touching : [[centre[0], centre[1]]], centre[0], centre[1]),
  };
};
