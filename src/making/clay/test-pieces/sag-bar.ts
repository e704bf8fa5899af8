import { z } from 'zod';

/**
 * A bar of clay laid over two supports and fired: what was measured. All of the bar is measured in one state, fired as a
 * rule; the span is that of the supports, which stay as they are.
 */

const most = 1000;
const mm = (what: string) => z.number().positive().max(most).describe(what);
/** Four readings in five are no further off. */
const plusMinus = (usual: number, what: string) =>
  z.number().nonnegative().max(50).default(usual).describe(what);

export const SagBar = z.strictObject({
  name: z.string().min(1).max(40).describe('What is scratched on the bar'),
  firing: z.string().min(1).describe('Name of the firing it was in, as listed in this file'),
  held: z
    .enum(['over edges', 'by its ends'])
    .default('over edges')
    .describe(
      'Over two fixed edges with some bar beyond each; or the very ends held up and free to slide inwards, without friction',
    ),
  span_mm: mm(
    'Between the lines on the supports where the bar first rests. Supports neither shrink nor move: the same before and after the fire. Held by its ends: between the ends, bone dry',
  ),
  edgeRadius_mm: z
    .number()
    .min(0)
    .max(20)
    .default(0.5)
    .describe('Of the round of the edges; of a rod, its radius'),
  length_mm: mm('Length of the bar over all, along the bar').optional(),
  thickness_mm: mm('Height of the bar as it lay, mean of several readings'),
  width_mm: mm('Only to see whether the bar is a narrow one').optional(),
  measured: z
    .enum(['fired', 'bone dry'])
    .default('fired')
    .describe('When length and thickness were measured'),
  end: z
    .enum(['free', 'touched the shelf', 'slid in between'])
    .default('free')
    .describe('How the bar was found'),
  sag_mm: z
    .number()
    .min(-5)
    .max(most)
    .optional()
    .describe('How much lower its underside is in the middle than at the supports, fired'),
  supportHeight_mm: mm('From the shelf up to the edges').optional(),
  spanPlusMinus_mm: plusMinus(0.5, 'Span: four readings in five are no further off'),
  lengthPlusMinus_mm: plusMinus(0.5, 'Length, likewise'),
  thicknessPlusMinus_mm: plusMinus(0.1, 'Thickness, likewise; counts double'),
  sagPlusMinus_mm: plusMinus(0.2, 'Sag, likewise'),
  friction: z
    .number()
    .min(0)
    .max(1)
    .optional()
    .describe('Rise over run at which the hot bar slips on its supports; left out, a guess'),
  note: z.string().optional(),
});
export type SagBar = z.infer<typeof SagBar>;

/** Half as wide as its span and a bar curls across its width: a plate, up to a quarter stiffer. */
const WIDE = 0.4;
const STUBBY = 10;
const NO_LIFT_mm = 1;

/** What makes a bar unreadable, as field, value and what would be right; empty when it can be read. */
export const barFaults = (bar: SagBar): { field: string; value: string; expected: string }[] => {
  const faults: { field: string; value: string; expected: string }[] = [];
  const fault = (field: string, value: unknown, expected: string): void => {
    faults.push({ field, value: value === undefined ? 'nothing' : String(value), expected });
  };
  if (bar.held === 'over edges' && bar.length_mm === undefined)
    fault('length_mm', undefined, 'the length of the bar: what lies beyond the supports holds the middle up');
  if (bar.length_mm !== undefined && bar.held === 'over edges' && bar.length_mm <= bar.span_mm)
    fault(
      'length_mm',
      bar.length_mm,
      `more than the span, ${bar.span_mm}: or it would not lie on its supports`,
    );
  if (bar.span_mm < STUBBY * bar.thickness_mm)
    fault('span_mm', bar.span_mm, `at least ${STUBBY} thicknesses: a stubbier bar shears more than it bends`);
  if (bar.width_mm !== undefined && bar.width_mm > WIDE * bar.span_mm)
    fault('width_mm', bar.width_mm, `at most ${WIDE} of the span: a wider bar is a plate and stiffer`);
  if (bar.end === 'free' && bar.sag_mm === undefined)
    fault(
      'sag_mm',
      undefined,
      'how much lower the middle is than at the supports, or another `end` than free',
    );
  if (bar.end === 'touched the shelf' && bar.supportHeight_mm === undefined)
    fault(
      'supportHeight_mm',
      undefined,
      'how high the edges stand over the shelf: the bar sagged at least that far',
    );
  if (
    bar.sag_mm !== undefined &&
    bar.supportHeight_mm !== undefined &&
    bar.sag_mm > bar.supportHeight_mm + NO_LIFT_mm
  )
    fault(
      'sag_mm',
      bar.sag_mm,
      `no more than supportHeight_mm, ${bar.supportHeight_mm}: the shelf stops it there`,
    );
  return faults;
};

/** A bar that lay on the shelf at the end, whether somebody says so or only the figures do. */
export const touched = (bar: SagBar): boolean =>
  bar.end === 'touched the shelf' ||
  (bar.supportHeight_mm !== undefined &&
    bar.sag_mm !== undefined &&
    bar.sag_mm >= bar.supportHeight_mm - bar.sagPlusMinus_mm);
