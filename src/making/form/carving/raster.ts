const TURN = 2 * Math.PI;

/** A grid of square cells over the unrolled wall; the middle of cell (c, r) is at (c · cell, bottom + r · cell). */
export interface Grid {
  readonly columns: number;
  readonly rows: number;
  readonly cell: number;
  readonly bottom: number;
}

/** Calls back for each cell whose middle lies inside a closed line on the unrolled wall (even-odd, row by row). */
export const cellsInside = (
  grid: Grid,
  line: { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> },
  visit: (index: number) => void,
): void => {
  const { columns, rows, cell, bottom } = grid;
  const n = line.x.length;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < n; i++) [low, high] = [Math.min(low, line.y[i]), Math.max(high, line.y[i])];
  const first = Math.max(0, Math.ceil((low - bottom) / cell));
  for (let r = first; r < rows && bottom + r * cell <= high; r++) {
    const y = bottom + r * cell;
    const cuts: number[] = [];
    for (let i = 0; i < n; i++) {
      const j = (i + 1) % n;
      if (line.y[i] <= y === line.y[j] <= y) continue;
      cuts.push(line.x[i] + ((y - line.y[i]) / (line.y[j] - line.y[i])) * (line.x[j] - line.x[i]));
    }
    cuts.sort((a, b) => a - b);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const start = Math.ceil(cuts[k] / cell);
      for (let c = start; c * cell <= cuts[k + 1] && c < start + columns; c++)
        visit(r * columns + (((c % columns) + columns) % columns));
    }
  }
};

export const gridOver = (bottom: number, top: number, columns: number): Grid => {
  const cell = TURN / columns;
  return { columns, cell, bottom, rows: Math.max(2, Math.ceil((top - bottom) / cell) + 1) };
};
