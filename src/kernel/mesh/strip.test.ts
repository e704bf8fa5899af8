import { expect, test } from 'vitest';
import { boundaryLoops, sheetFaults } from './edges.ts';
import { fan, stitchRings } from './strip.ts';

const ring = (first: number, n: number, phase = 0) => ({
  nodes: Array.from({ length: n }, (_, k) => first + k),
  angles: Array.from({ length: n }, (_, k) => phase + (2 * Math.PI * k) / n),
});

const strip = (n: number, m: number, phase = 0): number[] => {
  const [a, b] = [ring(0, n), ring(n, m, phase)];
  const out: number[] = [];
  stitchRings(a.nodes, a.angles, b.nodes, b.angles, out);
  return out;
};

test('any two rings give one strip of n + m triangles with two rims (Euler: nodes - edges + faces = 0)', () => {
  for (const n of [3, 5, 8, 12, 31])
    for (const m of [3, 6, 8, 20, 31])
      for (const phase of [0, 0.1, -2.9, 7.5]) {
        const t = Uint32Array.from(strip(n, m, phase));
        expect(t.length).toBe(3 * (n + m));
        expect(sheetFaults(t, n + m)).toEqual({
          doubledEdges: 0,
          looseNodes: 0,
          pinchedNodes: 0,
          flatTriangles: 0,
        });
        expect(
          boundaryLoops(t, n + m)
            .map((l) => l.length)
            .sort(),
        ).toEqual([n, m].sort());
      }
});

test('even rings give a pattern that is its own mirror image', () => {
  for (const [n, m] of [
    [12, 12],
    [12, 24],
    [20, 16],
    [10, 5],
  ]) {
    const mirror = (node: number): number => (node < n ? (n - node) % n : n + ((m - (node - n)) % m));
    const keys = (t: readonly number[]): Set<string> => {
      const out = new Set<string>();
      for (let i = 0; i < t.length; i += 3) out.add([t[i], t[i + 1], t[i + 2]].sort((a, b) => a - b).join());
      return out;
    };
    const t = strip(n, m);
    expect(keys(t.map(mirror))).toEqual(keys(t));
  }
});

test('a fan closes the middle', () => {
  const out: number[] = [];
  fan(0, [1, 2, 3, 4, 5], out);
  expect(boundaryLoops(Uint32Array.from(out), 6).map((l) => l.length)).toEqual([5]);
});
