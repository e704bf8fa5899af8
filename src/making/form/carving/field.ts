import type { LineOnWall } from './line-on-wall.ts';
import type { Unrolled } from './unroll.ts';

/** Wanted spacing of nodes over the unrolled wall on a grid of square cells, mm; grows slowly away from the openings. */
export interface Field {
  readonly columns: number;
  readonly rows: number;
  readonly cell: number;
  readonly bottom: number;
  readonly need: Float64Array;
  readonly at: (x: number, y: number) => number;
}

const TURN = 2 * Math.PI;
/** Spacing grows by this much for each mm away. */
export const GROWTH = 0.33;
const MOST_CELLS = 60_000;
const MOST_COLUMNS = 400;

const emptyGrid = (wall: Unrolled, finest: number): Field => {
  const [bottom, top] = [wall.y(wall.from), wall.y(wall.to)];
  let widest = 0;
  for (let i = 0; i <= 32; i++)
    widest = Math.max(widest, wall.scale(wall.from + ((wall.to - wall.from) * i) / 32));
  let columns = Math.min(MOST_COLUMNS, Math.max(48, Math.ceil((TURN * widest) / finest)));
  const rowsFor = (n: number): number => Math.max(2, Math.ceil(((top - bottom) * n) / TURN) + 1);
  while (columns > 24 && columns * rowsFor(columns) > MOST_CELLS) columns = Math.floor(columns * 0.9);
  const cell = TURN / columns;
  const rows = rowsFor(columns);
  const need = new Float64Array(columns * rows).fill(1e9);
  const at = (x: number, y: number): number => {
    const gx = ((((x % TURN) + TURN) % TURN) / TURN) * columns;
    const gy = Math.min(rows - 1.000001, Math.max(0, (y - bottom) / cell));
    const [c, r] = [Math.floor(gx) % columns, Math.floor(gy)];
    const [fx, fy] = [gx - Math.floor(gx), gy - r];
    const next = (c + 1) % columns;
    const low = need[r * columns + c] * (1 - fx) + need[r * columns + next] * fx;
    const high = need[(r + 1) * columns + c] * (1 - fx) + need[(r + 1) * columns + next] * fx;
    return low + fy * (high - low);
  };
  return { columns, rows, cell, bottom, need, at };
};

/** Lets the need spread over the grid, growing with the way: two sweeps each way of a chamfer distance. */
const spread = ({ columns, rows, cell, bottom, need }: Field, wall: Unrolled): void => {
  const step = Float64Array.from(
    { length: rows },
    (_, r) => GROWTH * cell * wall.scale(wall.lengthOfY(bottom + r * cell)),
  );
  const from = (here: number, r: number, c: number, by: number): void => {
    if (r < 0 || r >= rows) return;
    const other = need[r * columns + ((c + columns) % columns)] + by;
    if (other < need[here]) need[here] = other;
  };
  for (let pass = 0; pass < 2; pass++) {
    for (let r = 0; r < rows; r++)
      for (let c = 0; c < columns; c++) {
        const here = r * columns + c;
        from(here, r, c - 1, step[r]);
        from(here, r - 1, c, step[r]);
        from(here, r - 1, c - 1, Math.SQRT2 * step[r]);
        from(here, r - 1, c + 1, Math.SQRT2 * step[r]);
      }
    for (let r = rows - 1; r >= 0; r--)
      for (let c = columns - 1; c >= 0; c--) {
        const here = r * columns + c;
        from(here, r, c + 1, step[r]);
        from(here, r + 1, c, step[r]);
        from(here, r + 1, c - 1, Math.SQRT2 * step[r]);
        from(here, r + 1, c + 1, Math.SQRT2 * step[r]);
      }
  }
};

/** The field that gives each sample of each outline the spacing (mm) wished for there. */
export const needField = (
  wall: Unrolled,
  lines: readonly LineOnWall[],
  wishes: readonly Float64Array[],
): Field => {
  const finest = wishes.reduce((a, list) => list.reduce((b, x) => Math.min(b, x), a), 1e9);
  const field = emptyGrid(wall, finest);
  const { columns, rows, cell, bottom, need } = field;
  lines.forEach((line, l) => {
    for (let i = 0; i < line.x.length; i++) {
      const c = Math.round(line.x[i] / cell);
      const r = Math.min(rows - 1, Math.max(0, Math.round((line.y[i] - bottom) / cell)));
      const here = r * columns + (((c % columns) + columns) % columns);
      need[here] = Math.min(need[here], wishes[l][i]);
    }
  });
  spread(field, wall);
  return field;
};
