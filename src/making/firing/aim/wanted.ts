import { badInput, badInputs } from '../../../error.ts';
import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import { triangleAreas } from '../../../kernel/shell/geometry.ts';
import { ofCorners, skinShareOf } from '../../../kernel/shell/soft-shape.ts';
import { type ClayHistory, clayHistory } from '../../clay/clay-history.ts';
import { scaleBetween } from '../../clay/shrinkage.ts';
import type { TemperatureHistory } from '../../clay/temperature-history.ts';
import { type FormMesh, meshForm } from '../../form/mesh-form.ts';
import { judgeHeat } from '../../kiln/judge-heat.ts';
import { heatOf } from '../placed.ts';
import { type SetDown, setDown } from '../set-down.ts';
import { LEANS_rad } from '../set-on-props.ts';
import type { Setting } from '../setting.ts';
import type { AimInput } from './aim-contract.ts';
import type { FireWay } from './fired-way.ts';
import { liesOf, pinsFor } from './lying.ts';
import type { Sought } from './passes.ts';

/** The wanted piece, shrinkage undone, as it is to lie in the kiln when the fire is out. */
export interface Wanted {
  readonly heat: TemperatureHistory;
  readonly history: ClayHistory;
  /** Upright as drawn, in bone-dry lengths. */
  readonly mesh: FormMesh;
  readonly down: SetDown;
  /** Bone-dry lengths times this are fired ones. */
  readonly firedScale: number;
}

const ATTITUDES = ['upright', 'rim down', 'on its side'] as const;

const stands = (mesh: FormMesh, setting: Setting): SetDown | undefined => {
  const down = setDown(mesh, setting);
  return down.steady && (setting.attitude === 'on its side' || down.turned_rad <= LEANS_rad)
    ? down
    : undefined;
};

const refuseProps = (setting: Setting): void => {
  if (setting.attitude === 'leaning')
    throw badInput(
      'setting.attitude',
      setting.attitude,
      'upright, rim down or on its side: the way back is not worked out for a piece that leans',
    );
  if (setting.props.length > 0)
    throw badInput(
      'setting.props',
      `${setting.props.length} of them`,
      'none: the way back is worked out on the bare shelf only',
    );
};

/**
 * @throws AfterfireError `bad-input` where the heat never melts or wholly melts this clay, the setting leans or has props, or
 *   the wanted piece cannot stand as set (and how it would)
 */
export const setWanted = (input: AimInput): Wanted => {
  const { form, clay, setting, triangles } = input;
  refuseProps(setting);
  const heat = heatOf(input);
  const faults = judgeHeat(heat, clay).filter((r) => r.severity === 'fault');
  if (faults.length > 0)
    throw badInputs(
      faults.map((f) => ({ field: f.field, value: `${f.value}. ${f.text}`, expected: f.expected })),
    );
  const history = clayHistory(clay, heat);
  const firedScale = history.linearScale[history.linearScale.length - 1];
  const fired = form.sizes === 'fired' ? 1 : scaleBetween(clay, 'wet', 'fired');
  const mesh = meshForm(form, { triangles, scale: fired / firedScale });
  const down = stands(mesh, setting);
  if (!down) {
    const works = ATTITUDES.filter((attitude) => stands(mesh, { ...setting, attitude }));
    throw badInput(
      'setting.attitude',
      setting.attitude,
      `an attitude in which the wanted piece stands by itself: ${works.join(' or ') || 'none of the three is'}`,
    );
  }
  return { heat, history, mesh, down, firedScale };
};

/** Quick: a handful of steps, as in a quick firing, and two passes. */
const QUICK_STEPS = 4;
const PASSES = { quick: 2, full: 4 } as const;
const TOLERANCE_m = { 'on its side': 3e-4, otherwise: 1e-4 } as const;

/** What is sought, and by how much of the heat-work (`share`, 1 for all). */
export const soughtFor = (w: Wanted, input: AimInput, engine?: MakeEngine, share = 1): Sought => {
  const { mesh, down, history } = w;
  const { positions } = down;
  const areas = new Float64Array(mesh.triangles.length / 3);
  triangleAreas(positions, mesh.triangles, areas);
  const wall = ofCorners(mesh.triangles, mesh.thickness_m);
  const walls = {
    triangles: mesh.triangles,
    volume_m3: areas.map((a, t) => a * wall[t]),
    skinShare: skinShareOf(mesh.thickness_m, positions, mesh.triangles),
  };
  const lies = liesOf(walls, positions);
  const onSide = input.setting.attitude === 'on its side';
  const way: FireWay = {
    ...walls,
    asSet: positions,
    clay: input.clay,
    history,
    setting: input.setting,
    pins: onSide ? pinsFor(positions, lies) : new Uint8Array(0),
    clockEnd: share * history.creepClockUnshrunk[history.creepClockUnshrunk.length - 1],
    options: input.care === 'quick' ? { steps: QUICK_STEPS } : {},
    engine,
  };
  return {
    way,
    wanted: positions,
    lies,
    free: onSide ? 'any way' : 'on the shelf',
    onSpots: onSide,
    firedScale: w.firedScale,
    tolerance_m: input.tolerance_m ?? TOLERANCE_m[onSide ? 'on its side' : 'otherwise'],
    most: PASSES[input.care],
  };
};
