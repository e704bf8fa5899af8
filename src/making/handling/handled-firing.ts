import type { Firing } from '../firing/firing.ts';
import { setOnShelf } from '../firing/placed.ts';
import { turnBack } from '../firing/set-down.ts';
import type { FormMesh } from '../form/mesh-form.ts';
import { BONE_DRY, FIRED } from './elastic-clay.ts';
import { type Handling, type HandlingWish, handlingOf } from './handling.ts';

/** How a piece gives in the hand on the way into the kiln, bone dry, and out of it, fired, sag and all; both upright. */
export const handlingOfFiring = (
  firing: Firing,
  wish: HandlingWish = {},
): { readonly dry: Handling; readonly fired: Handling } => {
  const { input, frames } = firing;
  const { mesh, down } = setOnShelf(input, input.triangles);
  const { positions, thickness_m } = frames[frames.length - 1];
  const out: FormMesh = { ...mesh, positions: turnBack(positions, down.turn), thickness_m };
  return { dry: handlingOf(mesh, BONE_DRY, wish), fired: handlingOf(out, FIRED, wish) };
};
