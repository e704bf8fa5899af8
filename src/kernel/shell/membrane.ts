/**
 * Membrane part of the flat shell triangle: the optimal triangle with corner (drilling) rotations of
 * C. A. Felippa, "A study of optimal membrane triangles with drilling freedoms", Comput. Methods Appl.
 * Mech. Eng. 192 (2003) 2125-2168 (formulae from memory, proved by the patch and benchmark tests beside this file).
 *
 * Tried and lost: the constant-strain triangle is 12 % stiff on the barrel roof at n = 8.
 * The paper's optimal beta0 = (1 - 4 nu^2)/2 vanishes at nu = 1/2, the value of a viscous wall; a small
 * fixed floor keeps the drilling rotations alive, a large one locks coarse curved meshes.
 */
export const BETA0_FLOOR = 0.02;

/** The paper's optimal weight of the higher-order part, with a floor for incompressible walls. */
export const betaZero = (poisson: number): number => Math.max(0.5 * (1 - 4 * poisson * poisson), BETA0_FLOOR);

const lumping = new Float64Array(27);
const theta = new Float64Array(27);
const strain = new Float64Array(9);
const natural = new Float64Array(9);
const scratch = new Float64Array(9);
const q = [new Float64Array(9), new Float64Array(9), new Float64Array(9)];
const qMid = new Float64Array(9);
const kTheta = new Float64Array(9);
const kt = new Float64Array(27);

/** out = aᵀ·e·a summed into out, all 3 × 3 row-major. */
const addSandwich = (out: Float64Array, a: Float64Array, e: Float64Array, weight: number): void => {
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      scratch[3 * i + j] = e[3 * i] * a[j] + e[3 * i + 1] * a[3 + j] + e[3 * i + 2] * a[6 + j];
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      out[3 * i + j] += weight * (a[i] * scratch[j] + a[3 + i] * scratch[3 + j] + a[6 + i] * scratch[6 + j]);
};

const BETA = [1, 2, 1, 0, 1, -1, -1, -1, -2];

/**
 * Adds the 9 × 9 membrane stiffness (row-major; unknowns u, v, rotation per corner) of a triangle with
 * local corners (0,0), (x2,0), (x3,y3) and thickness h, for plane stress with modulus E and ratio nu.
 */
export const membraneStiffness = (
  out: Float64Array,
  x2: number,
  x3: number,
  y3: number,
  h: number,
  modulus: number,
  poisson: number,
): void => {
  const x12 = -x2;
  const x21 = x2;
  const x23 = x2 - x3;
  const x32 = -x23;
  const x31 = x3;
  const x13 = -x3;
  const y12 = 0;
  const y21 = 0;
  const y23 = -y3;
  const y32 = y3;
  const y31 = y3;
  const y13 = -y3;
  const twiceArea = x2 * y3;
  const area = twiceArea / 2;
  const c = modulus / (1 - poisson * poisson);
  const e11 = c;
  const e12 = c * poisson;
  const e33 = (0.5 * modulus) / (1 + poisson);

  // Basic part: constant stress, force lumping with corner rotations (alpha_b = 3/2).
  const third = 1.5 / 3;
  const sixth = 1.5 / 6;
  const l = lumping;
  const put = (node: number, ya: number, xa: number, yb: number, yc: number, xb: number, xc: number) => {
    const r = 9 * node;
    l[r] = ya;
    l[r + 1] = 0;
    l[r + 2] = xa;
    l[r + 3] = 0;
    l[r + 4] = xa;
    l[r + 5] = ya;
    l[r + 6] = sixth * ya * (yb - yc);
    l[r + 7] = sixth * xa * (xb - xc);
    l[r + 8] = third * (xb * yb - xc * yc);
  };
  put(0, y23, x32, y13, y21, x31, x12);
  put(1, y31, x13, y21, y32, x12, x23);
  put(2, y12, x21, y32, y13, x23, x31);
  const basic = h / (4 * area);
  for (let i = 0; i < 9; i++) {
    const a = l[3 * i];
    const b = l[3 * i + 1];
    const d = l[3 * i + 2];
    const s0 = basic * (e11 * a + e12 * b);
    const s1 = basic * (e12 * a + e11 * b);
    const s2 = basic * e33 * d;
    for (let j = 0; j < 9; j++) out[9 * i + j] += s0 * l[3 * j] + s1 * l[3 * j + 1] + s2 * l[3 * j + 2];
  }

  // Higher-order part in natural strains along the three sides.
  const l21 = x21 * x21 + y21 * y21;
  const l32 = x32 * x32 + y32 * y32;
  const l13 = x13 * x13 + y13 * y13;
  const ta = 1 / (twiceArea * twiceArea);
  strain[0] = ta * y23 * y13 * l21;
  strain[1] = ta * y31 * y21 * l32;
  strain[2] = ta * y12 * y32 * l13;
  strain[3] = ta * x23 * x13 * l21;
  strain[4] = ta * x31 * x21 * l32;
  strain[5] = ta * x12 * x32 * l13;
  strain[6] = ta * (y23 * x31 + x32 * y13) * l21;
  strain[7] = ta * (y31 * x12 + x13 * y21) * l32;
  strain[8] = ta * (y12 * x23 + x21 * y32) * l13;
  plane[0] = e11;
  plane[1] = e12;
  plane[3] = e12;
  plane[4] = e11;
  plane[8] = e33;
  natural.fill(0);
  addSandwich(natural, strain, plane, 1);

  const f = twiceArea / 3;
  const order = [
    [0, 1, 2, 3, 4, 5, 6, 7, 8],
    [8, 6, 7, 2, 0, 1, 5, 3, 4],
    [4, 5, 3, 7, 8, 6, 1, 2, 0],
  ];
  for (let n = 0; n < 3; n++)
    for (let i = 0; i < 3; i++) {
      const len = i === 0 ? l21 : i === 1 ? l32 : l13;
      for (let j = 0; j < 3; j++) q[n][3 * i + j] = (f * BETA[order[n][3 * i + j]]) / len;
    }
  kTheta.fill(0);
  for (let n = 0; n < 3; n++) {
    const m = (n + 1) % 3;
    for (let i = 0; i < 9; i++) qMid[i] = 0.5 * (q[n][i] + q[m][i]);
    addSandwich(kTheta, qMid, natural, area * h);
  }
  const t = 1 / (4 * area);
  for (let i = 0; i < 3; i++) {
    const r = 9 * i;
    theta[r] = t * x32;
    theta[r + 1] = t * y32;
    theta[r + 2] = i === 0 ? 1 : 0;
    theta[r + 3] = t * x13;
    theta[r + 4] = t * y13;
    theta[r + 5] = i === 1 ? 1 : 0;
    theta[r + 6] = t * x21;
    theta[r + 7] = t * y21;
    theta[r + 8] = i === 2 ? 1 : 0;
  }
  const weight = 0.75 * betaZero(poisson);
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 9; j++)
      kt[9 * i + j] =
        weight *
        (kTheta[3 * i] * theta[j] + kTheta[3 * i + 1] * theta[9 + j] + kTheta[3 * i + 2] * theta[18 + j]);
  for (let i = 0; i < 9; i++)
    for (let j = 0; j < 9; j++)
      out[9 * i + j] += theta[i] * kt[j] + theta[9 + i] * kt[9 + j] + theta[18 + i] * kt[18 + j];
};
const plane = new Float64Array(9);
