/**
 * Bending part of the flat shell triangle: the discrete Kirchhoff triangle of J.-L. Batoz, K.-J. Bathe,
 * L.-W. Ho, "A study of three-node triangular plate bending elements", Int. J. Numer. Methods Eng. 15
 * (1980) 1771-1812 (formulae from memory, proved by the patch and benchmark tests beside this file).
 * Unknowns per corner: w, thetaX = dw/dy, thetaY = -dw/dx, so rotations are right-handed vectors.
 */
const hxXi = new Float64Array(9);
const hyXi = new Float64Array(9);
const hxEta = new Float64Array(9);
const hyEta = new Float64Array(9);
const b = new Float64Array(27);

/** The three mid-side points integrate the (quadratic) curvature energy exactly. */
const POINTS = [
  [0.5, 0],
  [0.5, 0.5],
  [0, 0.5],
] as const;

/** Curvature rows (xx, yy, 2xy) at natural point (xi, eta) into `b` (3 × 9), corners (0,0), (x2,0), (x3,y3). */
const curvatureRows = (x2: number, x3: number, y3: number, xi: number, eta: number): void => {
  const x12 = -x2;
  const x23 = x2 - x3;
  const x31 = x3;
  const y23 = -y3;
  const y31 = y3;
  const l12 = x12 * x12;
  const l23 = x23 * x23 + y23 * y23;
  const l31 = x31 * x31 + y31 * y31;
  const p4 = (-6 * x23) / l23;
  const p5 = (-6 * x31) / l31;
  const p6 = (-6 * x12) / l12;
  const t4 = (-6 * y23) / l23;
  const t5 = (-6 * y31) / l31;
  const t6 = 0;
  const q4 = (3 * x23 * y23) / l23;
  const q5 = (3 * x31 * y31) / l31;
  const q6 = 0;
  const r4 = (3 * y23 * y23) / l23;
  const r5 = (3 * y31 * y31) / l31;
  const r6 = 0;
  const u = 1 - 2 * xi;
  const v = 1 - 2 * eta;
  hxXi[0] = p6 * u + (p5 - p6) * eta;
  hxXi[1] = q6 * u - (q5 + q6) * eta;
  hxXi[2] = -4 + 6 * (xi + eta) + r6 * u - eta * (r5 + r6);
  hxXi[3] = -p6 * u + eta * (p4 + p6);
  hxXi[4] = q6 * u - eta * (q6 - q4);
  hxXi[5] = -2 + 6 * xi + r6 * u + eta * (r4 - r6);
  hxXi[6] = -eta * (p5 + p4);
  hxXi[7] = eta * (q4 - q5);
  hxXi[8] = -eta * (r5 - r4);
  hyXi[0] = t6 * u + eta * (t5 - t6);
  hyXi[1] = 1 + r6 * u - eta * (r5 + r6);
  hyXi[2] = -q6 * u + eta * (q5 + q6);
  hyXi[3] = -t6 * u + eta * (t4 + t6);
  hyXi[4] = -1 + r6 * u + eta * (r4 - r6);
  hyXi[5] = -q6 * u - eta * (q4 - q6);
  hyXi[6] = -eta * (t4 + t5);
  hyXi[7] = eta * (r4 - r5);
  hyXi[8] = -eta * (q4 - q5);
  hxEta[0] = -p5 * v - xi * (p6 - p5);
  hxEta[1] = q5 * v - xi * (q5 + q6);
  hxEta[2] = -4 + 6 * (xi + eta) + r5 * v - xi * (r5 + r6);
  hxEta[3] = xi * (p4 + p6);
  hxEta[4] = xi * (q4 - q6);
  hxEta[5] = -xi * (r6 - r4);
  hxEta[6] = p5 * v - xi * (p4 + p5);
  hxEta[7] = q5 * v + xi * (q4 - q5);
  hxEta[8] = -2 + 6 * eta + r5 * v + xi * (r4 - r5);
  hyEta[0] = -t5 * v - xi * (t6 - t5);
  hyEta[1] = 1 + r5 * v - xi * (r5 + r6);
  hyEta[2] = -q5 * v + xi * (q5 + q6);
  hyEta[3] = xi * (t4 + t6);
  hyEta[4] = xi * (r4 - r6);
  hyEta[5] = -xi * (q4 - q6);
  hyEta[6] = t5 * v - xi * (t4 + t5);
  hyEta[7] = -1 + r5 * v + xi * (r4 - r5);
  hyEta[8] = -q5 * v - xi * (q4 - q5);
  const s = 1 / (x2 * y3);
  for (let i = 0; i < 9; i++) {
    b[i] = s * (y31 * hxXi[i]);
    b[9 + i] = s * (-x31 * hyXi[i] - x12 * hyEta[i]);
    b[18 + i] = s * (-x31 * hxXi[i] - x12 * hxEta[i] + y31 * hyXi[i]);
  }
};

/**
 * Adds the 9 × 9 bending stiffness (row-major; w, thetaX, thetaY per corner) of a triangle with local
 * corners (0,0), (x2,0), (x3,y3) and thickness h, plane-stress modulus E and ratio nu.
 */
export const bendingStiffness = (
  out: Float64Array,
  x2: number,
  x3: number,
  y3: number,
  h: number,
  modulus: number,
  poisson: number,
): void => {
  const d = (modulus * h * h * h) / (12 * (1 - poisson * poisson));
  const weight = (d * x2 * y3) / 6;
  const d12 = weight * poisson;
  const d33 = weight * 0.5 * (1 - poisson);
  for (const [xi, eta] of POINTS) {
    curvatureRows(x2, x3, y3, xi, eta);
    for (let i = 0; i < 9; i++) {
      const m0 = weight * b[i] + d12 * b[9 + i];
      const m1 = d12 * b[i] + weight * b[9 + i];
      const m2 = d33 * b[18 + i];
      for (let j = 0; j < 9; j++) out[9 * i + j] += m0 * b[j] + m1 * b[9 + j] + m2 * b[18 + j];
    }
  }
};
