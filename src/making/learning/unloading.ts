import { z } from 'zod';
import { badInputs, type Fault } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import { Setting } from '../firing/setting.ts';

/** What was found when the kiln was opened: each piece with a few measures, or with what became of it. */

const file = (kind: string) =>
  z
    .string()
    .regex(
      new RegExp(`^[\\w-]+\\.${kind}\\.json$`),
      `the name of a file beside this one, ending in .${kind}.json`,
    );
const mm = (what: string) => z.number().positive().max(3000).describe(what);
const drop = (what: string) => z.number().min(-1000).max(1000).describe(what);
const direction = (what: string) => z.number().min(-360).max(360).describe(what);

/** Measures of one fired piece, mm. All of them are optional; whatever is there is learned from. */
export const Measured = z.strictObject({
  plusMinus_mm: z
    .number()
    .positive()
    .max(50)
    .default(0.5)
    .describe('How well it was measured: four readings in five are no further off than this'),
  height_mm: mm('Standing upright, shelf to highest point').optional(),
  widest_mm: mm('Outside, at its widest, standing upright, level').optional(),
  lipWidth: z
    .strictObject({
      greatest_mm: mm('Outside, across the lip where it is widest').optional(),
      least_mm: mm('Outside, across the lip where it is narrowest').optional(),
    })
    .optional(),
  lipDrop: z
    .strictObject({
      greatest_mm: drop('Where the lip came down most').optional(),
      mean_mm: drop('Mean over the lip').optional(),
      points: z
        .array(
          z.strictObject({
            angle_deg: direction('Where on the lip: degrees about the axis as drawn'),
            drop_mm: drop('How far the lip came down there'),
          }),
        )
        .min(1)
        .max(36)
        .optional(),
    })
    .describe(
      'How far the lip came down beyond shrinkage, standing as it stood in the kiln: its height bone dry, times the ' +
        'firing shrinkage of the clay file, less its height fired. Negative: it rose',
    )
    .optional(),
  lean: z
    .strictObject({
      top_mm: z
        .number()
        .min(0)
        .max(500)
        .describe('How far the middle of the lip stands off the middle of the foot, seen from above'),
      towards_deg: direction('To which side, degrees from x as the piece stood in the kiln'),
    })
    .optional(),
  outline: z
    .strictObject({
      from_deg: direction(
        'From which side it was seen: degrees from x as the piece stood in the kiln',
      ).default(0),
      points_mm: z
        .array(z.tuple([z.number(), z.number()]))
        .min(3)
        .max(2000)
        .describe(
          'Its outline from a photograph, once round: x across (any origin) and z above the shelf, mm',
        ),
      plusMinus_mm: z.number().positive().max(50).default(0.7),
    })
    .optional(),
});
export type Measured = z.infer<typeof Measured>;

export const LOSS_CAUSES = [
  'fell over',
  'lip on the shelf',
  'wall on wall',
  'stuck',
  'cracked',
  'other',
] as const;

export const UnloadedPiece = z.strictObject({
  number: z.string().min(1).max(40).describe('The number on the piece'),
  form: file('form'),
  setting: z
    .union([Setting, file('setting')])
    .describe('How it stood: said here, or the name of a .setting.json file beside this one'),
  loss: z
    .strictObject({ cause: z.enum(LOSS_CAUSES), note: z.string().optional() })
    .optional()
    .describe('Left out: it came out and stands'),
  measured: Measured.optional(),
  note: z.string().optional(),
});
export type UnloadedPiece = z.infer<typeof UnloadedPiece>;

export const Unloading = z
  .strictObject({
    afterfire: z.literal('unloading/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().optional(),
    kiln: z.string().min(1).max(60).describe('Which kiln; the same words each time'),
    date: z.iso.date().describe('Day of the unloading, YYYY-MM-DD'),
    clay: file('clay'),
    schedule: file('schedule').describe('What the kiln was set to, or its log written as a schedule'),
    offset: z
      .strictObject({
        hotter_C: z
          .number()
          .min(-100)
          .max(100)
          .describe('How much hotter the ware got at the peak than the schedule says, °C'),
        plusMinus_C: z.number().positive().max(100).describe('Four times in five it is no further off'),
        from: z.string().min(1).describe('By what: witness cones, a second thermocouple'),
      })
      .optional()
      .describe('What else is known of how hot this firing was'),
    pieces: z.array(UnloadedPiece).min(1).max(200),
  })
  .meta({ title: 'Afterfire unloading', description: 'What was measured when the kiln was opened' });
export type Unloading = z.infer<typeof Unloading>;

const pieceFaults = (piece: UnloadedPiece, at: string): Fault[] => {
  const faults: Fault[] = [];
  const { lipWidth, outline } = piece.measured ?? {};
  const { greatest_mm, least_mm } = lipWidth ?? {};
  if (greatest_mm !== undefined && least_mm !== undefined && least_mm > greatest_mm)
    faults.push({
      field: `${at}.measured.lipWidth.least_mm`,
      value: String(least_mm),
      expected: `no more than greatest_mm, ${greatest_mm}`,
    });
  if (outline && Math.max(...outline.points_mm.map(([, z]) => z)) <= 0)
    faults.push({
      field: `${at}.measured.outline.points_mm`,
      value: 'no point above the shelf',
      expected: 'z in mm above the shelf, upward',
    });
  return faults;
};

/**
 * Reads an unloading from data.
 * @throws AfterfireError `bad-input`, one fault per bad field
 */
export const parseUnloading = (json: unknown): Unloading => {
  const unloading = parseShape(Unloading, json, 'unloading');
  const faults = unloading.pieces.flatMap((p, i) => pieceFaults(p, `unloading.pieces[${i}]`));
  const seen = new Set<string>();
  for (const [i, { number }] of unloading.pieces.entries()) {
    if (seen.has(number))
      faults.push({
        field: `unloading.pieces[${i}].number`,
        value: number,
        expected: 'another number than the pieces before it',
      });
    seen.add(number);
  }
  if (faults.length > 0) throw badInputs(faults);
  return unloading;
};
