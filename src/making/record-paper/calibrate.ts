import { fitted, placedText } from '../paper/fitted.ts';
import { type Box, boxOf, type Page, type PageElement, type PaperSize } from '../paper/page.ts';
import { apart, cross, inset, stroke } from '../paper/shapes.ts';
import { inkOf, type LabelSheet, labelAt } from './label-sheet.ts';

/** A page that shows whether a printer prints at true size, and by how much it is off. */

/** From both edges of the paper to each cross. */
export const CROSS_mm = 20;
/** Between crosses and words. */
const AIR_mm = 8;
const CORNER_mm = 2;

const ruler = (x: number, y: number, length: number, down: boolean): PageElement[] => {
  const at = (along: number, out: number): readonly [number, number] =>
    down ? [x + out, y + along] : [x + along, y + out];
  const marks = Array.from({ length: length + 1 }, (_, i) =>
    stroke([at(i, 0), at(i, i % 10 === 0 ? 4 : i % 5 === 0 ? 3 : 1.8)], 0.1),
  );
  return [stroke([at(0, 0), at(length, 0)], 0.1), ...marks];
};

/** The corners of a label, as far as a printer reaches. */
const corners = (label: Box, ink: Box): PageElement[] =>
  [label.left, label.right].flatMap((x) =>
    [label.top, label.bottom].flatMap((y) => {
      const right = x === label.left ? 1 : -1;
      const down = y === label.top ? 1 : -1;
      const inside =
        Math.min(x, x + right * CORNER_mm) >= ink.left &&
        Math.max(x, x + right * CORNER_mm) <= ink.right &&
        Math.min(y, y + down * CORNER_mm) >= ink.top &&
        Math.max(y, y + down * CORNER_mm) <= ink.bottom;
      return inside
        ? [
            stroke(
              [
                [x + right * CORNER_mm, y],
                [x, y],
                [x, y + down * CORNER_mm],
              ],
              0.1,
            ),
          ]
        : [];
    }),
  );

const words = (length: number, labels: boolean): string =>
  [
    `Print at 100 %, not fitted to the page. Lay a ruler on both scales: they are ${length} mm long. Where they are not, look for "actual size" in the printing window.`,
    `Each cross lies ${CROSS_mm} mm from both edges of the paper. Where the left ones lie further from the edge by 1 mm, and the upper ones nearer by 0.5 mm, print with --shift=-1,0.5.`,
    ...(labels ? ['Hold this page against the light behind a sheet of labels: the corners must meet.'] : []),
  ].join(' ');

export const calibratePage = (size: PaperSize, labels?: LabelSheet): Page => {
  const { width_mm, height_mm } = size;
  const ink = inkOf(size);
  const free = inset({ left: 0, top: 0, right: width_mm, bottom: height_mm }, CROSS_mm + AIR_mm);
  const length = Math.min(
    100,
    10 * Math.floor(Math.min(free.right - free.left, free.bottom - free.top) / 10),
  );
  const crosses = [CROSS_mm, width_mm - CROSS_mm].flatMap((x) =>
    [CROSS_mm, height_mm - CROSS_mm].flatMap((y) => cross(x, y, 5)),
  );
  const said = fitted(words(length, labels !== undefined), {
    width_mm: free.right - free.left - AIR_mm,
    height_mm: free.bottom - free.top - AIR_mm,
    most_mm: 4,
    least_mm: 1.6,
  });
  const drawn = [
    ...(length > 0
      ? [...ruler(free.left, free.top, length, false), ...ruler(free.left, free.top, length, true)]
      : []),
    ...(said ? placedText(said, free.left + AIR_mm, free.top + AIR_mm) : []),
  ];
  const taken = drawn.map(boxOf);
  const places = labels
    ? Array.from({ length: labels.columns * labels.rows }, (_, i) => labelAt(labels, i))
    : [];
  return {
    paper: { width_mm, height_mm },
    elements: [
      ...crosses,
      ...places
        .flatMap((label) => corners(label, ink))
        .filter((corner) => taken.every((box) => apart(boxOf(corner), box))),
      ...drawn,
    ],
  };
};
