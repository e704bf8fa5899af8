import { expect, test } from 'vitest';
import { outlineMeasures, widthAt } from './outline-measures.ts';
import { predictedOutline } from './predicted-outline.ts';

/** A tube: mid radius, wall and height in m, its axis on z. */
const tube = (radius: number, wall: number, high: number, around = 360) => {
  const rings = 11;
  const positions = new Float64Array(3 * rings * around);
  const triangles: number[] = [];
  for (let r = 0; r < rings; r++)
    for (let k = 0; k < around; k++) {
      const a = (2 * Math.PI * k) / around;
      positions.set(
        [radius * Math.cos(a), radius * Math.sin(a), (high * r) / (rings - 1)],
        3 * (r * around + k),
      );
      if (r + 1 === rings) continue;
      const [p, q] = [r * around + k, r * around + ((k + 1) % around)];
      triangles.push(p, q, q + around, p, q + around, p + around);
    }
  return {
    positions,
    triangles: Uint32Array.from(triangles),
    thickness_m: new Float64Array(rings * around).fill(wall),
  };
};

test('a tube from afar is a rectangle as wide as it is outside', () => {
  const ring = predictedOutline(tube(0.04, 0.004, 0.1), { from_deg: 37 });
  const m = outlineMeasures(ring);
  expect(m.height_m).toBeCloseTo(0.1, 4);
  expect(m.widest_m).toBeCloseTo(0.084, 4);
  expect(widthAt(ring, 0.05)).toBeCloseTo(0.084, 4);
});

test('a tube through a lens is wider by the right triangle of axis, lens and touching point', () => {
  const [R, D] = [0.042, 0.6];
  const camera = { x_m: 0.2, z_m: 0.05, distance_m: D, axis_x_m: 0.2 };
  const ring = predictedOutline(tube(0.04, 0.004, 0.1), { from_deg: 0, camera });
  expect(widthAt(ring, 0.05)).toBeCloseTo((2 * R) / Math.sqrt(1 - (R / D) ** 2), 4);
  // Its near lip edge stands nearer: 50 mm over the lens's height, seen larger by D/(D − R).
  const { height_m } = outlineMeasures(ring);
  expect(height_m).toBeCloseTo(0.05 + (0.05 * D) / (D - R), 4);
});

test('a piece that lies over to x leans to the right when seen from −y', () => {
  const wall = tube(0.04, 0.004, 0.1);
  for (let i = 0; i < wall.positions.length; i += 3) wall.positions[i] += 0.1 * wall.positions[i + 2];
  expect(outlineMeasures(predictedOutline(wall, { from_deg: -90 })).lean_m).toBeCloseTo(0.01, 3);
  expect(outlineMeasures(predictedOutline(wall, { from_deg: 90 })).lean_m).toBeCloseTo(-0.01, 3);
  expect(outlineMeasures(predictedOutline(wall, { from_deg: 0 })).lean_m).toBeCloseTo(0, 3);
});
