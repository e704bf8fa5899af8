import { onNearest } from '../../../kernel/mesh/on-nearest.ts';
import type { Form } from '../../form/form.ts';
import type { FormMesh } from '../../form/mesh-form.ts';
import type { Setting } from '../setting.ts';
import { type Fit, fitForm } from './fit-form.ts';
import type { MadeFired } from './made-fired.ts';
import { ringOf, targetOf } from './target.ts';

/** How a fired piece differs from the wanted surface, as drawn and not as meshed: no chord is taken for a curve. */
export interface FiredDifference {
  /** The made form's own mesh, upright as drawn. */
  readonly mesh: FormMesh;
  readonly fit: Fit;
  /** 1 where it is compared: not where it lies pressed to the shelf. */
  readonly counts: Float64Array;
}

/**
 * @param form what was fired, thrown sizes @param wanted thrown sizes
 * @param toThrown_mm from fired metres to mm of the wet piece
 * @returns undefined where there is no fired piece
 */
export const compareFired = (
  made: MadeFired,
  form: Form,
  wanted: Form,
  toThrown_mm: number,
  attitude: Setting['attitude'],
): FiredDifference | undefined => {
  const { mesh, positions, thickness_m, turn } = made;
  if (!positions || !thickness_m) return undefined;
  const counts = Float64Array.from(made.lies, (l) => (l ? 0 : 1));
  // Hung from its lip it is laid on the wanted lip, which the made form may have drawn at another height.
  const raised = attitude === 'rim down' ? topOf(wanted) - topOf(form) : 0;
  const shape = { positions, thickness_m, triangles: mesh.triangles };
  const target = targetOf(mesh, form, shape, turn, toThrown_mm, counts, ringOf(mesh, attitude), raised);
  return { mesh, fit: fitForm(wanted, target, []), counts };
};

const topOf = ({ line }: Form): number => line[line.length - 1].height_mm;

/** Values of one mesh's nodes on another's, both upright as drawn and of about one size. */
export const carriedTo = (
  to: FormMesh,
  from: FormMesh,
  values: readonly Float64Array[],
): readonly Float64Array[] => {
  const size = (m: FormMesh): number => Math.max(...m.positions.map(Math.abs));
  const grow = size(from) / size(to);
  const three = new Float64Array(from.positions.length);
  values.forEach((v, k) => {
    for (let i = 0; i < v.length; i++) three[3 * i + k] = v[i];
  });
  const out = onNearest(
    from,
    three,
    to.positions.map((x) => x * grow),
  );
  return values.map((_, k) => Float64Array.from({ length: to.along.length }, (_, i) => out[3 * i + k]));
};
