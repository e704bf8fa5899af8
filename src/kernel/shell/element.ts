import { bendingStiffness } from './bending.ts';
import { membraneStiffness } from './membrane.ts';

/**
 * Flat shell triangle with 6 unknowns a corner (3 velocities, 3 rotation rates), global axes.
 * By the Stokes-Rayleigh analogy the same matrix serves an elastic wall (modulus E, ratio nu, unknowns
 * displacements) and a creeping one (modulus 3·viscosity, ratio 1/2, unknowns velocities).
 */
const membrane = new Float64Array(81);
const bending = new Float64Array(81);
const local = new Float64Array(9);
const turned = new Float64Array(9);

/** Where (corner, unknown) of the 6-a-corner element lives: membrane rows 3c+{0,1,2} are u, v, rz; bending w, rx, ry. */
const rotateInto = (
  out: Float64Array,
  row: number,
  col: number,
  e: Float64Array,
  block: Float64Array,
): void => {
  // out = Rᵀ·block·R with R's rows the local axes in `e`.
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      turned[3 * i + j] = block[3 * i] * e[j] + block[3 * i + 1] * e[3 + j] + block[3 * i + 2] * e[6 + j];
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      out[18 * (row + i) + col + j] = e[i] * turned[j] + e[3 + i] * turned[3 + j] + e[6 + i] * turned[6 + j];
};

/**
 * Local frame of triangle (a, b, c): writes the three unit axes row by row into `axes` (9) and the local
 * corner coordinates x2, x3, y3 into `corners` (3). The third axis is the outward normal.
 */
export const triangleFrame = (
  axes: Float64Array,
  corners: Float64Array,
  p: Float64Array,
  a: number,
  b: number,
  c: number,
): void => {
  const ux = p[3 * b] - p[3 * a];
  const uy = p[3 * b + 1] - p[3 * a + 1];
  const uz = p[3 * b + 2] - p[3 * a + 2];
  const vx = p[3 * c] - p[3 * a];
  const vy = p[3 * c + 1] - p[3 * a + 1];
  const vz = p[3 * c + 2] - p[3 * a + 2];
  const len = Math.sqrt(ux * ux + uy * uy + uz * uz);
  axes[0] = ux / len;
  axes[1] = uy / len;
  axes[2] = uz / len;
  let nx = uy * vz - uz * vy;
  let ny = uz * vx - ux * vz;
  let nz = ux * vy - uy * vx;
  const n = Math.sqrt(nx * nx + ny * ny + nz * nz);
  nx /= n;
  ny /= n;
  nz /= n;
  axes[6] = nx;
  axes[7] = ny;
  axes[8] = nz;
  axes[3] = ny * axes[2] - nz * axes[1];
  axes[4] = nz * axes[0] - nx * axes[2];
  axes[5] = nx * axes[1] - ny * axes[0];
  corners[0] = len;
  corners[1] = vx * axes[0] + vy * axes[1] + vz * axes[2];
  corners[2] = vx * axes[3] + vy * axes[4] + vz * axes[5];
};

const axes = new Float64Array(9);
const corners = new Float64Array(3);

/**
 * Fills `out` (18 × 18 row-major, corner-major, ux uy uz rx ry rz) with the stiffness of triangle (a, b, c).
 * `modulus` in Pa (elastic) or Pa·s (3 × viscosity); `h` the wall in metres.
 */
export const shellStiffness = (
  out: Float64Array,
  positions: Float64Array,
  a: number,
  b: number,
  c: number,
  h: number,
  modulus: number,
  poisson: number,
): void => {
  triangleFrame(axes, corners, positions, a, b, c);
  membrane.fill(0);
  bending.fill(0);
  membraneStiffness(membrane, corners[0], corners[1], corners[2], h, modulus, poisson);
  bendingStiffness(bending, corners[0], corners[1], corners[2], h, modulus, poisson);
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      const m = 27 * i + 3 * j; // entry (3i, 3j) of a 9 × 9
      // velocity-velocity
      local[0] = membrane[m];
      local[1] = membrane[m + 1];
      local[3] = membrane[m + 9];
      local[4] = membrane[m + 10];
      local[2] = local[5] = local[6] = local[7] = 0;
      local[8] = bending[m];
      rotateInto(out, 6 * i, 6 * j, axes, local);
      // velocity-rotation
      local[0] = local[1] = local[3] = local[4] = local[8] = 0;
      local[2] = membrane[m + 2];
      local[5] = membrane[m + 11];
      local[6] = bending[m + 1];
      local[7] = bending[m + 2];
      rotateInto(out, 6 * i, 6 * j + 3, axes, local);
      // rotation-velocity
      local[2] = bending[m + 9];
      local[5] = bending[m + 18];
      local[6] = membrane[m + 18];
      local[7] = membrane[m + 19];
      rotateInto(out, 6 * i + 3, 6 * j, axes, local);
      // rotation-rotation
      local[2] = local[5] = local[6] = local[7] = 0;
      local[0] = bending[m + 10];
      local[1] = bending[m + 11];
      local[3] = bending[m + 19];
      local[4] = bending[m + 20];
      local[8] = membrane[m + 20];
      rotateInto(out, 6 * i + 3, 6 * j + 3, axes, local);
    }
};
