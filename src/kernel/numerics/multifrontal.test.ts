import { expect, test } from 'vitest';
import { grid, type Point } from '../../../test/meshes.ts';
import { blockMatrixOf, multiply } from './block-matrix.ts';
import { conjugateGradients, dot } from './conjugate-gradients.ts';
import { dissect, graphOfTriangles } from './dissection.ts';
import { planFronts } from './front-plan.ts';
import { complianceOf, factorise, makeFactor, solveFactored } from './multifrontal.ts';

/** Slow oracle: Gaussian elimination with pivoting on the full matrix (any textbook). */
const eliminate = (a: number[][], b: number[]): number[] => {
  const n = b.length;
  const m = a.map((row, i) => [...row, b[i]]);
  for (let k = 0; k < n; k++) {
    let p = k;
    for (let i = k; i < n; i++) if (Math.abs(m[i][k]) > Math.abs(m[p][k])) p = i;
    [m[k], m[p]] = [m[p], m[k]];
    for (let i = k + 1; i < n; i++) {
      const f = m[i][k] / m[k][k];
      for (let j = k; j <= n; j++) m[i][j] -= f * m[k][j];
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let i = n - 1; i >= 0; i--) {
    let s = m[i][n];
    for (let j = i + 1; j < n; j++) s -= m[i][j] * x[j];
    x[i] = s / m[i][i];
  }
  return x;
};

/** A reproducible stream of numbers in -1..1 (linear congruence of Numerical Recipes; seed stated). */
const stream = (seed: number) => () => {
  seed = (Math.imul(1664525, seed) + 1013904223) >>> 0;
  return seed / 2147483648 - 1;
};

const system = (n: number, m: number) => {
  const g = grid(n, m, (u, v): Point => [u, 1.3 * v, 0.2 * u * v]);
  const graph = graphOfTriangles(g.nodes, g.triangles);
  const cut = dissect(graph, g.positions);
  const rank = new Int32Array(g.nodes);
  cut.order.forEach((node, k) => {
    rank[node] = k;
  });
  const matrix = blockMatrixOf(graph, rank, cut.order);
  const next = stream(7);
  const size = 6 * g.nodes;
  const full = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let j = 0; j < g.nodes; j++)
    for (let k = matrix.start[j]; k < matrix.start[j + 1]; k++) {
      const i = matrix.row[k];
      for (let r = 0; r < 6; r++)
        for (let c = 0; c < 6; c++) {
          const mirrored = i === j && c > r;
          const v = mirrored ? matrix.values[36 * k + 6 * c + r] : next() + (i === j && r === c ? 60 : 0);
          if (i === j && c > r) continue;
          matrix.values[36 * k + 6 * r + c] = v;
          if (i === j) matrix.values[36 * k + 6 * c + r] = v;
          full[6 * i + r][6 * j + c] = v;
          full[6 * j + c][6 * i + r] = v;
        }
    }
  return { g, cut, matrix, full, size, next };
};

test('the order is a permutation, and every part stands after its children', () => {
  const { cut, g } = system(9, 7);
  expect([...cut.order].sort((a, b) => a - b)).toEqual(Array.from({ length: g.nodes }, (_, i) => i));
  cut.parent.forEach((p, s) => {
    expect(p === -1 || p > s).toBe(true);
  });
});

test('multifrontal solution, refined, equals Gaussian elimination to 1e-12, some unknowns held', () => {
  const { cut, matrix, full, size, next } = system(8, 6);
  const held = new Uint8Array(size);
  for (let i = 0; i < size; i += 17) held[i] = 1;
  const b = Float64Array.from({ length: size }, () => next());
  for (let i = 0; i < size; i++) if (held[i]) b[i] = 0;
  const a = full.map((row, i) => row.map((v, j) => (held[i] || held[j] ? (i === j ? 1 : 0) : v)));
  const exact = eliminate(a, [...b]);
  const f = makeFactor(planFronts(matrix, cut), matrix);
  expect(factorise(f, matrix, held)).toBe(true);
  // The solves run in single precision; two rounds of refinement with the full product restore the rest.
  const x = new Float64Array(size);
  for (let round = 0; round < 4; round++) {
    const r = b.map((v, i) => v - a[i].reduce((s, w, j) => s + w * x[j], 0));
    if (round === 1) expect(Math.max(...r.map(Math.abs))).toBeLessThan(1e-5); // one solve alone is that good
    solveFactored(f, r);
    for (let i = 0; i < size; i++) x[i] += r[i];
  }
  let worst = 0;
  x.forEach((v, i) => {
    worst = Math.max(worst, Math.abs(v - exact[i]));
  });
  expect(worst).toBeLessThan(1e-12);
});

test('a matrix that is not positive definite is refused, not divided by', () => {
  const { cut, matrix, size } = system(3, 3);
  matrix.values[36 * matrix.start[4]] = -5;
  const f = makeFactor(planFronts(matrix, cut), matrix);
  expect(factorise(f, matrix, new Uint8Array(size))).toBe(false);
});

test('block product equals the full product, and conjugate gradients reach the same solution', () => {
  const { matrix, full, size, next } = system(6, 5);
  const x = Float64Array.from({ length: size }, () => next());
  const y = new Float64Array(size);
  multiply(matrix, x, y);
  full.forEach((row, i) => {
    expect(Math.abs(row.reduce((s, v, j) => s + v * x[j], 0) - y[i])).toBeLessThan(1e-11);
  });
  const z = new Float64Array(size);
  const apply = (p: Float64Array, ap: Float64Array) => multiply(matrix, p, ap);
  const rounds = conjugateGradients(
    apply,
    (r, out) => out.set(r),
    z,
    y.slice(),
    Math.sqrt(dot(y, y)),
    1e-13,
    200,
  );
  expect(rounds).toBeGreaterThan(0);
  z.forEach((v, i) => {
    expect(Math.abs(v - x[i])).toBeLessThan(1e-9);
  });
});

test('compliance of some unknowns equals those entries of the inverse', () => {
  const { cut, matrix, full, size } = system(7, 6);
  const f = makeFactor(planFronts(matrix, cut), matrix);
  expect(factorise(f, matrix, new Uint8Array(size))).toBe(true);
  const some = [2, 8, 44, 51, 100, 101, 170, 200, 260, 299, 301];
  const s = complianceOf(
    f,
    some.map((u) => ({ at: [u], value: [1] })),
  );
  some.forEach((u, i) => {
    const column = eliminate(
      full,
      full.map((_, k) => (k === u ? 1 : 0)),
    );
    some.forEach((w, j) => {
      expect(Math.abs(s[i * some.length + j] - column[w])).toBeLessThan(1e-12);
    });
  });
});
