import { bending } from './bending';
import { AXES, add, BENDING, BLOCKS, COORDINATES, c, get, MEMBRANE, mul, put, sub, TURNED } from './lanes';
import { membrane } from './membrane';

/**
 * The shell triangle (the twin of src/kernel/shell/{element,membrane,bending}.ts, where sources and formulae are told),
 * two triangles at a time: one in each lane.
 */
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
