import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import { triangleAreas } from '../../../kernel/shell/geometry.ts';
import { ofCorners, skinShareOf, wallAtNodes } from '../../../kernel/shell/soft-shape.ts';
import { clayHistory } from '../../clay/clay-history.ts';
import type { Form } from '../../form/form.ts';
import { type FormMesh, meshForm } from '../../form/mesh-form.ts';
import type { Aim } from '../aim/aim-contract.ts';
import { type FireWay, throughFire, wallsOf } from '../aim/fired-way.ts';
import { gapsOf, liesOf, pinsFor, spotsOf } from '../aim/lying.ts';
import { fire } from '../fire.ts';
import type { Firing, FiringInput, Verdict } from '../firing.ts';
import { dryScaleOf, heatOf } from '../placed.ts';
import { setDown } from '../set-down.ts';
import type { MakeableProgress } from './makeable-contract.ts';

/** A made form through the fire. */
export interface MadeFired {
  /** Upright as drawn, bone dry. */
  readonly mesh: FormMesh;
  /** Where its axes point in the kiln (see SetDown). */
  readonly turn: ArrayLike<number>;
  /** As it lies in the kiln, true size; undefined where it does not come through. */
  readonly positions?: Float64Array;
  readonly thickness_m?: Float64Array;
  /** 1 a node pressed to the shelf on its side. */
  readonly lies: Uint8Array;
  /** Why it does not come through. */
  readonly gone?: string;
  /** On its side: how far it would roll from how the wanted piece lies if nothing held it, rad. */
  readonly rolls_rad: number;
  /** Left out on its side, where wads hold it. */
  readonly firing?: Firing;
}

export interface MadePlan {
  readonly aim: Aim;
  readonly form: Form;
  readonly triangles: number;
  /** The clay of the aim, or a softer or stiffer one. */
  readonly clay?: FiringInput['clay'];
}

/** Verdicts after which there is no piece to compare. */
const GONE: readonly Verdict['kind'][] = ['falls-over', 'keeps-falling', 'wall-on-wall', 'rim-on-shelf'];
const QUICK_STEPS = 4;

export function* fireMade(plan: MadePlan, engine?: MakeEngine): Generator<MakeableProgress, MadeFired, void> {
  return plan.aim.input.setting.attitude === 'on its side'
    ? yield* fireWadded(plan, engine)
    : yield* fireFree(plan, engine);
}

function* fireFree(
  { aim, form, triangles, clay = aim.input.clay }: MadePlan,
  engine?: MakeEngine,
): Generator<MakeableProgress, MadeFired, void> {
  const run = fire({ ...aim.input, form, clay, triangles }, engine);
  for (let r = run.next(); ; r = run.next()) {
    if (!r.done) {
      yield r.value;
      continue;
    }
    const firing = r.value;
    const mesh = meshForm(form, { triangles, scale: dryScaleOf({ form, clay }) });
    const lies = new Uint8Array(mesh.along.length);
    const base = { mesh, turn: firing.asSet.turn, lies, rolls_rad: 0, firing };
    if (GONE.includes(firing.verdict.kind)) return { ...base, gone: firing.verdict.text };
    const { positions, thickness_m } = firing.frames[firing.frames.length - 1];
    return { ...base, positions, thickness_m };
  }
}

/** The piece lies as the wanted one does, lowered or lifted to the shelf. */
const laidDown = (mesh: FormMesh, turn: ArrayLike<number>): Float64Array => {
  const out = new Float64Array(mesh.positions.length);
  for (let i = 0; i < out.length; i += 3)
    for (let k = 0; k < 3; k++)
      for (let c = 0; c < 3; c++) out[i + k] += turn[3 * c + k] * mesh.positions[i + c];
  return out;
};

/** Angle of the drawing that looks down to the shelf, rad. */
export const downOfTurn = (turn: ArrayLike<number>): number => Math.atan2(-turn[5], -turn[2]);

const rollOf = (mesh: FormMesh, aim: Aim): number => {
  const down = downOfTurn(aim.place.turn);
  const turn_deg = (down * 180) / Math.PI;
  const free = setDown(mesh, { ...aim.input.setting, turn_deg });
  const by = downOfTurn(free.turn) - down;
  return Math.abs(by - 2 * Math.PI * Math.round(by / (2 * Math.PI)));
};

/** On its side, held from rolling by a wad on either side, as the aim takes it. */
function* fireWadded(
  { aim, form, triangles, clay = aim.input.clay }: MadePlan,
  engine?: MakeEngine,
): Generator<MakeableProgress, MadeFired, void> {
  const history = clayHistory(clay, heatOf(aim.input));
  const mesh = meshForm(form, { triangles, scale: dryScaleOf({ form, clay }) });
  const { turn } = aim.place;
  const start = laidDown(mesh, turn);
  const areas = new Float64Array(mesh.triangles.length / 3);
  triangleAreas(start, mesh.triangles, areas);
  const corner = ofCorners(mesh.triangles, mesh.thickness_m);
  const walls = {
    triangles: mesh.triangles,
    volume_m3: areas.map((a, t) => a * corner[t]),
    skinShare: skinShareOf(mesh.thickness_m, start, mesh.triangles),
  };
  const positions = onTheShelf(walls, start);
  const way: FireWay = {
    ...walls,
    asSet: positions,
    clay,
    history,
    setting: aim.input.setting,
    pins: pinsFor(positions, liesOf(walls, positions)),
    clockEnd: history.creepClockUnshrunk[history.creepClockUnshrunk.length - 1],
    options: aim.input.care === 'quick' ? { steps: QUICK_STEPS } : {},
    engine,
  };
  const run = throughFire(way, positions);
  try {
    for (let r = run.next(); ; r = run.next()) {
      if (!r.done) {
        yield { fraction: Math.min(1, r.value.time_s / way.clockEnd), note: 'through the fire' };
        continue;
      }
      const went = r.value;
      const base = { mesh, turn, rolls_rad: rollOf(mesh, aim) };
      if (!went.whole)
        return {
          ...base,
          lies: new Uint8Array(mesh.along.length),
          gone: 'It collapses before the fire is out.',
        };
      const scale = history.linearScale[history.linearScale.length - 1];
      const wall = {
        positions: went.positions,
        thickness_m: wallsOf(walls, went.positions),
        skinShare: walls.skinShare,
      };
      return {
        ...base,
        lies: spotsOf(walls, went.positions, went.resting),
        positions: went.positions.map((x) => scale * x),
        thickness_m: wallAtNodes(wall, mesh.triangles).map((h) => scale * h),
      };
    }
  } finally {
    run.return(undefined as never);
  }
}

/** Lowest skin to the shelf. */
const onTheShelf = (walls: Parameters<typeof gapsOf>[0], positions: Float64Array): Float64Array => {
  let low = Number.POSITIVE_INFINITY;
  for (let i = 2; i < positions.length; i += 3) low = Math.min(low, positions[i]);
  const high = positions.map((x, i) => (i % 3 === 2 ? x - low : x));
  const gaps = gapsOf(walls, high);
  const least = gaps.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  return high.map((x, i) => (i % 3 === 2 ? x - least : x));
};
