import { badInput } from '../../error.ts';
import { type Box, MARGIN_mm, PAPERS, type Page, type PageElement, type Paper } from '../paper/page.ts';
import { frameOf } from '../paper/shapes.ts';

/** Things of one size, side by side on plain paper, to cut out: neighbours share a cut. */

export interface Size {
  readonly width_mm: number;
  readonly height_mm: number;
}

const CUT_mm = 0.1;

export const cutOut = <T>(
  things: readonly T[],
  paper: Paper,
  size: Size,
  draw: (thing: T, box: Box) => readonly PageElement[],
): Page[] => {
  const { width_mm, height_mm } = PAPERS[paper];
  const free = { width: width_mm - 2 * MARGIN_mm - CUT_mm, height: height_mm - 2 * MARGIN_mm - CUT_mm };
  const columns = Math.floor(free.width / size.width_mm);
  const rows = Math.floor(free.height / size.height_mm);
  if (columns < 1 || rows < 1)
    throw badInput(
      'size',
      `${size.width_mm} × ${size.height_mm} mm`,
      `at most ${Math.floor(free.width)} × ${Math.floor(free.height)} mm on this paper`,
    );
  const left = (width_mm - columns * size.width_mm) / 2;
  const boxAt = (place: number): Box => {
    const x = left + (place % columns) * size.width_mm;
    const y = MARGIN_mm + CUT_mm / 2 + Math.floor(place / columns) * size.height_mm;
    return { left: x, top: y, right: x + size.width_mm, bottom: y + size.height_mm };
  };
  const each = columns * rows;
  const pages = Math.ceil(things.length / each);
  return Array.from({ length: pages }, (_, p) => ({
    paper,
    elements: things.slice(p * each, (p + 1) * each).flatMap((thing, i) => {
      const box = boxAt(i);
      return [frameOf(box, CUT_mm), ...draw(thing, box)];
    }),
  }));
};
