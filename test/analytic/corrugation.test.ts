import { expect, test } from 'vitest';
import { solveHeld } from '../../src/kernel/shell/lagged.ts';
import { assemble, makeShellSystem } from '../../src/kernel/shell/system.ts';
import { type Grid, grid, hold, type Point, symmetry } from '../meshes.ts';

/**
 * What fluting buys: check-values/physics.md 7.1, exact thin-wall section of a sinus z = f·sin(2πx/λ), thickness t:
 * I per projected width against t³/12. A fluted wall is stiffer than a flat one along the flutes (also common
 * practice, no source), and slightly softer across them.
 */
const stiffness = (g: Grid, t: number, force: Float64Array, held: Uint8Array): Float64Array => {
  const s = makeShellSystem(g.positions, g.triangles);
  assemble(s, g.positions, new Float64Array(g.triangles.length / 3).fill(t), { modulus: 1e6, poisson: 0 });
  const v = solveHeld(s, force, held);
  if (!v) throw new Error('mechanism');
  return v;
};

/** Tip deflection of a long strip half a wave wide (symmetry at both sides), bent along the ribs by an end load. */
const alongRibs = (f: number, wave: number, t: number): number => {
  const [m, n, length] = [12, 60, 30 * wave];
  const g = grid(m, n, (u, v): Point => [(wave / 2) * u, length * v, f * Math.cos(Math.PI * u)]);
  const held = new Uint8Array(6 * g.nodes);
  const force = new Float64Array(6 * g.nodes);
  for (let i = 0; i <= m; i++) {
    for (let j = 0; j <= n; j++) if (i === 0 || i === m) hold(held, g.id(i, j), symmetry.x);
    hold(held, g.id(i, 0), [0, 1, 2, 3, 4, 5]);
    force[6 * g.id(i, n) + 2] = (i === 0 || i === m ? 0.5 : 1) / m;
  }
  const v = stiffness(g, t, force, held);
  return v[6 * g.id(m / 2, n) + 2];
};

/** Turn of the end of five waves in a row under an end moment across the ribs. */
const acrossRibs = (f: number, wave: number, t: number): number => {
  const [m, n] = [120, 2];
  const g = grid(m, n, (u, v): Point => [5 * wave * u, 2 * v, f * Math.sin(10 * Math.PI * u)]);
  const held = new Uint8Array(6 * g.nodes);
  const force = new Float64Array(6 * g.nodes);
  for (let j = 0; j <= n; j++) {
    hold(held, g.id(0, j), [0, 1, 2, 3, 4, 5]);
    force[6 * g.id(m, j) + 4] = (j === 0 || j === n ? 0.5 : 1) / n;
  }
  return stiffness(g, t, force, held)[6 * g.id(m, 1) + 4];
};

test.each([
  [1, 20, 2, 2.4949],
  [2, 20, 2, 7.2016],
  [3, 20, 2, 15.714],
  [5, 30, 3, 19.5362],
])(
  'flutes of depth %d, wave %d, wall %d: %d times as stiff along them as flat, within 2 %',
  (f, wave, t, ratio) => {
    expect(Math.abs(alongRibs(0, wave, t) / alongRibs(f, wave, t) / ratio - 1)).toBeLessThan(0.02);
  },
);

test.each([
  [2, 20, 2, 0.9154],
  [3, 15, 2, 0.7572],
])('flutes of depth %d, wave %d, wall %d: %d times as stiff across them, within 2 %', (f, wave, t, ratio) => {
  expect(Math.abs(acrossRibs(0, wave, t) / acrossRibs(f, wave, t) / ratio - 1)).toBeLessThan(0.02);
});
