import { badInput, badInputs } from '../../error.ts';
import { type ClayHistory, clayHistory } from '../clay/clay-history.ts';
import { scaleBetween } from '../clay/shrinkage.ts';
import { hotterBy, type TemperatureHistory } from '../clay/temperature-history.ts';
import { type FormMesh, meshForm } from '../form/mesh-form.ts';
import { temperatureHistory } from '../kiln/schedule.ts';
import type { FiringInput } from './firing.ts';
import { type SetDown, setDown } from './set-down.ts';
import { downOf, LEANS_rad, setOnProps } from './set-on-props.ts';
import { shrinksOff } from './shrinks-off.ts';
import { NOTHING_TO_LEAN_ON, standingTrouble } from './standing-trouble.ts';
import { turnedBack } from './untwist.ts';

/** A piece as it stands in the kiln, with what the heat does to its clay: what every part of a firing reads. */
export interface Placed {
  readonly input: FiringInput;
  readonly history: ClayHistory;
  readonly mesh: FormMesh;
  readonly down: SetDown;
  /** Linear size against bone dry at the moment looked at. */
  readonly scale: number;
}

/** The heat the piece gets: the schedule, off by what is known of the kiln. */
export const heatOf = ({ schedule, known }: Pick<FiringInput, 'schedule' | 'known'>): TemperatureHistory =>
  hotterBy(temperatureHistory(schedule), known?.off_K ?? 0);

/** Linear scale from the sizes as drawn to bone dry. */
export const dryScaleOf = (input: Pick<FiringInput, 'form' | 'clay'>): number =>
  scaleBetween(input.clay, input.form.sizes === 'thrown' ? 'wet' : 'fired', 'dry');

/** @throws AfterfireError `bad-input` where props pierce it, it shrinks off a ring, or it falls, tips by a nudge or rights itself */
const setOnItsProps = (mesh: FormMesh, input: FiringInput): SetDown => {
  const { setting } = input;
  if (setting.props.length === 0) throw badInputs([NOTHING_TO_LEAN_ON]);
  const on = setOnProps(mesh, setting);
  const faults = standingTrouble(on, setting);
  if (faults.length > 0) throw badInputs(faults);
  const { linearScale } = clayHistory(input.clay, heatOf(input));
  const endScale = linearScale[linearScale.length - 1];
  const off = shrinksOff(on.body, setting, endScale);
  if (off.length > 0) throw badInputs(off);
  return downOf(on, setting, endScale);
};

/**
 * Meshes a form bone dry and sets it on the shelf.
 * @param keepCarving see MeshWish
 * @throws AfterfireError `bad-input` where it cannot stand as asked
 */
export const setOnShelf = (
  input: FiringInput,
  triangles: number,
  keepCarving = false,
): { mesh: FormMesh; down: SetDown } => {
  const drawn = meshForm(input.form, { triangles, scale: dryScaleOf(input), keepCarving });
  const mesh = input.form.untwist_deg ? turnedBack(drawn, input.form.untwist_deg) : drawn;
  const { attitude } = input.setting;
  if (attitude === 'leaning' || input.setting.props.length > 0)
    return { mesh, down: setOnItsProps(mesh, input) };
  const down = setDown(mesh, input.setting);
  if (!down.steady || (attitude !== 'on its side' && down.turned_rad > LEANS_rad))
    throw badInput(
      'setting.attitude',
      attitude,
      'an attitude in which the piece stands by itself: its weight falls outside what it would stand on',
    );
  return { mesh, down };
};
