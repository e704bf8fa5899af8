import type { Box, PageElement } from './page.ts';

/** A few shapes in mm that several papers draw. */

type Point = readonly [number, number];

export const stroke = (
  points_mm: readonly Point[],
  width_mm = 0.2,
  more: { readonly closed?: boolean; readonly dashed?: boolean } = {},
): PageElement => ({ kind: 'line', points_mm, width_mm, ...more });

export const frameOf = (
  { left, top, right, bottom }: Box,
  width_mm = 0.2,
  more: { readonly dashed?: boolean } = {},
): PageElement =>
  stroke(
    [
      [left, top],
      [right, top],
      [right, bottom],
      [left, bottom],
    ],
    width_mm,
    { closed: true, ...more },
  );

export const circle = (x: number, y: number, radius: number): PageElement =>
  stroke(
    Array.from({ length: 48 }, (_, i) => {
      const a = (i * Math.PI) / 24;
      return [x + radius * Math.cos(a), y + radius * Math.sin(a)] as const;
    }),
    0.2,
    { closed: true },
  );

export const cross = (x: number, y: number, reach: number): PageElement[] => [
  stroke([
    [x - reach, y],
    [x + reach, y],
  ]),
  stroke([
    [x, y - reach],
    [x, y + reach],
  ]),
];

export const inset = (box: Box, by: number): Box => ({
  left: box.left + by,
  top: box.top + by,
  right: box.right - by,
  bottom: box.bottom - by,
});

/** What lies in both. */
export const common = (a: Box, b: Box): Box => ({
  left: Math.max(a.left, b.left),
  top: Math.max(a.top, b.top),
  right: Math.min(a.right, b.right),
  bottom: Math.min(a.bottom, b.bottom),
});

export const apart = (a: Box, b: Box): boolean =>
  a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
