/**
 * The shell triangle (the twin of src/kernel/shell/{element,membrane,bending}.ts, where sources and formulae are told),
 * two triangles at a time: one in each lane.
 */
/** How room is used: slots of 16 bytes. */
const COORDINATES: usize = 0; // 9: x y z of the three corners
const AXES: usize = 144; // 9
const MEMBRANE: usize = 288; // 81
const BENDING: usize = 1584; // 81
const LUMPING: usize = 2880; // 27
const THETA: usize = 3312; // 27
const STRAIN: usize = 3744; // 9
const NATURAL: usize = 3888; // 9
const Q: usize = 4032; // 27
const MIDDLE: usize = 4464; // 9
const K_THETA: usize = 4608; // 9
const K_TIMES: usize = 4752; // 27
const SCRATCH: usize = 5184; // 9
const CURVATURE: usize = 5328; // 27
const TURNED: usize = 5760; // 9
export const BLOCKS: usize = 5904; // 6 × 36
export const ELEMENT_BYTES: usize = 9360;

const BETA0_FLOOR: f64 = 0.02;

function c(v: f64): v128 {
  return f64x2.splat(v);
}
function add(a: v128, b: v128): v128 {
  return f64x2.add(a, b);
}
function sub(a: v128, b: v128): v128 {
  return f64x2.sub(a, b);
}
function mul(a: v128, b: v128): v128 {
  return f64x2.mul(a, b);
}
function neg(a: v128): v128 {
  return f64x2.neg(a);
}
function put(at: usize, slot: usize, v: v128): void {
  v128.store(at + (slot << 4), v);
}
function get(at: usize, slot: usize): v128 {
  return v128.load(at + (slot << 4));
}

/** Fills BLOCKS (corner pairs 00 10 11 20 21 22) from COORDINATES for walls h, moduli e and one Poisson ratio. */
export function stiffness(w: usize, h: v128, e: v128, poisson: f64): void {
  const p = w + COORDINATES;
  const ux = sub(get(p, 3), get(p, 0));
  const uy = sub(get(p, 4), get(p, 1));
  const uz = sub(get(p, 5), get(p, 2));
  const vx = sub(get(p, 6), get(p, 0));
  const vy = sub(get(p, 7), get(p, 1));
  const vz = sub(get(p, 8), get(p, 2));
  const x2 = f64x2.sqrt(add(add(mul(ux, ux), mul(uy, uy)), mul(uz, uz)));
  const over = f64x2.div(c(1), x2);
  const a0 = mul(ux, over);
  const a1 = mul(uy, over);
  const a2 = mul(uz, over);
  let nx = sub(mul(uy, vz), mul(uz, vy));
  let ny = sub(mul(uz, vx), mul(ux, vz));
  let nz = sub(mul(ux, vy), mul(uy, vx));
  const n = f64x2.div(c(1), f64x2.sqrt(add(add(mul(nx, nx), mul(ny, ny)), mul(nz, nz))));
  nx = mul(nx, n);
  ny = mul(ny, n);
  nz = mul(nz, n);
  const a3 = sub(mul(ny, a2), mul(nz, a1));
  const a4 = sub(mul(nz, a0), mul(nx, a2));
  const a5 = sub(mul(nx, a1), mul(ny, a0));
  const x3 = add(add(mul(vx, a0), mul(vy, a1)), mul(vz, a2));
  const y3 = add(add(mul(vx, a3), mul(vy, a4)), mul(vz, a5));
  const axes = w + AXES;
  put(axes, 0, a0);
  put(axes, 1, a1);
  put(axes, 2, a2);
  put(axes, 3, a3);
  put(axes, 4, a4);
  put(axes, 5, a5);
  put(axes, 6, nx);
  put(axes, 7, ny);
  put(axes, 8, nz);
  membrane(w, x2, x3, y3, h, e, poisson);
  bending(w, x2, x3, y3, h, e, poisson);
  turn(w);
}

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

function membrane(w: usize, x2: v128, x3: v128, y3: v128, h: v128, e: v128, poisson: f64): void {
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

function bending(w: usize, x2: v128, x3: v128, y3: v128, h: v128, e: v128, poisson: f64): void {
  const out = w + BENDING;
  for (let i: usize = 0; i < 81; i++) put(out, i, c(0));
  const d = mul(mul(e, mul(h, mul(h, h))), c(1 / (12 * (1 - poisson * poisson))));
  const weight = mul(d, mul(mul(x2, y3), c(1.0 / 6)));
  const d12 = mul(weight, c(poisson));
  const d33 = mul(weight, c(0.5 * (1 - poisson)));
  const b = w + CURVATURE;
  for (let point = 0; point < 3; point++) {
    curvatureRows(w, x2, x3, y3, point === 2 ? 0 : 0.5, point === 0 ? 0 : 0.5);
    for (let i: usize = 0; i < 9; i++) {
      const b0 = get(b, i);
      const b1 = get(b, 9 + i);
      const m0 = add(mul(weight, b0), mul(d12, b1));
      const m1 = add(mul(d12, b0), mul(weight, b1));
      const m2 = mul(d33, get(b, 18 + i));
      for (let j: usize = 0; j < 9; j++)
        put(
          out,
          9 * i + j,
          add(
            get(out, 9 * i + j),
            add(add(mul(m0, get(b, j)), mul(m1, get(b, 9 + j))), mul(m2, get(b, 18 + j))),
          ),
        );
    }
  }
}

function curvatureRows(w: usize, x2: v128, x3: v128, y3: v128, xi: f64, eta: f64): void {
  const x12 = neg(x2);
  const x23 = sub(x2, x3);
  const x31 = x3;
  const y23 = neg(y3);
  const y31 = y3;
  const over12 = f64x2.div(c(1), mul(x12, x12));
  const over23 = f64x2.div(c(1), add(mul(x23, x23), mul(y23, y23)));
  const over31 = f64x2.div(c(1), add(mul(x31, x31), mul(y31, y31)));
  const p4 = mul(mul(c(-6), x23), over23);
  const p5 = mul(mul(c(-6), x31), over31);
  const p6 = mul(mul(c(-6), x12), over12);
  const t4 = mul(mul(c(-6), y23), over23);
  const t5 = mul(mul(c(-6), y31), over31);
  const q4 = mul(mul(c(3), mul(x23, y23)), over23);
  const q5 = mul(mul(c(3), mul(x31, y31)), over31);
  const r4 = mul(mul(c(3), mul(y23, y23)), over23);
  const r5 = mul(mul(c(3), mul(y31, y31)), over31);
  const u = c(1 - 2 * xi);
  const v = c(1 - 2 * eta);
  const s = c(xi);
  const t = c(eta);
  const scale = f64x2.div(c(1), mul(x2, y3));
  // Side 1-2 lies along the first axis: its t, q and r of the paper are zero.
  row(
    w,
    0,
    scale,
    y31,
    x31,
    x12,
    add(mul(p6, u), mul(sub(p5, p6), t)),
    mul(t5, t),
    sub(neg(mul(p5, v)), mul(s, sub(p6, p5))),
    sub(neg(mul(t5, v)), neg(mul(s, t5))),
  );
  row(
    w,
    1,
    scale,
    y31,
    x31,
    x12,
    neg(mul(q5, t)),
    sub(c(1), mul(t, r5)),
    sub(mul(q5, v), mul(s, q5)),
    sub(add(c(1), mul(r5, v)), mul(s, r5)),
  );
  row(
    w,
    2,
    scale,
    y31,
    x31,
    x12,
    sub(c(-4 + 6 * (xi + eta)), mul(t, r5)),
    mul(t, q5),
    sub(add(c(-4 + 6 * (xi + eta)), mul(r5, v)), mul(s, r5)),
    add(neg(mul(q5, v)), mul(s, q5)),
  );
  row(
    w,
    3,
    scale,
    y31,
    x31,
    x12,
    add(neg(mul(p6, u)), mul(t, add(p4, p6))),
    mul(t, t4),
    mul(s, add(p4, p6)),
    mul(s, t4),
  );
  row(w, 4, scale, y31, x31, x12, mul(t, q4), add(c(-1), mul(t, r4)), mul(s, q4), mul(s, r4));
  row(
    w,
    5,
    scale,
    y31,
    x31,
    x12,
    add(c(-2 + 6 * xi), mul(t, r4)),
    neg(mul(t, q4)),
    mul(s, r4),
    neg(mul(s, q4)),
  );
  row(
    w,
    6,
    scale,
    y31,
    x31,
    x12,
    neg(mul(t, add(p5, p4))),
    neg(mul(t, add(t4, t5))),
    sub(mul(p5, v), mul(s, add(p4, p5))),
    sub(mul(t5, v), mul(s, add(t4, t5))),
  );
  row(
    w,
    7,
    scale,
    y31,
    x31,
    x12,
    mul(t, sub(q4, q5)),
    mul(t, sub(r4, r5)),
    add(mul(q5, v), mul(s, sub(q4, q5))),
    add(add(c(-1), mul(r5, v)), mul(s, sub(r4, r5))),
  );
  row(
    w,
    8,
    scale,
    y31,
    x31,
    x12,
    neg(mul(t, sub(r5, r4))),
    neg(mul(t, sub(q4, q5))),
    add(add(c(-2 + 6 * eta), mul(r5, v)), mul(s, sub(r4, r5))),
    sub(neg(mul(q5, v)), mul(s, sub(q4, q5))),
  );
}

/** Curvatures xx, yy, 2xy of one unknown from its slope derivatives. */
function row(
  w: usize,
  i: usize,
  s: v128,
  y31: v128,
  x31: v128,
  x12: v128,
  hxXi: v128,
  hyXi: v128,
  hxEta: v128,
  hyEta: v128,
): void {
  const b = w + CURVATURE;
  put(b, i, mul(s, mul(y31, hxXi)));
  put(b, 9 + i, neg(mul(s, add(mul(x31, hyXi), mul(x12, hyEta)))));
  put(b, 18 + i, mul(s, sub(mul(y31, hyXi), add(mul(x31, hxXi), mul(x12, hxEta)))));
}

/** Global axes: out = Eᵀ·(local 3 × 3 blocks)·E for the lower corner pairs. */
function turn(w: usize): void {
  const m = w + MEMBRANE;
  const b = w + BENDING;
  let block = w + BLOCKS;
  for (let i: usize = 0; i < 3; i++)
    for (let j: usize = 0; j <= i; j++) {
      const k: usize = 27 * i + 3 * j;
      spread(w, block, 0, get(m, k), get(m, k + 1), get(m, k + 9), get(m, k + 10), get(b, k));
      cross(w, block, 3, get(m, k + 2), get(m, k + 11), get(b, k + 1), get(b, k + 2));
      cross(w, block, 18, get(b, k + 9), get(b, k + 18), get(m, k + 18), get(m, k + 19));
      spread(w, block, 21, get(b, k + 10), get(b, k + 11), get(b, k + 19), get(b, k + 20), get(m, k + 20));
      block += 36 << 4;
    }
}

/** In the plane l00 l01 l10 l11, along the normal nn. */
function spread(
  w: usize,
  block: usize,
  at: usize,
  l00: v128,
  l01: v128,
  l10: v128,
  l11: v128,
  nn: v128,
): void {
  const e = w + AXES;
  const t = w + TURNED;
  for (let j: usize = 0; j < 3; j++) {
    const e1 = get(e, j);
    const e2 = get(e, 3 + j);
    put(t, j, add(mul(l00, e1), mul(l01, e2)));
    put(t, 3 + j, add(mul(l10, e1), mul(l11, e2)));
    put(t, 6 + j, mul(nn, get(e, 6 + j)));
  }
  untwist(w, block, at);
}

/** Plane rows against the normal column (a, b), the normal row against plane columns (d, f). */
function cross(w: usize, block: usize, at: usize, a: v128, b: v128, d: v128, f: v128): void {
  const e = w + AXES;
  const t = w + TURNED;
  for (let j: usize = 0; j < 3; j++) {
    const n = get(e, 6 + j);
    put(t, j, mul(a, n));
    put(t, 3 + j, mul(b, n));
    put(t, 6 + j, add(mul(d, get(e, j)), mul(f, get(e, 3 + j))));
  }
  untwist(w, block, at);
}

function untwist(w: usize, block: usize, at: usize): void {
  const e = w + AXES;
  const t = w + TURNED;
  for (let i: usize = 0; i < 3; i++) {
    const e1 = get(e, i);
    const e2 = get(e, 3 + i);
    const n = get(e, 6 + i);
    for (let j: usize = 0; j < 3; j++)
      put(block, at + 6 * i + j, add(add(mul(e1, get(t, j)), mul(e2, get(t, 3 + j))), mul(n, get(t, 6 + j))));
  }
}
