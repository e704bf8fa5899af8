import { z } from 'zod';
import { badInput, badInputs } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import type { Box, PaperSize } from '../paper/page.ts';
import { common, inset } from '../paper/shapes.ts';

/** A sheet of labels, by its lengths alone. */
export const LabelSheet = z.strictObject({
  width_mm: z.number().min(20).max(500).describe('Width of the sheet'),
  height_mm: z.number().min(10).max(500).describe('Height of the sheet'),
  columns: z.int().min(1).max(20),
  rows: z.int().min(1).max(60),
  labelWidth_mm: z.number().min(10).max(500),
  labelHeight_mm: z.number().min(8).max(500),
  left_mm: z.number().min(0).max(200).describe('From the edge of the sheet to the first label'),
  top_mm: z.number().min(0).max(200),
  gapAcross_mm: z.number().min(0).max(100).default(0).describe('Between two labels of a row'),
  gapDown_mm: z.number().min(0).max(100).default(0),
});
export type LabelSheet = z.infer<typeof LabelSheet>;

type Row = readonly [number, number, number, number, number, number, number, number];
const on = (
  [width_mm, height_mm]: readonly [number, number],
  [columns, rows, labelWidth_mm, labelHeight_mm, left_mm, top_mm, gapAcross_mm, gapDown_mm]: Row,
): LabelSheet => ({
  width_mm,
  height_mm,
  columns,
  rows,
  labelWidth_mm,
  labelHeight_mm,
  left_mm,
  top_mm,
  gapAcross_mm,
  gapDown_mm,
});
const A4 = [210, 297] as const;
const LETTER = [215.9, 279.4] as const;

/** Sizes that many sell (common practice, no source): measure your own, and print on plain paper first. */
export const LABEL_SHEETS: Readonly<Record<string, LabelSheet>> = {
  'a4-38x21': on(A4, [5, 13, 38.1, 21.2, 4.75, 10.7, 2.5, 0]),
  'a4-64x38': on(A4, [3, 7, 63.5, 38.1, 7.25, 15.15, 2.5, 0]),
  'a4-70x37': on(A4, [3, 8, 70, 37, 0, 0.5, 0, 0]),
  'a4-99x68': on(A4, [2, 4, 99.1, 67.7, 4.65, 13.1, 2.5, 0]),
  'letter-44x13': on(LETTER, [4, 20, 44.45, 12.7, 7.14, 12.7, 7.94, 0]),
  'letter-67x25': on(LETTER, [3, 10, 66.67, 25.4, 4.76, 12.7, 3.17, 0]),
  'letter-102x51': on(LETTER, [2, 5, 101.6, 50.8, 3.97, 12.7, 4.76, 0]),
};

/** What is taken where nothing else is asked for. */
export const USUAL_LABELS = { a4: 'a4-64x38', letter: 'letter-67x25' } as const;

/** The labels fit on their sheet. Throws `bad-input` naming what does not. */
export const parseLabelSheet = (json: unknown): LabelSheet => {
  const sheet = parseShape(LabelSheet, json, 'labels');
  const wide =
    sheet.left_mm + sheet.columns * (sheet.labelWidth_mm + sheet.gapAcross_mm) - sheet.gapAcross_mm;
  const high = sheet.top_mm + sheet.rows * (sheet.labelHeight_mm + sheet.gapDown_mm) - sheet.gapDown_mm;
  const faults = [
    ...(wide > sheet.width_mm + 0.05
      ? [
          {
            field: 'labels.columns',
            value: `${sheet.columns} up to ${wide.toFixed(1)} mm`,
            expected: `at most ${sheet.width_mm} mm, the width of the sheet`,
          },
        ]
      : []),
    ...(high > sheet.height_mm + 0.05
      ? [
          {
            field: 'labels.rows',
            value: `${sheet.rows} down to ${high.toFixed(1)} mm`,
            expected: `at most ${sheet.height_mm} mm, the height of the sheet`,
          },
        ]
      : []),
  ];
  if (faults.length > 0) throw badInputs(faults);
  return sheet;
};

export const labelSheetNamed = (name: string): LabelSheet => {
  const found = Object.hasOwn(LABEL_SHEETS, name) ? LABEL_SHEETS[name] : undefined;
  if (!found)
    throw badInput('labels', name, `${Object.keys(LABEL_SHEETS).join(', ')}, or a .json file of lengths`);
  return found;
};

/** Most printers leave so much of a sheet white (common practice, no source). */
export const UNPRINTABLE_mm = 5;

/** Where a printer can put ink. */
export const inkOf = ({ width_mm, height_mm }: PaperSize): Box =>
  inset({ left: 0, top: 0, right: width_mm, bottom: height_mm }, UNPRINTABLE_mm);

/** The label at this place, counted along the rows from 0. */
export const labelAt = (sheet: LabelSheet, place: number): Box => {
  const left = sheet.left_mm + (place % sheet.columns) * (sheet.labelWidth_mm + sheet.gapAcross_mm);
  const top = sheet.top_mm + Math.floor(place / sheet.columns) * (sheet.labelHeight_mm + sheet.gapDown_mm);
  return { left, top, right: left + sheet.labelWidth_mm, bottom: top + sheet.labelHeight_mm };
};

/** A label's own border stays white: no sheet lies quite straight in its printer. */
const PAD_mm = 1.5;

/** Where on a label there may be ink. */
export const inkOn = (label: Box, sheet: PaperSize): Box => common(inset(label, PAD_mm), inkOf(sheet));
