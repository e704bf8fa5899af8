import { z } from 'zod';
import { badInputs, type Fault } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import { celsiusFromFahrenheit, kelvinFromCelsius } from '../../units.ts';
import type { TemperatureHistory } from '../clay/temperature-history.ts';

/** Rates and temperatures may be in either scale; exactly one of each pair, which JSON Schema says with oneOf. */
const oneOf = (...fields: readonly string[]) => ({ oneOf: fields.map((f) => ({ required: [f] })) });

const Ramp = z
  .strictObject({
    kind: z.literal('ramp'),
    rate_C_h: z
      .number()
      .positive()
      .max(3000)
      .optional()
      .describe('How fast, °C per hour; positive, up or down'),
    rate_F_h: z
      .number()
      .positive()
      .max(5400)
      .optional()
      .describe('How fast, °F per hour; positive, up or down'),
    to_C: z.number().optional().describe('Where to, °C; below where it stands means cooling'),
    to_F: z.number().optional().describe('Where to, °F; below where it stands means cooling'),
    note: z.string().optional(),
  })
  .meta({
    description: 'Steady heating or cooling; natural cooling is a ramp with about the rate the kiln has',
    allOf: [oneOf('rate_C_h', 'rate_F_h'), oneOf('to_C', 'to_F')],
  });

const Hold = z
  .strictObject({
    kind: z.literal('hold'),
    minutes: z.number().positive().max(20_000).describe('How long the temperature stays'),
    note: z.string().optional(),
  })
  .describe('The temperature stays');

export const Segment = z.discriminatedUnion('kind', [Ramp, Hold]);
export type Segment = z.infer<typeof Segment>;

/** A firing schedule as a file: where it starts, then ramps and holds, cooling included. */
export const Schedule = z
  .strictObject({
    afterfire: z.literal('schedule/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().optional(),
    start_C: z.number().min(-30).max(300).default(20).describe('Temperature of the kiln at the start, °C'),
    segments: z.array(Segment).min(1).max(100),
  })
  .meta({ title: 'Afterfire schedule', description: 'A firing schedule' });
export type Schedule = z.infer<typeof Schedule>;

/** Hotter than this a studio kiln and its shelves do not go; a schedule that says so is a slip. */
export const HOTTEST_C = 1400;
const COLDEST_C = -30;

type Place = (field: string) => string;

const exactlyOne = (segment: Record<string, unknown>, c: string, f: string, at: Place): Fault[] => {
  const given = [c, f].filter((field) => segment[field] !== undefined);
  if (given.length === 1) return [];
  const value = given.length === 0 ? 'neither' : `${c} ${segment[c]} and ${f} ${segment[f]}`;
  return [{ field: at(given.length === 0 ? c : f), value, expected: `exactly one of ${c} and ${f}` }];
};

type RampSegment = Extract<Segment, { kind: 'ramp' }>;

const target_C = (ramp: RampSegment): number => ramp.to_C ?? celsiusFromFahrenheit(ramp.to_F!);
const rate_K_s = (ramp: RampSegment): number => (ramp.rate_C_h ?? (ramp.rate_F_h! * 5) / 9) / 3600;

const rampFaults = (ramp: RampSegment, from_C: number, at: Place): Fault[] => {
  const units = [...exactlyOne(ramp, 'rate_C_h', 'rate_F_h', at), ...exactlyOne(ramp, 'to_C', 'to_F', at)];
  if (units.length > 0) return units;
  const field = at(ramp.to_C === undefined ? 'to_F' : 'to_C');
  const value = `${ramp.to_C ?? ramp.to_F}`;
  const to_C = target_C(ramp);
  if (to_C > HOTTEST_C) {
    const expected = `at most ${HOTTEST_C} °C (2552 °F): above it any pottery and most kilns melt`;
    return [
      {
        field,
        value,
        expected: to_C < 3000 && ramp.to_C !== undefined ? `${expected}; or did you mean to_F?` : expected,
      },
    ];
  }
  if (to_C < COLDEST_C) return [{ field, value, expected: `at least ${COLDEST_C} °C` }];
  if (Math.abs(to_C - from_C) < 1e-9) {
    return [{ field, value, expected: 'another temperature than the one it stands at; to stay, use a hold' }];
  }
  return [];
};

const scheduleFaults = (schedule: Schedule): Fault[] => {
  const faults: Fault[] = [];
  let from_C = schedule.start_C;
  for (const [i, segment] of schedule.segments.entries()) {
    if (segment.kind !== 'ramp') continue;
    const found = rampFaults(segment, from_C, (field) => `schedule.segments[${i}].${field}`);
    faults.push(...found);
    if (segment.to_C !== undefined || segment.to_F !== undefined) from_C = target_C(segment);
  }
  return faults;
};

/**
 * Read a schedule from data.
 * @throws AfterfireError `bad-input`, naming the segment, the value and what would be right
 */
export const parseSchedule = (json: unknown): Schedule => {
  const schedule = parseShape(Schedule, json, 'schedule');
  const faults = scheduleFaults(schedule);
  if (faults.length > 0) throw badInputs(faults);
  return schedule;
};

/** Temperature against time as the schedule says it, exact: one point per end of segment. SI. */
export const temperatureHistory = (schedule: Schedule): TemperatureHistory => {
  const time_s = [0];
  const temperature_K = [kelvinFromCelsius(schedule.start_C)];
  for (const segment of schedule.segments) {
    const t = time_s.at(-1)!;
    const T = temperature_K.at(-1)!;
    const to = segment.kind === 'hold' ? T : kelvinFromCelsius(target_C(segment));
    const takes_s = segment.kind === 'hold' ? segment.minutes * 60 : Math.abs(to - T) / rate_K_s(segment);
    time_s.push(t + takes_s);
    temperature_K.push(to);
  }
  return { time_s: Float64Array.from(time_s), temperature_K: Float64Array.from(temperature_K) };
};
