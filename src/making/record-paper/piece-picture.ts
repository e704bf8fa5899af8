import type { PageElement } from '../paper/page.ts';
import { stroke } from '../paper/shapes.ts';

type Ring = readonly (readonly [number, number])[];

/** A piece cut through its middle before and after the fire: mm to the right of the middle, mm above the shelf. */
export interface PiecePicture {
  readonly before: readonly Ring[];
  readonly after: readonly Ring[];
  /** How it was come by, and what it says, in a sentence or two. */
  readonly said: string;
}

/** One to so many. */
const SCALES = [1, 2, 3, 4, 5, 8, 10, 15, 20, 30];
const AFTER_GREY = 0.5;
/** How far the shelf reaches beside the piece. */
const SHELF_mm = 4;

export const scaleOf = ({ before, after }: PiecePicture, width_mm: number, height_mm: number): number => {
  const points = [...before, ...after].flat();
  const wide = 2 * Math.max(...points.map(([u]) => Math.abs(u)));
  const high = Math.max(...points.map(([, z]) => z)) - Math.min(0, ...points.map(([, z]) => z));
  return (
    SCALES.find((s) => wide / s + 2 * SHELF_mm <= width_mm && high / s <= height_mm) ??
    SCALES[SCALES.length - 1]
  );
};

/** After: a grey wall. Before: its outline, dashed. */
export const pictureElements = (picture: PiecePicture, scale: number): PageElement[] => {
  const at = (ring: Ring): Ring => ring.map(([u, z]) => [u / scale, -z / scale] as const);
  const reach = Math.max(...[...picture.before, ...picture.after].flat().map(([u]) => Math.abs(u))) / scale;
  return [
    { kind: 'fill', rings_mm: picture.after.map(at), grey: AFTER_GREY },
    ...picture.before.map((ring) => stroke(at(ring), 0.2, { closed: true, dashed: true })),
    stroke(
      [
        [-reach - SHELF_mm, 0],
        [reach + SHELF_mm, 0],
      ],
      0.3,
    ),
  ];
};
