import type { CarvedOutline, Carving, DepthMap } from './carving-shape.ts';
import { outlineOf, radians, type Spot, spotsOf } from './lay.ts';
import type { Polygon } from './outline.ts';
import type { Unrolled } from './unroll.ts';

/** mm carved off the outside at a place of the section (mm) and an angle; nothing beyond `from` and `to`. */
export interface Depth {
  readonly at: (length: number, angle_rad: number) => number;
  readonly from: number;
  readonly to: number;
}

const TURN = 2 * Math.PI;
/** Squares across the larger side of an outline's box in its table of depths. */
const SQUARES = 72;

/** How far inside the polygon a point lies, mm; negative outside. */
const insideBy = ({ x, y }: Polygon, px: number, py: number): number => {
  let [inside, square] = [false, Number.POSITIVE_INFINITY];
  for (let i = 0, j = x.length - 1; i < x.length; j = i++) {
    const [ex, ey] = [x[i] - x[j], y[i] - y[j]];
    const [wx, wy] = [px - x[j], py - y[j]];
    const t = Math.min(1, Math.max(0, (wx * ex + wy * ey) / (ex * ex + ey * ey)));
    square = Math.min(square, (wx - t * ex) ** 2 + (wy - t * ey) ** 2);
    if (y[i] > py !== y[j] > py && px < (ex * (py - y[j])) / ey + x[j]) inside = !inside;
  }
  return inside ? Math.sqrt(square) : -Math.sqrt(square);
};

interface DepthTable {
  readonly at: (u: number, v: number) => number;
  readonly reach: number;
}

/** Depth by place in the outline's own box, looked up between squares. */
const tableOf = (c: CarvedOutline, polygons: readonly Polygon[]): DepthTable => {
  let reach = 0;
  for (const { x, y } of polygons)
    for (let i = 0; i < x.length; i++) reach = Math.max(reach, Math.abs(x[i]), Math.abs(y[i]));
  const side = (2 * reach) / SQUARES;
  const n = SQUARES + 1;
  const depth = new Float64Array(n * n);
  for (let r = 0; r < n; r++)
    for (let k = 0; k < n; k++) {
      // A plain step where there is no bevel, half a square wide.
      const bevel = Math.max(c.bevel_mm, 0.5 * side);
      for (const polygon of polygons) {
        const d = insideBy(polygon, k * side - reach, r * side - reach);
        depth[r * n + k] = Math.max(depth[r * n + k], c.depth_mm * Math.min(1, Math.max(0, d / bevel)));
      }
    }
  const at = (u: number, v: number): number => {
    const [gx, gy] = [(u + reach) / side, (v + reach) / side];
    if (!(gx > 0 && gy > 0 && gx < SQUARES && gy < SQUARES)) return 0;
    const [k, r] = [Math.floor(gx), Math.floor(gy)];
    const [fx, fy] = [gx - k, gy - r];
    const row = (i: number): number => depth[i * n + k] + fx * (depth[i * n + k + 1] - depth[i * n + k]);
    return row(r) + fy * (row(r + 1) - row(r));
  };
  return { at, reach };
};

const outlineDepth = (c: CarvedOutline, wall: Unrolled): Depth => {
  const { at, reach } = tableOf(c, outlineOf(c).polygons);
  const rows = spotsOf(c, wall).filter((spot: Spot) => spot.copy === 0);
  const step = TURN / c.count;
  const depth = (length: number, angle: number): number => {
    const rise = wall.rise(length);
    let deepest = 0;
    for (const first of rows) {
      if (Math.abs(rise - first.rise) > reach) continue;
      const copy = first.angle_rad + step * Math.round((angle - first.angle_rad) / step);
      const u = wall.scale(length) * (wall.x(length, angle) - wall.x(length, copy));
      deepest = Math.max(deepest, at(u, rise - first.rise));
    }
    return deepest;
  };
  const [low, high] = [rows[0].rise - reach, rows[rows.length - 1].rise + reach];
  return { at: depth, from: wall.lengthOfRise(low), to: wall.lengthOfRise(high) };
};

const mapDepth = (c: DepthMap, wall: Unrolled): Depth => {
  const [low, high] = [c.alongFrom, c.alongTo].map((a) => wall.rise(wall.lengthAtAlong(a)));
  const [rows, columns] = [c.map.length, c.map[0].length];
  const start = radians(c.angle_deg);
  const at = (length: number, angle: number): number => {
    const up = (wall.rise(length) - low) / (high - low);
    if (up < 0 || up > 1 || length < wall.from - 1e-9) return 0;
    const round = ((wall.x(length, angle) - wall.x(length, start)) / TURN) * c.count;
    const gx = (round - Math.floor(round)) * columns;
    const gy = (1 - up) * (rows - 1);
    const [k, r] = [Math.floor(gx) % columns, Math.min(rows - 2, Math.floor(gy))];
    const [fx, fy] = [gx - Math.floor(gx), gy - r];
    const row = (i: number): number => c.map[i][k] + fx * (c.map[i][(k + 1) % columns] - c.map[i][k]);
    return c.depth_mm * (row(r) + fy * (row(r + 1) - row(r)));
  };
  return { at, from: wall.lengthOfRise(low), to: wall.lengthOfRise(high) };
};

/** Depth of one relief. */
export const depthOf = (c: CarvedOutline | DepthMap, wall: Unrolled): Depth =>
  'map' in c ? mapDepth(c, wall) : outlineDepth(c, wall);

/** What all reliefs take off; where two lie over one another the deeper counts. Undefined when there is none. */
export const reliefDepth = (carving: readonly Carving[], wall: Unrolled): Depth | undefined => {
  const depths = carving.flatMap((c) => (c.kind === 'relief' ? [depthOf(c, wall)] : []));
  if (depths.length === 0) return undefined;
  return {
    at: (length, angle) => depths.reduce((deepest, depth) => Math.max(deepest, depth.at(length, angle)), 0),
    from: Math.min(...depths.map((depth) => depth.from)),
    to: Math.max(...depths.map((depth) => depth.to)),
  };
};
