import type { LineOnWall } from './line-on-wall.ts';
import { wayRound } from './relax.ts';
import type { Unrolled } from './unroll.ts';

/** How much clay stands beside each sample of each outline. */
export interface Gaps {
  /** mm of clay out from the sample to the next outline (of that to lip or floor a part), by outline; at most `reach`. */
  readonly clay: readonly Float64Array[];
  /** The narrowest place: mm, the outline and the one across (-1: the lip, -2: the floor or a tube's lower edge). */
  readonly narrowest: { readonly width: number; readonly of: number; readonly across: number };
}

const TURN = 2 * Math.PI;
export const LIP = -1;
export const FLOOR = -2;

/** Samples of all outlines in square cells of the unrolled wall, x closing round on itself. */
const bucketsOf = (lines: readonly LineOnWall[], cell: number) => {
  const columns = Math.max(1, Math.floor(TURN / cell));
  const cells = new Map<number, number[]>();
  const column = (x: number): number => Math.floor(((((x % TURN) + TURN) % TURN) / TURN) * columns) % columns;
  const key = (c: number, r: number): number => r * columns + (((c % columns) + columns) % columns);
  lines.forEach((line, l) => {
    for (let i = 0; i < line.x.length; i++) {
      const k = key(column(line.x[i]), Math.floor(line.y[i] / cell));
      const list = cells.get(k);
      if (list) list.push(l, i);
      else cells.set(k, [l, i]);
    }
  });
  return { cells, column, key, columns };
};

/** Distance in the plane from a point to the line's pieces next to sample j, with the nearest lap of x. */
const toPieces = (line: LineOnWall, j: number, x: number, y: number) => {
  const n = line.x.length;
  let best = { d: Number.POSITIVE_INFINITY, dx: 0, dy: 0 };
  const lap = Math.round((line.x[j] - x) / TURN) * TURN;
  for (const k of [(j + n - 1) % n, j]) {
    const m = (k + 1) % n;
    const [ax, ay] = [line.x[k] - lap - x, line.y[k] - y];
    const [ex, ey] = [line.x[m] - line.x[k], line.y[m] - line.y[k]];
    const t = Math.min(1, Math.max(0, -(ax * ex + ay * ey) / (ex * ex + ey * ey || 1)));
    const [dx, dy] = [ax + t * ex, ay + t * ey];
    const d = Math.hypot(dx, dy);
    if (d < best.d) best = { d, dx, dy };
  }
  return best;
};

/** Cells are about this many mm. */
const CELL = 3;
/** Clay counts as across when it lies at least this much (cosine) on the outer side of the outline. */
const OUTWARD = 0.3;

/** Beside lip and floor spacing grows from one side only, so that the clay there asks for a finer rim. */
const TO_EDGE = 0.75;

export const gapsOf = (wall: Unrolled, lines: readonly LineOnWall[], reach: number): Gaps => {
  const clay = lines.map((line) => new Float64Array(line.x.length).fill(reach));
  let narrowest = { width: Number.POSITIVE_INFINITY, of: 0, across: LIP };
  const widest = lines.reduce(
    (a, line) => line.length.reduce((b, s) => Math.max(b, wall.scale(s)), a),
    Number.MIN_VALUE,
  );
  const cell = CELL / widest;
  const { cells, column, key, columns } = bucketsOf(lines, cell);
  const [bottom, top] = [wall.rise(wall.from), wall.rise(wall.to)];
  lines.forEach((line, l) => {
    const n = line.x.length;
    for (let i = 0; i < n; i++) {
      const [a, b] = [(i + n - 1) % n, (i + 1) % n];
      // Counter-clockwise: clay is on the right of the way.
      const [tx, ty] = [line.x[b] - line.x[a], line.y[b] - line.y[a]];
      const size = Math.hypot(tx, ty) || 1;
      const [nx, ny] = [ty / size, -tx / size];
      const scale = wall.scale(line.length[i]);
      const rise = wall.rise(line.length[i]);
      let [width, across] = [Math.min(reach, top - rise), LIP];
      if (rise - bottom < width) [width, across] = [rise - bottom, FLOOR];
      const [c, r] = [column(line.x[i]), Math.floor(line.y[i] / cell)];
      const most = Math.min(Math.ceil(reach / (scale * cell)), columns);
      for (let ring = 0; ring <= most && (ring - 1) * cell * scale < width; ring++)
        for (let dr = -ring; dr <= ring; dr++) {
          const step = Math.abs(dr) === ring ? 1 : 2 * ring;
          for (let dc = -ring; dc <= ring; dc += step || 1) {
            const list = cells.get(key(c + dc, r + dr));
            if (list === undefined) continue;
            for (let k = 0; k < list.length; k += 2) {
              const [other, j] = [list[k], list[k + 1]];
              // Most pairs fall out here: behind the outline, or farther than the best and a piece's length.
              const px = wayRound(line.x[i], lines[other].x[j]);
              const py = lines[other].y[j] - line.y[i];
              const slack = lines[other].longest;
              if (px * nx + py * ny < -slack || px * px + py * py > (width / scale + slack) ** 2) continue;
              if (other === l && Math.min((j - i + n) % n, (i - j + n) % n) < 4) continue;
              const to = toPieces(lines[other], j, line.x[i], line.y[i]);
              if (to.dx * nx + to.dy * ny < OUTWARD * to.d) continue;
              if (to.d * scale < width) [width, across] = [to.d * scale, other];
            }
          }
        }
      clay[l][i] = across < 0 ? TO_EDGE * width : width;
      if (width < narrowest.width) narrowest = { width, of: l, across };
    }
  });
  return { clay, narrowest };
};
