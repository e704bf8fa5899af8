import { z } from 'zod';
import { badInputs, type Fault } from '../error.ts';
import { parseShape } from '../shape.ts';
import { kelvinFromCelsius } from '../units.ts';
import type { TemperatureHistory } from './clay/temperature-history.ts';
import { AbsorptionPiece } from './clay/test-pieces/absorption.ts';
import { SagBar } from './clay/test-pieces/sag-bar.ts';
import { ShrinkageBar } from './clay/test-pieces/shrinkage-bars.ts';
import { type Schedule, temperatureHistory } from './kiln/schedule.ts';
import { WitnessCone } from './kiln/witness.ts';

/** Test pieces as a file: what was fired when, and what was measured. */

const fileOf = (kind: string) =>
  z
    .string()
    .regex(
      new RegExp(`^[\\w-]+\\.${kind}\\.json$`),
      `the name of a file beside this one, ending in .${kind}.json`,
    );

const TestFiring = z.strictObject({
  name: z.string().min(1).max(60).describe('What the pieces call it'),
  kiln: z.string().min(1).max(60).describe('Which kiln; the same words each time'),
  date: z.iso.date().optional().describe('YYYY-MM-DD'),
  schedule: fileOf('schedule').optional().describe('What the kiln was set to'),
  log: z
    .array(
      z.strictObject({ time_h: z.number().min(0).max(1000), temperature_C: z.number().min(-30).max(1500) }),
    )
    .min(2)
    .max(20000)
    .optional()
    .describe('What its thermometer said, better than the schedule'),
  cones: z.array(WitnessCone).max(60).optional().describe('Witness cones that stood beside the ware'),
  note: z.string().optional(),
});
export type TestFiring = z.infer<typeof TestFiring>;

export const TestPiecesFile = z
  .strictObject({
    afterfire: z.literal('test-pieces/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().optional(),
    clay: fileOf('clay').describe('The clay they are of, as believed before'),
    firings: z.array(TestFiring).min(1).max(100),
    sagBars: z.array(SagBar).max(200).default([]),
    shrinkageBars: z.array(ShrinkageBar).max(200).default([]),
    absorption: z.array(AbsorptionPiece).max(200).default([]),
  })
  .meta({ title: 'Afterfire test pieces', description: 'Test pieces of a clay, their firings and measures' });
export type TestPiecesFile = z.infer<typeof TestPiecesFile>;

const firingFaults = (firing: TestFiring, at: string): Fault[] => {
  const faults: Fault[] = [];
  const given = [firing.schedule, firing.log].filter((x) => x !== undefined).length;
  if (given !== 1)
    faults.push({
      field: at,
      value: given === 0 ? 'neither' : 'both',
      expected: 'exactly one of schedule and log',
    });
  firing.log?.forEach((p, i, log) => {
    if (i > 0 && p.time_h <= log[i - 1].time_h)
      faults.push({
        field: `${at}.log[${i}].time_h`,
        value: `${p.time_h}`,
        expected: `later than the reading before, ${log[i - 1].time_h}`,
      });
  });
  return faults;
};

const named = (list: readonly { readonly name: string }[], at: string): Fault[] =>
  list.flatMap(({ name }, i) =>
    list.findIndex((o) => o.name === name) === i
      ? []
      : [{ field: `${at}[${i}].name`, value: name, expected: 'another name than those before it' }],
  );

const placed = (
  pieces: readonly { readonly firing?: string | undefined }[],
  firings: readonly TestFiring[],
  at: string,
): Fault[] =>
  pieces.flatMap(({ firing }, i) =>
    firing === undefined || firings.some((f) => f.name === firing)
      ? []
      : [
          {
            field: `${at}[${i}].firing`,
            value: firing,
            expected: `one of ${firings.map((f) => f.name).join(', ')}`,
          },
        ],
  );

/**
 * Reads test pieces from data.
 * @throws AfterfireError `bad-input`, one fault per bad field
 */
export const parseTestPieces = (json: unknown): TestPiecesFile => {
  const file = parseShape(TestPiecesFile, json, 'test-pieces');
  const faults = [
    ...file.firings.flatMap((f, i) => firingFaults(f, `test-pieces.firings[${i}]`)),
    ...named(file.firings, 'test-pieces.firings'),
    ...(['sagBars', 'shrinkageBars', 'absorption'] as const).flatMap((kind) => [
      ...named(file[kind], `test-pieces.${kind}`),
      ...placed(file[kind], file.firings, `test-pieces.${kind}`),
    ]),
  ];
  if (faults.length > 0) throw badInputs(faults);
  return file;
};

/** The heat of a firing: its log, else its schedule, which `scheduleOf` finds by file name. */
export const heatOf = (firing: TestFiring, scheduleOf: (file: string) => Schedule): TemperatureHistory => {
  const { log } = firing;
  if (log === undefined) return temperatureHistory(scheduleOf(firing.schedule as string));
  return {
    time_s: Float64Array.from(log, (p) => 3600 * (p.time_h - log[0].time_h)),
    temperature_K: Float64Array.from(log, (p) => kelvinFromCelsius(p.temperature_C)),
  };
};
