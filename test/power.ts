import { shellStiffness } from '../src/kernel/shell/element.ts';

/** A wall of triangles with its stiffness: what the kernel's element needs, nothing assembled. */
export interface Wall {
  readonly positions: Float64Array;
  readonly triangles: Uint32Array;
  /** One a triangle, m. */
  readonly thickness_m: Float64Array;
  /** Pa (elastic) or 3 × viscosity. */
  readonly modulus: number;
  readonly poisson: number;
}

const element = new Float64Array(324);

/** v·K·v summed element by element (6 × nodes, mesh order): twice the strain energy, or the power that is dissipated. */
export const storedIn = (w: Wall, v: Float64Array): number => {
  let sum = 0;
  for (let t = 0; t < w.thickness_m.length; t++) {
    const corners = [0, 1, 2].map((c) => w.triangles[3 * t + c]);
    const [a, b, c] = corners;
    shellStiffness(element, w.positions, a, b, c, w.thickness_m[t], w.modulus, w.poisson);
    const local = corners.flatMap((n) => Array.from(v.subarray(6 * n, 6 * n + 6)));
    for (let i = 0; i < 18; i++)
      for (let j = 0; j < 18; j++) sum += local[i] * element[18 * i + j] * local[j];
  }
  return sum;
};
