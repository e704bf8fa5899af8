import { badInput } from '../../error.ts';
import type { ClayHistory } from '../clay/clay-history.ts';
import { scaleBetween } from '../clay/shrinkage.ts';
import { type FormMesh, meshForm } from '../form/mesh-form.ts';
import type { FiringInput } from './firing.ts';
import { type SetDown, setDown } from './set-down.ts';

/** A piece as it stands in the kiln, with what the heat does to its clay: what every part of a firing reads. */
export interface Placed {
  readonly input: FiringInput;
  readonly history: ClayHistory;
  readonly mesh: FormMesh;
  readonly down: SetDown;
  /** Linear size against bone dry at the moment looked at. */
  readonly scale: number;
}

/** Linear scale from the sizes as drawn to bone dry. */
export const dryScaleOf = (input: Pick<FiringInput, 'form' | 'clay'>): number =>
  scaleBetween(input.clay, input.form.sizes === 'thrown' ? 'wet' : 'fired', 'dry');

/** A piece that leans over by itself this far when set down was not standing as asked. */
const LEANS_rad = 0.35;

/**
 * Meshes a form bone dry and sets it on the shelf.
 * @throws AfterfireError `bad-input` where it cannot stand as asked
 */
export const setOnShelf = (input: FiringInput, triangles: number): { mesh: FormMesh; down: SetDown } => {
  const mesh = meshForm(input.form, { triangles, scale: dryScaleOf(input) });
  const down = setDown(mesh, input.setting);
  const { attitude } = input.setting;
  if (!down.steady || (attitude !== 'on its side' && down.turned_rad > LEANS_rad))
    throw badInput(
      'setting.attitude',
      attitude,
      'an attitude in which the piece stands by itself: its weight falls outside what it would stand on',
    );
  return { mesh, down };
};
