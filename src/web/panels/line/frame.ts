import type { Form } from '../../../making/form/form.ts';

/** How the drawing lies in its box: millimetres to pixels and back. The axis is drawn upright, heights go up. */
export interface PaperFrame {
  readonly width: number;
  readonly height: number;
  readonly px_per_mm: number;
  /** Where the axis meets the shelf. */
  readonly axis_px: number;
  readonly shelf_px: number;
  /** How far to the left of the axis there is paper, mm. */
  readonly left_mm: number;
  readonly right_mm: number;
  readonly top_mm: number;
}

/** Room for the ruler on the left, numbers on the right, the lip's number above, the ruler below. */
const ROOM = { left: 40, right: 62, top: 34, bottom: 42 } as const;
/** At least this much of the far side is drawn, so that it reads as a pot and not as a graph. */
const LEAST_FAR_SIDE = 0.22;
/** Scales come in steps, so that the paper does not breathe with every millimetre. */
const STEP = 1.12;

export const frameFor = (form: Form, width: number, height: number): PaperFrame => {
  const R = Math.max(...form.line.map((p) => p.radius_mm));
  const H = Math.max(...form.line.map((p) => p.height_mm), 10);
  const wide = Math.max(60, width - ROOM.left - ROOM.right);
  const tall = Math.max(60, height - ROOM.top - ROOM.bottom);
  const fitTall = tall / H;
  const farSide = Math.min(1, Math.max(LEAST_FAR_SIDE, wide / (R * fitTall) - 1));
  const fit = Math.min(fitTall, wide / (R * (1 + farSide)));
  const px_per_mm = STEP ** Math.floor(Math.log(fit) / Math.log(STEP));
  const spare = wide - R * (1 + farSide) * px_per_mm;
  const axis_px = ROOM.left + farSide * R * px_per_mm + spare / 2;
  const shelf_px = height - ROOM.bottom;
  return {
    width,
    height,
    px_per_mm,
    axis_px,
    shelf_px,
    left_mm: (axis_px - ROOM.left + 6) / px_per_mm,
    right_mm: (width - axis_px) / px_per_mm,
    top_mm: shelf_px / px_per_mm,
  };
};

export const xOf = (frame: PaperFrame, radius_mm: number): number =>
  frame.axis_px + radius_mm * frame.px_per_mm;
export const yOf = (frame: PaperFrame, height_mm: number): number =>
  frame.shelf_px - height_mm * frame.px_per_mm;
export const mmAt = (
  frame: PaperFrame,
  x: number,
  y: number,
): readonly [radius_mm: number, height_mm: number] => [
  (x - frame.axis_px) / frame.px_per_mm,
  (frame.shelf_px - y) / frame.px_per_mm,
];
