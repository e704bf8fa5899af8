import type { CutLine, CutPoint } from './section.ts';
import { pathOf, tag } from './svg.ts';

type OnPaper = (u_m: number, z_m: number) => readonly [number, number];

const outside = (p: CutPoint, at: OnPaper) => at(p.u_m + p.halfU_m, p.z_m + p.halfZ_m);
const inside = (p: CutPoint, at: OnPaper) => at(p.u_m - p.halfU_m, p.z_m - p.halfZ_m);

const isClosed = (line: CutLine): boolean => line.length > 3 && line[0] === line.at(-1);

/** The two lines of a wall and its ends, as one closed outline; a ring is two closed lines. */
export const outlineOf = (line: CutLine, at: OnPaper): string => {
  const outer = line.map((p) => outside(p, at));
  const inner = line.map((p) => inside(p, at));
  if (isClosed(line)) return pathOf(outer.slice(1), true) + pathOf(inner.slice(1), true);
  return pathOf([...outer, ...inner.reverse()], true);
};

/** So many shades: enough to read the wall, few enough that neighbours join into one shape. */
const SHADES = 24;

/** The wall filled by its value; runs of one shade are one shape, each reaching a hair into the next to leave no seam. */
export const shadedWall = (
  line: CutLine,
  at: OnPaper,
  most: number,
  colour: (share: number) => string,
): string => {
  const shades = line.slice(1).map((p, i) => {
    const mean = (p.value + line[i].value) / 2;
    return Math.min(SHADES, Math.round((SHADES * mean) / most));
  });
  const shapes: string[] = [];
  for (let from = 0; from < shades.length; ) {
    let to = from + 1;
    while (to < shades.length && shades[to] === shades[from]) to++;
    const run = line.slice(from, to + 1);
    const fill = colour(shades[from] / SHADES);
    const d = pathOf([...run.map((p) => outside(p, at)), ...run.map((p) => inside(p, at)).reverse()], true);
    shapes.push(tag('path', { d, fill, stroke: fill, 'stroke-width': 0.06 }));
    from = to;
  }
  return shapes.join('');
};
