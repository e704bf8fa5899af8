import { expect, test } from 'vitest';
import { inverse, leastAbove } from './bounded.ts';

/** Second differences of a string, n inner points. */
const string = (n: number): Float64Array => {
  const a = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    a[i * n + i] = 2;
    if (i > 0) a[i * n + i - 1] = a[(i - 1) * n + i] = -1;
  }
  return a;
};

test('a string pressed on a flat floor: touches where the exact parabola says', () => {
  // -u'' = -1 on 0..L, u(0) = u(L) = h, u ≥ 0: free ends are parabolas h(1 - x/s)² with s = √(2h) (elementary).
  const [n, L, h] = [399, 4, 0.5];
  const dx = L / (n + 1);
  const b = new Float64Array(n).fill(-dx * dx);
  b[0] += h;
  b[n - 1] += h;
  const found = leastAbove(string(n), b, new Float64Array(n), new Uint8Array(n));
  if (!found) throw new Error('no answer');
  const s = Math.sqrt(2 * h);
  for (let i = 0; i < n; i++) {
    const x = Math.min((i + 1) * dx, L - (i + 1) * dx);
    const exact = x < s ? h * (1 - x / s) ** 2 : 0;
    expect(Math.abs(found.x[i] - exact)).toBeLessThan(1e-4); // dx² = 1e-4
  }
});

test('least power under bounds equals trying every set of supports', () => {
  const n = 7;
  let seed = 5;
  const next = () => {
    seed = (Math.imul(1664525, seed) + 1013904223) >>> 0;
    return seed / 2147483648 - 1;
  };
  for (let trial = 0; trial < 30; trial++) {
    const g = Float64Array.from({ length: n * n }, next);
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        for (let k = 0; k < n; k++) a[i * n + j] += g[k * n + i] * g[k * n + j];
        if (i === j) a[i * n + j] += 0.05;
      }
    const b = Float64Array.from({ length: n }, next);
    const low = Float64Array.from({ length: n }, () => 0.3 * next());
    const power = (x: Float64Array): number => {
      let p = 0;
      for (let i = 0; i < n; i++) {
        p -= b[i] * x[i];
        for (let j = 0; j < n; j++) p += 0.5 * x[i] * a[i * n + j] * x[j];
      }
      return p;
    };
    let best = Number.POSITIVE_INFINITY;
    for (let set = 0; set < 1 << n; set++) {
      const free = [...Array(n).keys()].filter((i) => !(set & (1 << i)));
      const sub = new Float64Array(free.length ** 2);
      free.forEach((i, r) => {
        free.forEach((j, c) => {
          sub[r * free.length + c] = a[i * n + j];
        });
      });
      const inv = free.length > 0 ? (inverse(sub, free.length) as Float64Array) : sub;
      const x = low.slice();
      free.forEach((_, r) => {
        let s = 0;
        free.forEach((j, c) => {
          let right = b[j];
          for (let k = 0; k < n; k++) if (set & (1 << k)) right -= a[j * n + k] * low[k];
          s += inv[r * free.length + c] * right;
        });
        x[free[r]] = s;
      });
      if (x.every((v, i) => v >= low[i] - 1e-12)) best = Math.min(best, power(x));
    }
    const found = leastAbove(a, b, low, new Uint8Array(n).fill(1));
    if (!found) throw new Error('no answer');
    expect(Math.abs(power(found.x) - best)).toBeLessThan(1e-9);
  }
});
