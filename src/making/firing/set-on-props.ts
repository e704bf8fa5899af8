import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { type Footing, footingOf } from './footing.ts';
import { distanceAt, distanceInDryLengths } from './props/obstacles.ts';
import type { Distance } from './props/prop.ts';
import { type Prop, shapeOf } from './props/table.ts';
import { turnTo } from './rigid.ts';
import type { SetDown } from './set-down.ts';
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
  /** How far its axis turned while it settled. */
  readonly leant_rad: number;
  /** Direction from x in which it went while it settled, and in which a nudge sends it, rad; undefined: it stands a nudge. */
  readonly wentTo_rad: number;
  readonly tipsTo_rad: number | undefined;
  /** How deep it lies in each prop, m. */
  readonly depths_m: readonly number[];
  readonly footing: Footing;
  /** Leaning: least lean at which its weight passes over the edge of its foot, rad; else 0. */
  readonly rightsItself_rad: number;
  /** Friction that would hold it where it was set, where more than there is would; undefined: none would, or it stands. */
  readonly enoughFriction: number | undefined;
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

/** Nothing in a kiln is smoother than this (a guess); without any friction a piece on props knows no rest. */
export const LEAST_FRICTION = 0.05;

/** How what it stands on holds a piece; undefined: as `shelf` says, there being no props. */
export const frictionOf = ({ friction, props }: Setting): number | undefined =>
  props.length > 0 ? Math.max(LEAST_FRICTION, friction ?? USUAL_FRICTION) : friction;

/** A piece that leans over by itself this far when set down was not standing as asked. */
export const LEANS_rad = 0.35;
/** On its side it may come to lie this much more aslant than level. */
const ASLANT_rad = 0.6;
const MOST_MOVES = 300;
/** Sinking by more than this part of half its size it has left what it was set on. */
const FALLS = 0.6;
/** Deeper in a prop than this, m, a piece is pierced; what begins so has this many moves to come clear. */
export const PIERCED_m = 1e-4;
const WEDGED_MOVES = 30;
/**
 * A nudge shifts the weight by this part of half the size, and by this part of the sides of its triangles, since contact
 * at nodes alone lets a round prop nestle between them; it tips a piece whose axis then turns this far.
 */
const NUDGE = 0.02;
const NUDGE_SIDES = 0.5;
const NUDGES = 8;
const NUDGE_MOVES = 40;
const NUDGED_rad = 0.12;
const LYING_SINKS = 0.05;
/** A leaning piece may roll on its foot's edge to lean a little to one side. */
const NUDGED_LEANING_rad = 0.25;

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
    const pierced = depthsOf(body, [shelf, distances[i]])[1] > 0;
    if (setting.attitude === 'leaning' || pierced) slideTo(body, distances[i], towards);
  });
};

/** Mean over the triangles of their longest side, m. */
const longestSides = ({ positions: p, triangles: t }: WallMesh): number => {
  let sum = 0;
  for (let i = 0; i < t.length; i += 3)
    sum += Math.max(
      ...[0, 1, 2].map((k) => {
        const [a, b] = [3 * t[i + k], 3 * t[i + ((k + 1) % 3)]];
        return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
      }),
    );
  return (3 * sum) / t.length;
};

/** Which way it went: lying, the end that sank; else the way its weight moved. */
const wentTo = (before: Body, after: Body, setting: Setting): number => {
  const rose = after.turn[8] - before.turn[8];
  if (setting.attitude === 'on its side' && Math.abs(rose) > LYING_SINKS) return rose < 0 ? 0 : Math.PI;
  return Math.atan2(after.centre[1] - before.centre[1], after.centre[0] - before.centre[0]);
};

const nudged = (
  setting: Setting,
  body: Body,
  supports: readonly Distance[],
  wish: SettleWish,
  nudge_m: number,
  mostLean_rad: number,
): number | undefined => {
  const axis = [body.turn[6], body.turn[7], body.turn[8]] as const;
  for (let k = 0; k < NUDGES; k++) {
    const angle = (2 * Math.PI * k) / NUDGES;
    const trial = copyOf(body);
    trial.centre[0] += nudge_m * Math.cos(angle);
    trial.centre[1] += nudge_m * Math.sin(angle);
    // Rolling in a cradle lets shifted weight sink by as much as it was shifted; what sinks further goes off.
    const given = {
      ...wish,
      axis,
      mostLean_rad,
      mostMoves: NUDGE_MOVES,
      mostWay_m: body.size_m,
      mostDrop_m: 2 * nudge_m,
    };
    const { kind } = settle(trial, supports, given);
    if (kind === 'tips' || kind === 'falls') return wentTo(body, trial, setting);
  }
  return undefined;
};

/** A piece stands upright by itself up to the lean at which its weight is over its foot's edge: atan(reach / height). */
const rightsItself = (wall: WallMesh, setting: Setting): number => {
  const body = bodyOf(wall);
  for (const part of [body.positions, body.normals, body.centre]) turnTo(part, { ...setting, lean_deg: 0 });
  lower(body, [shelf], 0.01);
  const reach = touchesOf(body, [shelf], TOUCHING_m).reduce((most, t) => Math.max(most, t.arm[0]), 0);
  return Math.atan2(reach, body.centre[2]);
};

/** Least friction at which it stays where it was set, if any would do. */
const enoughFriction = (asSet: Body, supports: readonly Distance[], wish: SettleWish): number | undefined => {
  const stays = (friction: number): boolean =>
    settle(copyOf(asSet), supports, { ...wish, friction, mostMoves: 0 }).kind === 'rests';
  let [low, high] = [wish.friction, MOST_FRICTION];
  if (!stays(high)) return undefined;
  while (high - low > 0.005) {
    const middle = (low + high) / 2;
    if (stays(middle)) high = middle;
    else low = middle;
  }
  return high;
};
/** Steeper than this nothing in a kiln holds. */
const MOST_FRICTION = 1.5;

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
    mostDrop_m: FALLS * body.size_m,
    mostMoves: MOST_MOVES,
  };
  const leaning = setting.attitude === 'leaning';
  const asSet = copyOf(body);
  const wedged = Math.max(...depthsOf(body, supports)) > PIERCED_m;
  const settled = settle(body, supports, wedged ? { ...wish, mostMoves: WEDGED_MOVES } : wish);
  const depths = depthsOf(body, supports).slice(1);
  const stuck = Math.max(...depths) > PIERCED_m;
  const nudge_m = Math.max(NUDGE * body.size_m, NUDGE_SIDES * longestSides(wall));
  const touching = touchesOf(body, supports, TOUCHING_m).map(
    (t) => [centre[0] + t.arm[0], centre[1] + t.arm[1]] as const,
  );
  return {
    body,
    settled,
    weightAt_m: [x, y],
    wentTo_rad: wentTo(asSet, body, setting),
    leant_rad: leanOf(body, axis),
    tipsTo_rad:
      settled.kind === 'rests' && !stuck
        ? nudged(setting, body, supports, wish, nudge_m, leaning ? NUDGED_LEANING_rad : NUDGED_rad)
        : undefined,
    depths_m: depths,
    footing: footingOf(touching.length > 0 ? touching : [[centre[0], centre[1]]], centre[0], centre[1]),
    rightsItself_rad: leaning ? rightsItself(wall, setting) : 0,
    enoughFriction: settled.kind === 'rests' || stuck ? undefined : enoughFriction(asSet, supports, wish),
  };
};

/**
 * How the piece would rest at the end of the fire if it shrank and did not soften, in bone-dry lengths: kiln furniture,
 * which does not shrink, has grown under it. What it moved beyond this is sag.
 */
const shrunkOnly = (on: SetOnProps, setting: Setting, scale: number): Float64Array => {
  const body = copyOf(on.body);
  const supports = [shelf, ...setting.props.map((p) => distanceInDryLengths(p, [0, 0], scale))];
  const carriers = supports.filter((_, i) => i === 0 || setting.props[i - 1].kind !== 'wall');
  shiftBody(body, 0, 0, Math.max(...depthsOf(body, carriers)));
  settle(body, supports, {
    friction: frictionOf(setting) ?? 0,
    axis: [body.turn[6], body.turn[7], body.turn[8]],
    mostLean_rad: LEANS_rad,
    mostWay_m: body.size_m,
    mostDrop_m: FALLS * body.size_m,
    mostMoves: MOST_MOVES,
  });
  return body.positions.slice(0, 3 * body.nodes);
};

/** The same as a plain setting-down, its weight over the origin. */
export const downOf = (on: SetOnProps, setting: Setting, endScale: number): SetDown => {
  const { body, settled, leant_rad, footing } = on;
  const [x, y] = body.centre;
  const shrunk = shrunkOnly(on, setting, endScale);
  const own = body.positions.slice(0, 3 * body.nodes);
  for (const p of [own, shrunk])
    for (let i = 0; i < p.length; i += 3) {
      p[i] -= x;
      p[i + 1] -= y;
    }
  return {
    positions: own,
    shrunkOnly: shrunk,
    turned_rad: leant_rad,
    rolled_rad: 0,
    footing_m: Math.max(0, footing.margin),
    steady: settled.kind === 'rests',
    turn: body.turn,
    origin_m: [-x, -y],
  };
};
