import type { FiringInput } from '../../making/firing/firing.ts';
import { dryScaleOf } from '../../making/firing/placed.ts';
import { setOnProps } from '../../making/firing/set-on-props.ts';
import { meshForm } from '../../making/form/mesh-form.ts';
import type { Seen } from './film.ts';

const ROOM_K = 293.15;

/**
 * A piece that does not stand as asked, where it came to: to be drawn with what is wrong in red.
 * @returns undefined where not even that could be worked out
 */
export const stoodOf = (input: FiringInput): Seen | undefined => {
  try {
    const dryScale = dryScaleOf(input);
    const mesh = meshForm(input.form, { triangles: input.triangles, scale: dryScale });
    const { body } = setOnProps(mesh, input.setting);
    const nodes = mesh.thickness_m.length;
    return {
      setting: input.setting,
      triangles: Uint32Array.from(mesh.triangles),
      before: {
        time_s: 0,
        temperature_K: ROOM_K,
        linearScale: 1,
        porosity: 0,
        positions: Float32Array.from(body.positions.subarray(0, 3 * nodes)),
        thickness_m: Float32Array.from(mesh.thickness_m),
      },
      pictures: [],
      sag_m: new Float32Array(nodes),
      propsAt_m: [0, 0],
      dryScale,
    };
  } catch {
    return undefined;
  }
};
