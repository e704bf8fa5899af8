import { z } from 'zod';
import { parseShape } from '../../shape.ts';
import { Belief } from './belief.ts';
import { LOSS_CAUSES } from './unloading.ts';

/**
 * What was learned, entry by entry. Nothing is ever deleted: an entry is taken back by a later one. Each entry carries
 * its evidence whole, so that the present belief follows from the log alone.
 */

const numbers = z.array(z.number());

/** A film as tables: what would be measured at readings of the creep clock. */
export const FilmTable = z.strictObject({
  lnClock: numbers.describe(
    'ln of the creep clock against that of the reference clay through this heat; rising',
  ),
  readings: z
    .record(z.string(), numbers)
    .describe('Each measure (see `measures.ts`) at those clocks, fired mm at the size the clay file gives'),
  levers: z
    .record(z.string(), z.number())
    .describe(
      'mm by which a measure falls where all sizes come out larger by their e-fold: heights behind drops',
    ),
  reach: z.number().describe('lnClock up to which it was followed'),
  falls: z.number().optional().describe('lnClock at which it falls'),
  touches: z
    .number()
    .optional()
    .describe('lnClock at which the lip of an upright piece comes down to the shelf'),
  meets: z.number().optional().describe('lnClock at which a wall meets another'),
  meshSd: z.number().nonnegative().describe('What the mesh may be off by, as ln of the movement, sd'),
});
export type FilmTable = z.infer<typeof FilmTable>;

export const Reading = z.strictObject({
  key: z.string().describe('Which measure'),
  value_mm: z.number(),
  sd_mm: z.number().positive().describe('How well measured, standard deviation'),
});
export type Reading = z.infer<typeof Reading>;

export const PieceEvidence = z.strictObject({
  number: z.string(),
  form: z.string(),
  attitude: z.string(),
  film: FilmTable,
  loss: z.enum(LOSS_CAUSES).optional(),
  readings: z.array(Reading),
  lean: z
    .strictObject({
      top_mm: z.number(),
      towards_deg: z.number(),
      plusMinus_mm: z.number().positive(),
      perDegree_mm: z.number().describe('How far it would lean towards a side hotter by one °C'),
    })
    .optional(),
});
export type PieceEvidence = z.infer<typeof PieceEvidence>;

/** How the clock goes with the offset of a kiln in one heat. */
export const PaceTable = z.strictObject({
  offset_K: numbers,
  lnClock: numbers.describe('ln of the clock at the end against that without offset'),
});
export type PaceTable = z.infer<typeof PaceTable>;

/** All that one firing, or one test piece, adds. */
export const Evidence = z.strictObject({
  kiln: z.string(),
  pace: PaceTable,
  pieces: z.array(PieceEvidence),
  /** What a test bar says of softness in this heat. */
  softness: z
    .strictObject({
      mean: z.number().describe('ln of how many times softer than the reference, were the kiln not off'),
      sd: z.number().positive(),
    })
    .optional(),
  /** What witness cones or a second thermometer say of the kiln in this firing. */
  offset: z.strictObject({ mean_K: z.number(), sd_K: z.number().positive() }).optional(),
});
export type Evidence = z.infer<typeof Evidence>;

/** Middle and 80 % interval, mm. */
const Interval = z.strictObject({ low_mm: z.number(), middle_mm: z.number(), high_mm: z.number() });

export const PredictedReading = z.strictObject({
  piece: z.string(),
  attitude: z.string(),
  key: z.string(),
  measured_mm: z.number(),
  before: Interval.describe(
    'As predicted with the belief held before this unloading, measuring error included',
  ),
  after: Interval.describe('The same with the belief held after it'),
});
export type PredictedReading = z.infer<typeof PredictedReading>;

const common = {
  id: z.string().min(1),
  date: z.iso.date(),
  what: z.string().describe('What was added, in a sentence'),
  before: Belief,
  after: Belief,
};

const Learned = z.strictObject({
  ...common,
  kind: z.enum(['unloading', 'test piece']),
  from: z.string().min(1).describe('File or name of what was learned from'),
  evidence: Evidence,
  predictions: z.array(PredictedReading),
  contradictions: z.array(z.string()).describe('Measures nothing else agrees with, named'),
});
const TakenBack = z.strictObject({
  ...common,
  kind: z.literal('taken back'),
  entry: z.string().min(1).describe('id of the entry that no longer counts'),
});
export const LogEntry = z.discriminatedUnion('kind', [Learned, TakenBack]);
export type LogEntry = z.infer<typeof LogEntry>;
export type LearnedEntry = z.infer<typeof Learned>;

export const LearningLog = z
  .strictObject({
    afterfire: z.literal('learning/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().optional(),
    clay: z.string().describe('Name of the clay it is about'),
    reference: z
      .strictObject({
        value_Pa_s: z.number().positive(),
        at_C: z.number(),
        activation_kJ_mol: z.number().positive(),
        factor80: z.number().min(1),
      })
      .describe('The sag viscosity all softness in this log is counted from'),
    start: Belief.describe('Believed before anything was learned'),
    entries: z.array(LogEntry),
  })
  .meta({
    title: 'Afterfire learning',
    description: 'What was learned of a clay and its kilns, entry by entry',
  });
export type LearningLog = z.infer<typeof LearningLog>;

/** @throws AfterfireError `bad-input`, one fault per bad field */
export const parseLearningLog = (json: unknown): LearningLog => parseShape(LearningLog, json, 'learning');

/** The entries that count: those no later entry, itself counting, takes back. */
export const standingEntries = (log: LearningLog): LearnedEntry[] => {
  const gone = new Set<string>();
  const kept: LearnedEntry[] = [];
  for (const entry of log.entries.toReversed()) {
    if (gone.has(entry.id)) continue;
    if (entry.kind === 'taken back') gone.add(entry.entry);
    else kept.push(entry);
  }
  return kept.toReversed();
};
