/** Spacing wanted at a place of the unrolled wall, in units of the plane. */
export type Spacing = (x: number, y: number) => number;

const TURN = 2 * Math.PI;
/** No two nodes nearer than this share of the spacing. */
const NEAR = 0.78;
/** Six neighbours first, in line with the parent; then a finer look for the places left empty. */
const LOOKS = [
  { directions: 6, offset: 0, reach: 1 },
  { directions: 12, offset: Math.PI / 12, reach: 0.92 },
] as const;

/** Nodes in square cells, chained; x closes round on itself. */
const chainsOf = (cell: number, bottom: number, top: number) => {
  const columns = Math.max(3, Math.floor(TURN / cell));
  const rows = Math.max(1, Math.ceil((top - bottom) / cell) + 2);
  const head = new Int32Array(columns * rows).fill(-1);
  const next: number[] = [];
  const [xs, ys]: [number[], number[]] = [[], []];
  const columnOf = (x: number): number => Math.floor((x / TURN) * columns);
  const rowOf = (y: number): number => Math.min(rows - 1, Math.max(0, Math.floor((y - bottom) / cell) + 1));
  const add = (x: number, y: number): void => {
    const c = ((columnOf(x) % columns) + columns) % columns;
    const k = rowOf(y) * columns + c;
    next.push(head[k]);
    head[k] = xs.length;
    xs.push(x);
    ys.push(y);
  };
  const free = (x: number, y: number, within: number): boolean => {
    const square = within * within;
    const [r0, r1] = [rowOf(y - within), rowOf(y + within)];
    const c0 = columnOf(x - within);
    const c1 = Math.min(columnOf(x + within), c0 + columns - 1);
    for (let r = r0; r <= r1; r++)
      for (let c = c0; c <= c1; c++)
        for (let i = head[r * columns + (((c % columns) + columns) % columns)]; i >= 0; i = next[i]) {
          const away = Math.abs(xs[i] - x) % TURN;
          const dx = away > Math.PI ? TURN - away : away;
          const dy = ys[i] - y;
          if (dx * dx + dy * dy < square) return false;
        }
    return true;
  };
  return { xs, ys, add, free };
};

/**
 * Fills the band bottom..top round the fixed nodes: each node in turn, rims first, gives its neighbours at the
 * spacing wanted there, where there is room (an advancing front of discs; after K. Shimada and D. Gossard,
 * Computer Aided Geometric Design 15 (1998) 199-222, without their relaxing, which comes later).
 * @param towards direction of each fixed node in which the first neighbour is tried, rad
 * @returns x, y of fixed nodes and new ones
 */
export const fillBand = (
  fixed: {
    readonly x: ArrayLike<number>;
    readonly y: ArrayLike<number>;
    readonly towards: ArrayLike<number>;
  },
  spacing: Spacing,
  bottom: number,
  top: number,
  most: number,
): { readonly x: number[]; readonly y: number[] } => {
  let finest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < fixed.x.length; i++) finest = Math.min(finest, spacing(fixed.x[i], fixed.y[i]));
  const { xs, ys, add, free } = chainsOf(Math.max(2 * finest, 0.004), bottom, top);
  for (let i = 0; i < fixed.x.length; i++) add(fixed.x[i], fixed.y[i]);
  const towards: number[] = Array.from(fixed.towards);
  for (const { directions, offset, reach } of LOOKS)
    for (let i = 0; i < xs.length && xs.length < most; i++) {
      const size = spacing(xs[i], ys[i]);
      for (let k = 0; k < directions; k++) {
        const angle = towards[i] + offset + (TURN * k) / directions;
        const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
        // The step is that wanted half way.
        const middle = Math.min(top, Math.max(bottom, ys[i] + 0.5 * size * sin));
        const half = spacing(xs[i] + 0.5 * size * cos, middle);
        const [x, y] = [xs[i] + reach * half * cos, ys[i] + reach * half * sin];
        if (y <= bottom || y >= top) continue;
        const here = spacing(x, y);
        if (y < bottom + 0.5 * here || y > top - 0.5 * here || !free(x, y, NEAR * here)) continue;
        add(x, y);
        towards.push(angle);
      }
    }
  return { x: xs, y: ys };
};
