import { expect, test } from 'vitest';
import { poseOf } from './pose.ts';
import { turnBack } from './set-down.ts';

test('a pose takes every node of the piece as drawn to where it stands; turning back undoes its turn', () => {
  // A quarter turn about y, x to -z and z to x, then shifted.
  const turn = Float64Array.of(0, 0, -1, 0, 1, 0, 1, 0, 0);
  const drawn = Float64Array.of(0.1, 0.2, 0.3, -0.4, 0.5, 0.6);
  const set = Float64Array.of(0.3 + 1, 0.2 + 2, -0.1 + 3, 0.6 + 1, 0.5 + 2, 0.4 + 3);
  const wall = { positions: drawn, triangles: new Uint32Array(0), thickness_m: new Float64Array(2) };
  const pose = poseOf(wall, { turn, positions: set });
  for (const c of [0, 1, 2]) expect(pose.shift_m[c]).toBeCloseTo(c + 1, 12);
  const unshifted = set.map((x, i) => x - pose.shift_m[i % 3]);
  const back = turnBack(unshifted, turn);
  for (let i = 0; i < 6; i++) expect(back[i]).toBeCloseTo(drawn[i], 12);
});
