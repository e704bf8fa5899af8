import type { PageElement } from '../paper/page.ts';

/** True-size drawings for protocols, mm, from their own top left corner. */

type Point = readonly [number, number];
const line = (
  points_mm: readonly Point[],
  more: { closed?: boolean; dashed?: boolean; width_mm?: number } = {},
): PageElement => ({
  kind: 'line',
  points_mm,
  width_mm: 0.3,
  ...more,
});
const text = (x_mm: number, y_mm: number, said: string, size_mm = 2.6): PageElement => ({
  kind: 'text',
  x_mm,
  y_mm,
  size_mm,
  text: said,
});
const box = (x: number, y: number, w: number, h: number, more = {}): PageElement =>
  line(
    [
      [x, y],
      [x + w, y],
      [x + w, y + h],
      [x, y + h],
    ],
    { closed: true, ...more },
  );

/** 100 mm to lay a ruler on: a print that was fitted to the page shows at once. */
export const checkRuler = (): PageElement[] => {
  const marks = Array.from({ length: 11 }, (_, i): PageElement => {
    const long = i % 5 === 0 ? 5 : 3;
    return line([
      [10 * i, 6],
      [10 * i, 6 - long],
    ]);
  });
  return [
    line([
      [0, 6],
      [100, 6],
    ]),
    ...marks,
    text(103, 6, '100 mm'),
  ];
};

/** A bar seen from above, to cut wet clay by. */
export const barOutline = (length: number, width: number, marks?: { apart: number }): PageElement[] => {
  const of = [box(0, 0, length, width), text(2, width - 2, `${length} × ${width} mm, wet`)];
  if (!marks) return of;
  const left = (length - marks.apart) / 2;
  const cross = (x: number): PageElement[] => [
    line([
      [x, width / 2 - 4],
      [x, width / 2 + 4],
    ]),
    line([
      [x - 2, width / 2],
      [x + 2, width / 2],
    ]),
  ];
  return [
    ...of,
    ...cross(left),
    ...cross(left + marks.apart),
    text(left + 4, width / 2 - 1, `${marks.apart} mm between the marks`),
  ];
};

/** The bar on its two supports, from the side. */
export const barOnSupports = (
  span: number,
  length: number,
  thickness: number,
  height: number,
): PageElement[] => {
  const foot = 16;
  const left = Math.max(0, length / 2 - span / 2);
  const shelf = thickness + height;
  const edge = (x: number, out: number): PageElement =>
    box(Math.min(x, x + out), thickness, Math.abs(out), height);
  return [
    box(0, 0, length, thickness),
    edge(left, -Math.min(foot, left)),
    edge(left + span, Math.min(foot, left)),
    line([
      [0, shelf],
      [length, shelf],
    ]),
    line(
      [
        [left, thickness + 6],
        [left + span, thickness + 6],
      ],
      { dashed: true },
    ),
    text(left + span / 2 - 18, thickness + 10, `span ${span} mm, edge to edge`),
    text(left + span / 2 - 18, shelf - 2, `shelf ${height} mm lower`),
  ];
};

/** A quarter circle to hold a cone against and read its bend. */
export const bendGauge = (radius: number): PageElement[] => {
  const at = (deg: number, r: number): Point => {
    const a = (deg * Math.PI) / 180;
    return [r * Math.sin(a), radius + 4 - r * Math.cos(a)];
  };
  const arc = Array.from({ length: 31 }, (_, i) => at(3 * i, radius));
  const ticks = Array.from({ length: 10 }, (_, i): PageElement[] => {
    const [x, y] = at(10 * i, radius + 2);
    return [
      line([at(10 * i, i % 3 === 0 ? 0 : radius - 5), at(10 * i, radius)]),
      text(x, y, `${10 * i}°`, 2.4),
    ];
  });
  return [line(arc), ...ticks.flat()];
};

/** Cones as they are set, to write on. */
export const conesInARow = (names: readonly string[]): PageElement[] =>
  names.flatMap((name, i) => {
    const x = 24 * i;
    return [
      line(
        [
          [x, 42],
          [x + 12, 42],
          [x + 9, 2],
        ],
        { closed: true },
      ),
      text(x, 47, `cone ${name}`),
    ];
  });
