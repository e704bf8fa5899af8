import {
  add,
  c,
  get,
  K_THETA,
  K_TIMES,
  LUMPING,
  MEMBRANE,
  MIDDLE,
  mul,
  NATURAL,
  neg,
  put,
  Q,
  SCRATCH,
  STRAIN,
  sub,
  THETA,
} from './lanes';

/** The floor of the higher-order weight, as in src/kernel/shell/membrane.ts. */
const BETA0_FLOOR: f64 = 0.02;

function lump(w: usize, node: usize, ya: v128, xa: v128, yb: v128, yc: v128, xb: v128, xc: v128): void {
  const l = w + LUMPING;
  const r: usize = 9 * node;
  const zero = c(0);
  put(l, r, ya);
  put(l, r + 1, zero);
  put(l, r + 2, xa);
  put(l, r + 3, zero);
  put(l, r + 4, xa);
  put(l, r + 5, ya);
  put(l, r + 6, mul(mul(c(0.25), ya), sub(yb, yc)));
  put(l, r + 7, mul(mul(c(0.25), xa), sub(xb, xc)));
  put(l, r + 8, mul(c(0.5), sub(mul(xb, yb), mul(xc, yc))));
}

/** out += weight·aᵀ·e·a, all 3 × 3. */
function addSandwich(w: usize, out: usize, a: usize, e: usize, weight: v128): void {
  const t = w + SCRATCH;
  for (let i: usize = 0; i < 9; i += 3) {
    const e0 = get(e, i);
    const e1 = get(e, i + 1);
    const e2 = get(e, i + 2);
    for (let j: usize = 0; j < 3; j++)
      put(t, i + j, add(add(mul(e0, get(a, j)), mul(e1, get(a, 3 + j))), mul(e2, get(a, 6 + j))));
  }
  for (let i: usize = 0; i < 3; i++) {
    const a0 = mul(weight, get(a, i));
    const a1 = mul(weight, get(a, 3 + i));
    const a2 = mul(weight, get(a, 6 + i));
    for (let j: usize = 0; j < 3; j++)
      put(
        out,
        3 * i + j,
        add(
          get(out, 3 * i + j),
          add(add(mul(a0, get(t, j)), mul(a1, get(t, 3 + j))), mul(a2, get(t, 6 + j))),
        ),
      );
  }
}

/** Row k of the higher-order strain pattern: which of the nine betas each entry takes, one hex digit an entry. */
function beta(order: i64, entry: i32): f64 {
  const which = <i32>(order >> <i64>(4 * entry)) & 15;
  // 1 2 1 0 1 -1 -1 -1 -2
  if (which === 1) return 2;
  if (which === 3) return 0;
  if (which === 8) return -2;
  return which < 5 ? 1 : -1;
}

/** Fills MEMBRANE: the optimal triangle with drilling rotations (the twin of src/kernel/shell/membrane.ts). */
export function membrane(w: usize, x2: v128, x3: v128, y3: v128, h: v128, e: v128, poisson: f64): void {
  const out = w + MEMBRANE;
  const zero = c(0);
  const x12 = neg(x2);
  const x21 = x2;
  const x23 = sub(x2, x3);
  const x32 = neg(x23);
  const x31 = x3;
  const x13 = neg(x3);
  const y23 = neg(y3);
  const y32 = y3;
  const y31 = y3;
  const y13 = neg(y3);
  const twice = mul(x2, y3);
  const area = mul(c(0.5), twice);
  const e11 = mul(e, c(1 / (1 - poisson * poisson)));
  const e12 = mul(e11, c(poisson));
  const e33 = mul(e, c(0.5 / (1 + poisson)));
  lump(w, 0, y23, x32, y13, zero, x31, x12);
  lump(w, 1, y31, x13, zero, y32, x12, x23);
  lump(w, 2, zero, x21, y32, y13, x23, x31);
  const l = w + LUMPING;
  const basic = f64x2.div(h, mul(c(4), area));
  for (let i: usize = 0; i < 9; i++) {
    const a = get(l, 3 * i);
    const b = get(l, 3 * i + 1);
    const s0 = mul(basic, add(mul(e11, a), mul(e12, b)));
    const s1 = mul(basic, add(mul(e12, a), mul(e11, b)));
    const s2 = mul(mul(basic, e33), get(l, 3 * i + 2));
    for (let j: usize = 0; j < 9; j++)
      put(
        out,
        9 * i + j,
        add(add(mul(s0, get(l, 3 * j)), mul(s1, get(l, 3 * j + 1))), mul(s2, get(l, 3 * j + 2))),
      );
  }
  const l21 = mul(x21, x21);
  const l32 = add(mul(x32, x32), mul(y32, y32));
  const l13 = add(mul(x13, x13), mul(y13, y13));
  const ta = f64x2.div(c(1), mul(twice, twice));
  const strain = w + STRAIN;
  const t21 = mul(ta, l21);
  const t32 = mul(ta, l32);
  const t13 = mul(ta, l13);
  put(strain, 0, mul(t21, mul(y23, y13)));
  put(strain, 1, zero);
  put(strain, 2, zero);
  put(strain, 3, mul(t21, mul(x23, x13)));
  put(strain, 4, mul(t32, mul(x31, x21)));
  put(strain, 5, mul(t13, mul(x12, x32)));
  put(strain, 6, mul(t21, add(mul(y23, x31), mul(x32, y13))));
  put(strain, 7, mul(t32, mul(y31, x12)));
  put(strain, 8, mul(t13, mul(x21, y32)));
  const plane = w + Q; // borrowed until Q is filled
  for (let i: usize = 0; i < 9; i++) put(plane, i, zero);
  put(plane, 0, e11);
  put(plane, 1, e12);
  put(plane, 3, e12);
  put(plane, 4, e11);
  put(plane, 8, e33);
  const natural = w + NATURAL;
  for (let i: usize = 0; i < 9; i++) put(natural, i, zero);
  addSandwich(w, natural, strain, plane, c(1));

  const f = mul(c(1.0 / 3), twice);
  for (let node: usize = 0; node < 3; node++) {
    // Orders 0 1 2 3 4 5 6 7 8; 8 6 7 2 0 1 5 3 4; 4 5 3 7 8 6 1 2 0, first entry lowest.
    const order: i64 = node === 0 ? 0x876543210 : node === 1 ? 0x435102768 : 0x021687354;
    for (let i: usize = 0; i < 3; i++) {
      const k = f64x2.div(f, i === 0 ? l21 : i === 1 ? l32 : l13);
      for (let j: usize = 0; j < 3; j++)
        put(w + Q, 9 * node + 3 * i + j, mul(k, c(beta(order, <i32>i * 3 + <i32>j))));
    }
  }
  const kTheta = w + K_THETA;
  for (let i: usize = 0; i < 9; i++) put(kTheta, i, zero);
  const volume = mul(area, h);
  for (let node: usize = 0; node < 3; node++) {
    const next: usize = node === 2 ? 0 : node + 1;
    for (let i: usize = 0; i < 9; i++)
      put(w + MIDDLE, i, mul(c(0.5), add(get(w + Q, 9 * node + i), get(w + Q, 9 * next + i))));
    addSandwich(w, kTheta, w + MIDDLE, natural, volume);
  }
  const t = f64x2.div(c(0.25), area);
  const theta = w + THETA;
  for (let i: usize = 0; i < 3; i++) {
    const r: usize = 9 * i;
    put(theta, r, mul(t, x32));
    put(theta, r + 1, mul(t, y32));
    put(theta, r + 2, c(i === 0 ? 1 : 0));
    put(theta, r + 3, mul(t, x13));
    put(theta, r + 4, mul(t, y13));
    put(theta, r + 5, c(i === 1 ? 1 : 0));
    put(theta, r + 6, mul(t, x21));
    put(theta, r + 7, zero);
    put(theta, r + 8, c(i === 2 ? 1 : 0));
  }
  const weight = c(0.75 * max(0.5 * (1 - 4 * poisson * poisson), BETA0_FLOOR));
  const kt = w + K_TIMES;
  for (let i: usize = 0; i < 3; i++) {
    const k0 = mul(weight, get(kTheta, 3 * i));
    const k1 = mul(weight, get(kTheta, 3 * i + 1));
    const k2 = mul(weight, get(kTheta, 3 * i + 2));
    for (let j: usize = 0; j < 9; j++)
      put(
        kt,
        9 * i + j,
        add(add(mul(k0, get(theta, j)), mul(k1, get(theta, 9 + j))), mul(k2, get(theta, 18 + j))),
      );
  }
  for (let i: usize = 0; i < 9; i++) {
    const t0 = get(theta, i);
    const t1 = get(theta, 9 + i);
    const t2 = get(theta, 18 + i);
    for (let j: usize = 0; j < 9; j++)
      put(
        out,
        9 * i + j,
        add(
          get(out, 9 * i + j),
          add(add(mul(t0, get(kt, j)), mul(t1, get(kt, 9 + j))), mul(t2, get(kt, 18 + j))),
        ),
      );
  }
}
