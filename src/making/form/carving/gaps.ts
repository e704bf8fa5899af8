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
/** Nothing within reach. */
const NOTHING = -3;

/** Cells are about this many mm. */
const CELL = 3;
/** Clay counts as across when it lies at least this much (cosine) on the outer side of the outline. */
const OUTWARD = 0.3;
/** Beside lip and floor spacing grows from one side only, so that the clay there asks for a finer rim. */
const TO_EDGE = 0.75;

/** Samples of all outlines in chains by square cells of the unrolled wall, x closing round on itself. */
interface Chains {
  readonly cell: number;
  readonly columns: number;
  readonly rows: number;
  readonly low: number;
  readonly head: Int32Array;
  readonly next: Int32Array;
  /** Outline and sample of each entry. */
  readonly line: Int32Array;
  readonly sample: Int32Array;
}

const columnOf = (x: number, columns: number): number =>
  Math.floor((x / TURN - Math.floor(x / TURN)) * columns) % columns;

const chainsOf = (lines: readonly LineOnWall[], cell: number): Chains => {
  const count = lines.reduce((sum, line) => sum + line.x.length, 0);
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { y } of lines) for (const one of y) [low, high] = [Math.min(low, one), Math.max(high, one)];
  const columns = Math.max(1, Math.floor(TURN / cell));
  const rows = Math.floor((high - low) / cell) + 1;
  const head = new Int32Array(columns * rows).fill(-1);
  const [next, line, sample] = [new Int32Array(count), new Int32Array(count), new Int32Array(count)];
  let at = 0;
  lines.forEach(({ x, y }, l) => {
    for (let i = 0; i < x.length; i++, at++) {
      const k = Math.floor((y[i] - low) / cell) * columns + columnOf(x[i], columns);
      [line[at], sample[at], next[at]] = [l, i, head[k]];
      head[k] = at;
    }
  });
  return { cell, columns, rows, low, head, next, line, sample };
};

/** Writes dx, dy and distance in the plane from a point to the line's two pieces next to sample j. */
const toPieces = (line: LineOnWall, j: number, x: number, y: number, out: Float64Array): void => {
  const n = line.x.length;
  const lap = Math.round((line.x[j] - x) / TURN) * TURN;
  out[2] = Number.POSITIVE_INFINITY;
  for (let side = 0; side < 2; side++) {
    const k = (j + n - 1 + side) % n;
    const m = (k + 1) % n;
    const [ax, ay] = [line.x[k] - lap - x, line.y[k] - y];
    const [ex, ey] = [line.x[m] - line.x[k], line.y[m] - line.y[k]];
    const t = Math.min(1, Math.max(0, -(ax * ex + ay * ey) / (ex * ex + ey * ey || 1)));
    const [dx, dy] = [ax + t * ex, ay + t * ey];
    const d = Math.sqrt(dx * dx + dy * dy);
    if (d >= out[2]) continue;
    out[0] = dx;
    out[1] = dy;
    out[2] = d;
  }
};

/** Nearest outline out from sample i of outline l within `most` of the plane: its distance and number. */
const nearestOut = (
  lines: readonly LineOnWall[],
  chains: Chains,
  l: number,
  i: number,
  most: number,
): { readonly d: number; readonly of: number } => {
  const { cell, columns, rows, low, head, next } = chains;
  const { x, y } = lines[l];
  const n = x.length;
  const [a, b] = [(i + n - 1) % n, (i + 1) % n];
  // Counter-clockwise: clay is on the right of the way.
  const [tx, ty] = [x[b] - x[a], y[b] - y[a]];
  const size = Math.hypot(tx, ty) || 1;
  const [nx, ny] = [ty / size, -tx / size];
  const [c, r] = [columnOf(x[i], columns), Math.floor((y[i] - low) / cell)];
  const found = new Float64Array(3);
  let [best, of] = [most, NOTHING];
  const look = (at: number): void => {
    const [other, j] = [chains.line[at], chains.sample[at]];
    const far = lines[other];
    // Most pairs fall out here: behind the outline, or farther than the best and a piece's length.
    const [px, py] = [wayRound(x[i], far.x[j]), far.y[j] - y[i]];
    if (px * nx + py * ny < -far.longest || px * px + py * py > (best + far.longest) ** 2) return;
    if (other === l && Math.min((j - i + n) % n, (i - j + n) % n) < 4) return;
    toPieces(far, j, x[i], y[i], found);
    if (found[2] < best && found[0] * nx + found[1] * ny >= OUTWARD * found[2])
      [best, of] = [found[2], other];
  };
  for (let ring = 0; 2 * ring <= columns && (ring - 1) * cell < best; ring++)
    for (let row = Math.max(0, r - ring); row <= Math.min(rows - 1, r + ring); row++) {
      // Inner rows of the ring have only its two sides.
      const step = ring > 0 && Math.abs(row - r) < ring ? 2 * ring : 1;
      for (let dc = -ring; dc <= ring; dc += step)
        for (let at = head[row * columns + ((c + dc + columns) % columns)]; at >= 0; at = next[at]) look(at);
    }
  return { d: best, of };
};

/** Measures the clay beside every outline, out to `reach` mm. */
export const gapsOf = (wall: Unrolled, lines: readonly LineOnWall[], reach: number): Gaps => {
  const clay = lines.map((line) => new Float64Array(line.x.length));
  let narrowest = { width: Number.POSITIVE_INFINITY, of: 0, across: LIP };
  if (lines.length === 0) return { clay, narrowest };
  const widest = lines.reduce((a, line) => line.length.reduce((b, s) => Math.max(b, wall.scale(s)), a), 0);
  const chains = chainsOf(lines, CELL / widest);
  const [bottom, top] = [wall.rise(wall.from), wall.rise(wall.to)];
  lines.forEach((line, l) => {
    for (let i = 0; i < line.x.length; i++) {
      const scale = wall.scale(line.length[i]);
      const rise = wall.rise(line.length[i]);
      let [width, across] = [reach, NOTHING];
      if (top - rise < width) [width, across] = [top - rise, LIP];
      if (rise - bottom < width) [width, across] = [rise - bottom, FLOOR];
      const { d, of } = nearestOut(lines, chains, l, i, width / scale);
      if (of >= 0) [width, across] = [d * scale, of];
      clay[l][i] = across === LIP || across === FLOOR ? TO_EDGE * width : width;
      if (width < narrowest.width) narrowest = { width, of: l, across };
    }
  });
  return { clay, narrowest };
};
