import { valueAt } from '../../../kernel/numerics/between.ts';
import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import {
  type CreepEnd,
  type CreepOptions,
  type CreepProblem,
  type CreepStep,
  creep,
} from '../../../kernel/shell/creep.ts';
import { triangleAreas } from '../../../kernel/shell/geometry.ts';
import { GRAVITY_m_s2 } from '../../../units.ts';
import type { Clay } from '../../clay/clay.ts';
import type { ClayHistory } from '../../clay/clay-history.ts';
import { viscosityAt } from '../hot-side.ts';
import type { Setting } from '../setting.ts';
import { softDensity } from '../soften.ts';
import { restsOnProps } from '../standing.ts';

/**
 * Through the fire and back, in bone-dry lengths. Soft clay creeps without memory, dX/dc = W(X) in the creep clock c, with W
 * linear in the load: run backward it is the same creep with the clock read from its end, gravity turned round and what lies
 * on the shelf held to it (what pressed now pulls). Every triangle keeps its volume on either way, so that where a shape
 * comes to its walls come with it.
 */
export interface FireWay {
  readonly triangles: Uint32Array;
  /** Clay of each triangle, m³ in bone-dry lengths; the same all the way. */
  readonly volume_m3: Float64Array;
  /** See skinShareOf. */
  readonly skinShare: Float64Array;
  /** Positions by which a hot side tells warmer from cooler parts. */
  readonly asSet: Float64Array;
  readonly clay: Clay;
  readonly history: ClayHistory;
  readonly setting: Setting;
  /** What keeps it from sliding and rolling, 6 × nodes; empty where nothing does. */
  readonly pins: Uint8Array;
  readonly clockEnd: number;
  readonly options?: Pick<CreepOptions, 'steps' | 'tolerance_m' | 'longest_s'>;
  readonly engine?: MakeEngine | undefined;
}

/** Where a shape came to on one way through. */
export interface Went {
  readonly positions: Float64Array;
  /** 1 a node that rests at the end. */
  readonly resting: Uint8Array;
  readonly end: CreepEnd;
  /** It went all the way. */
  readonly whole: boolean;
}

/** Wall of each triangle of a shape, m. */
export const wallsOf = (
  { triangles, volume_m3 }: Pick<FireWay, 'triangles' | 'volume_m3'>,
  positions: Float64Array,
): Float64Array => {
  const areas = new Float64Array(volume_m3.length);
  triangleAreas(positions, triangles, areas);
  return volume_m3.map((v, t) => v / areas[t]);
};

/** As in soften.ts: part of its weight that slows rolling and tipping at the speed of the wall's own flow. */
const STEADYING = 0.01;

const clayOn = (way: FireWay, positions: Float64Array) => ({
  positions,
  triangles: way.triangles,
  thickness_m: wallsOf(way, positions),
  skinShare: way.skinShare,
  density_kg_m3: softDensity(way.clay),
  duration_s: way.clockEnd,
});

const softnessOf = (way: FireWay) =>
  viscosityAt(way.setting.hotSide, { positions: way.asSet, triangles: way.triangles }, way.clay, way.history);

/** Fires a green shape as it is set; yields each step. Bone-dry lengths in and out. */
export const throughFire = (way: FireWay, green: Float64Array): Generator<CreepStep, Went, void> => {
  const { setting, history } = way;
  const standing = { props: [], origin_m: [0, 0], friction: setting.friction } as const;
  return gone(way, {
    ...clayOn(way, green),
    gravity_m_s2: GRAVITY_m_s2,
    viscosity_Pa_s: softnessOf(way),
    poissonAt: (clock) => valueAt(history.creepClockUnshrunk, history.poisson, clock),
    shelf: setting.shelf,
    ...restsOnProps(standing, history, 0),
    held: way.pins,
    selfContact: true,
    steadying: setting.attitude === 'on its side' ? STEADYING : 0,
  });
};

/**
 * Takes a fired shape back to what it was before the fire; yields each step. Bone-dry lengths in and out.
 * @param lies 1 a node that lies on the shelf; it is taken to have lain there from the start
 */
export const backThroughFire = (
  way: FireWay,
  fired: Float64Array,
  lies: Uint8Array,
): Generator<CreepStep, Went, void> => {
  const { setting, history, clockEnd } = way;
  const ahead = (clock: number): number => Math.max(0, clockEnd - clock);
  const held = new Uint8Array(6 * lies.length);
  held.set(way.pins);
  for (let n = 0; n < lies.length; n++) {
    if (!lies[n]) continue;
    held[6 * n + 2] = 1;
    if (setting.shelf === 'grips') held[6 * n] = held[6 * n + 1] = 1;
  }
  const softness = softnessOf(way);
  return gone(way, {
    ...clayOn(way, fired),
    gravity_m_s2: -GRAVITY_m_s2,
    viscosity_Pa_s: typeof softness === 'function' ? (clock) => softness(ahead(clock)) : softness,
    poissonAt: (clock) => valueAt(history.creepClockUnshrunk, history.poisson, ahead(clock)),
    shelf: 'none',
    held,
  });
};

function* gone(way: FireWay, problem: CreepProblem): Generator<CreepStep, Went, void> {
  const run = creep(problem, { ...way.options, engine: way.engine });
  let last: CreepStep | undefined;
  try {
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) {
        const { positions } = last ?? problem;
        const resting = last?.resting ?? new Uint8Array(positions.length / 3);
        return { positions, resting, end: r.value, whole: r.value.kind === 'time is up' };
      }
      last = r.value;
      yield last;
    }
  } finally {
    // Whoever stops watching lets the engine go as well.
    run.return(undefined as never);
  }
}
