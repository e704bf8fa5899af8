type Vec = readonly [number, number, number];

/** A piece moved as a whole: three ways (mm) and three turns, each told in mm at 100 mm from the centre it turns about. */
export type Motion = readonly [number, number, number, number, number, number];

export const NO_MOTION: Motion = [0, 0, 0, 0, 0, 0];

const ARM_mm = 100;

/** Turn by the vector (O. Rodrigues), p about the origin. */
const turned = (w: Vec, p: Vec): Vec => {
  const a = Math.hypot(w[0], w[1], w[2]);
  const s = a < 1e-9 ? 1 : Math.sin(a) / a;
  const c = a < 1e-9 ? 0.5 : (1 - Math.cos(a)) / (a * a);
  const cross = (u: Vec, v: Vec): Vec => [
    u[1] * v[2] - u[2] * v[1],
    u[2] * v[0] - u[0] * v[2],
    u[0] * v[1] - u[1] * v[0],
  ];
  const once = cross(w, p);
  const twice = cross(w, once);
  return [
    p[0] + s * once[0] + c * twice[0],
    p[1] + s * once[1] + c * twice[1],
    p[2] + s * once[2] + c * twice[2],
  ];
};

const axisOf = (m: Motion, sign: number): Vec => [
  (sign * m[3]) / ARM_mm,
  (sign * m[4]) / ARM_mm,
  (sign * m[5]) / ARM_mm,
];

/** Where p (mm) is after the motion. */
export const moved = (m: Motion, p: Vec, centre: Vec): Vec => {
  const q = turned(axisOf(m, 1), [p[0] - centre[0], p[1] - centre[1], p[2] - centre[2]]);
  return [q[0] + centre[0] + m[0], q[1] + centre[1] + m[1], q[2] + centre[2] + m[2]];
};

/** The other way, all points (3 each). */
export const movedBack = (m: Motion, p: Float64Array, centre: Vec, out: Float64Array): void => {
  for (let i = 0; i < p.length; i += 3) {
    const q = turned(axisOf(m, -1), [
      p[i] - m[0] - centre[0],
      p[i + 1] - m[1] - centre[1],
      p[i + 2] - m[2] - centre[2],
    ]);
    for (let k = 0; k < 3; k++) out[i + k] = q[k] + centre[k];
  }
};
