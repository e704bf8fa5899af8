import { add, BENDING, CURVATURE, c, get, mul, neg, put, sub } from './lanes';

/** Fills BENDING: the discrete Kirchhoff triangle (the twin of src/kernel/shell/bending.ts). */
export function bending(w: usize, x2: v128, x3: v128, y3: v128, h: v128, e: v128, poisson: f64): void {
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
