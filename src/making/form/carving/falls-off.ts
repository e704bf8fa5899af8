import type { LineOnWall } from './line-on-wall.ts';
import { cellsInside, type Grid, gridOver } from './raster.ts';
import type { Unrolled } from './unroll.ts';

/** A part of the wall that nothing joins to the foot any more. */
export interface LoosePart {
  readonly area_mm2: number;
  /** From where to where on the section, mm. */
  readonly from: number;
  readonly to: number;
  /** Whether it goes all the way round. */
  readonly allRound: boolean;
  /** A place of it: unrolled x. */
  readonly x: number;
  /** The group that bounds it along the most cells. */
  readonly by: number;
}

const COLUMNS = 480;
/** Crumbs of fewer cells are the grid's own. */
const CRUMB = 4;

/** Cells joined to the given ones without crossing a cut one; x closes round. Marks them 1 in `state`. */
const flood = (state: Uint8Array, columns: number, start: number[]): number[] => {
  const reached: number[] = [];
  const stack = start;
  for (let at = stack.pop(); at !== undefined; at = stack.pop()) {
    if (state[at]) continue;
    state[at] = 1;
    reached.push(at);
    const [c, row] = [at % columns, at - (at % columns)];
    for (const next of [
      row + ((c + 1) % columns),
      row + ((c + columns - 1) % columns),
      at + columns,
      at - columns,
    ])
      if (next >= 0 && next < state.length && !state[next]) stack.push(next);
  }
  return reached;
};

/** Which group cuts each cell away; -1 where wall stands. */
const cutCells = (grid: Grid, groups: readonly (readonly LineOnWall[])[]): Int32Array => {
  const owner = new Int32Array(grid.rows * grid.columns).fill(-1);
  groups.forEach((lines, g) => {
    const inside = new Map<number, boolean>();
    for (const line of lines)
      cellsInside(grid, line, (k) => {
        inside.set(k, !inside.get(k));
      });
    for (const [k, is] of inside) if (is) owner[k] = g;
  });
  return owner;
};

/**
 * Parts of the wall that fall off when everything is cut through, largest first.
 * @param groups the outlines of one copy of a carving each; within a group one outline inside another leaves the
 *   inner one standing, as a drawing is filled (even-odd), and it falls out
 */
export const looseParts = (wall: Unrolled, groups: readonly (readonly LineOnWall[])[]): LoosePart[] => {
  const grid = gridOver(wall.y(wall.from), wall.y(wall.to), COLUMNS);
  const { columns, cell, bottom } = grid;
  const owner = cutCells(grid, groups);
  const cut = owner.map((l) => (l >= 0 ? 1 : 0));
  const state = Uint8Array.from(cut);
  flood(
    state,
    columns,
    Array.from({ length: columns }, (_, c) => c),
  );
  const parts: LoosePart[] = [];
  for (let k = 0; k < state.length; k++) {
    if (state[k]) continue;
    const cells = flood(state, columns, [k]);
    if (cells.length < CRUMB) continue;
    const bounds = new Map<number, number>();
    let area_mm2 = 0;
    for (const at of cells) {
      area_mm2 += (cell * wall.scale(wall.lengthOfY(bottom + cell * Math.floor(at / columns)))) ** 2;
      for (const next of [at - columns, at + columns, at - 1, at + 1])
        if (owner[next] >= 0) bounds.set(owner[next], (bounds.get(owner[next]) ?? 0) + 1);
    }
    const row = (at: number): number => wall.lengthOfY(bottom + cell * Math.floor(at / columns));
    parts.push({
      area_mm2,
      from: row(cells.reduce((a, b) => Math.min(a, b))),
      to: row(cells.reduce((a, b) => Math.max(a, b))),
      allRound: new Set(cells.map((at) => at % columns)).size === columns,
      x: (cells[cells.length >> 1] % columns) * cell,
      by: [...bounds].reduce((a, b) => (b[1] > a[1] ? b : a), [0, 0])[0],
    });
  }
  return parts.sort((a, b) => b.area_mm2 - a.area_mm2);
};
