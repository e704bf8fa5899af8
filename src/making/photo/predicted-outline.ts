import { contours } from 'd3-contour';
import type { WallMesh } from '../../kernel/mesh/mesh.ts';
import { solidOf } from '../../kernel/mesh/solid.ts';
import type { Camera } from './camera.ts';
import { type Ring, ringArea } from './ring.ts';

/** From which side the fired piece is seen. */
export interface Seen {
  /** Degrees from x as it stood in the kiln to the side where the camera stands. */
  readonly from_deg: number;
  /** The lens and where the piece's axis is in its plane; without it, seen from afar. */
  readonly camera?: Camera & { readonly axis_x_m: number };
}

const CELL_m = 0.0001;
const MOST_CELLS = 1800;

/** Across and up of every node in the plane of the axis, seen from afar or through a lens. */
const onPlane = (p: Float64Array, { from_deg, camera }: Seen): Float64Array => {
  const a = (from_deg * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  const flat = new Float64Array((2 * p.length) / 3);
  for (let i = 0; i < flat.length / 2; i++) {
    const [x, y, z] = p.subarray(3 * i, 3 * i + 3);
    const across = -s * x + c * y;
    if (!camera) {
      flat.set([across, z], 2 * i);
      continue;
    }
    const nearer = c * x + s * y;
    const lens = camera.x_m - camera.axis_x_m;
    const t = camera.distance_m / (camera.distance_m - nearer);
    flat.set([lens + t * (across - lens), camera.z_m + t * (z - camera.z_m)], 2 * i);
  }
  return flat;
};

/** Marks the cells whose middles a triangle covers; cells of unit size. */
const cover = (cells: Uint8Array, width: number, a: number[], b: number[], c: number[]): void => {
  const height = cells.length / width;
  const low = Math.max(0, Math.ceil(Math.min(a[1], b[1], c[1]) - 0.5));
  const high = Math.min(height - 1, Math.floor(Math.max(a[1], b[1], c[1]) - 0.5));
  for (let y = low; y <= high; y++) {
    let [left, right] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ]) {
      if (p[1] > y + 0.5 === q[1] > y + 0.5) continue;
      const x = p[0] + ((y + 0.5 - p[1]) / (q[1] - p[1])) * (q[0] - p[0]);
      left = Math.min(left, x);
      right = Math.max(right, x);
    }
    if (!(right > left)) continue;
    cells.fill(1, y * width + Math.max(0, Math.ceil(left - 0.5)), y * width + Math.floor(right - 0.5) + 1);
  }
};

/**
 * Outline of a fired piece as a photograph shows it, m: x across from its axis, z above the shelf, anticlockwise. By
 * laying its triangles over cells of 0.1 mm (a large piece: an 1800th of its size) and following their edge. Openings
 * through which one sees are left out.
 */
export const predictedOutline = (wall: WallMesh, seen: Seen): Ring => {
  const { positions, triangles } = solidOf(wall);
  const flat = onPlane(positions, seen);
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < flat.length; i += 2) {
    [left, right] = [Math.min(left, flat[i]), Math.max(right, flat[i])];
    [low, high] = [Math.min(low, flat[i + 1]), Math.max(high, flat[i + 1])];
  }
  const cell = Math.max(CELL_m, Math.max(right - left, high - low) / MOST_CELLS);
  const width = Math.ceil((right - left) / cell) + 4;
  const height = Math.ceil((high - low) / cell) + 4;
  const at = (n: number): number[] => [(flat[2 * n] - left) / cell + 2, (flat[2 * n + 1] - low) / cell + 2];
  const cells = new Uint8Array(width * height);
  for (let t = 0; t < triangles.length; t += 3)
    cover(cells, width, at(triangles[t]), at(triangles[t + 1]), at(triangles[t + 2]));
  // The library reads the values by number only; its types ask for a plain list.
  const [shape] = contours().size([width, height]).thresholds([0.5])(cells as unknown as number[]);
  const rings = shape.coordinates.map(([outer]) =>
    Float64Array.from(outer.slice(0, -1).flatMap(([x, y]) => [left + (x - 2) * cell, low + (y - 2) * cell])),
  );
  const ring = rings.sort((a, b) => Math.abs(ringArea(b)) - Math.abs(ringArea(a)))[0];
  if (ringArea(ring) > 0) return ring;
  const turned = new Float64Array(ring.length);
  for (let i = 0; i < ring.length; i += 2) turned.set(ring.subarray(i, i + 2), ring.length - 2 - i);
  return turned;
};
