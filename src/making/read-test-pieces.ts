import { normalQuantile } from '../kernel/numerics/normal.ts';
import { kelvinFromCelsius } from '../units.ts';
import type { Clay } from './clay/clay.ts';
import type { TemperatureHistory } from './clay/temperature-history.ts';
import { absorptionFrom } from './clay/test-pieces/absorption.ts';
import { barTable } from './clay/test-pieces/bar-table.ts';
import { type MeasuredClay, measuredClay } from './clay/test-pieces/measured-clay.ts';
import { readAt_m, readBar } from './clay/test-pieces/read-bar.ts';
import { type SagFinding, type SagOptions, sagViscosityFrom } from './clay/test-pieces/sag-bars.ts';
import { type ShrinkageFinding, shrinkageFrom } from './clay/test-pieces/shrinkage-bars.ts';
import { sagViscosity_Pa_s } from './clay/viscosity.ts';
import type { Schedule } from './kiln/schedule.ts';
import { type WitnessFinding, witnessOffset } from './kiln/witness.ts';
import { heatOf, type TestFiring, type TestPiecesFile } from './test-pieces-file.ts';

/** All that a file of test pieces says of its clay and of the kilns. */

export interface FiringOffset {
  readonly firing: string;
  readonly kiln: string;
  readonly finding: WitnessFinding;
}

export interface TestPiecesFinding {
  readonly offsets: readonly FiringOffset[];
  readonly shrinkage: ShrinkageFinding | undefined;
  readonly absorption: ReturnType<typeof absorptionFrom> | undefined;
  readonly sag: SagFinding | undefined;
  /** The clay with all that was measured; the one given is as it was. */
  readonly clay: Clay;
  readonly changed: readonly string[];
  readonly contradictions: readonly string[];
  /** Where the new clay's values do not go together: it cannot be used until one is mended. */
  readonly disagreements: readonly string[];
  readonly notes: readonly string[];
}

/** What the door has to find: a schedule by its file name. */
export type ScheduleOf = (file: string) => Schedule;

const offsetsOf = (file: TestPiecesFile, scheduleOf: ScheduleOf): FiringOffset[] =>
  file.firings.flatMap((firing) =>
    firing.cones === undefined || firing.cones.length === 0
      ? []
      : [
          {
            firing: firing.name,
            kiln: firing.kiln,
            finding: witnessOffset(firing.cones, heatOf(firing, scheduleOf)),
          },
        ],
  );

const usable = (offsets: readonly FiringOffset[], firing: string) => {
  const found = offsets.find((o) => o.firing === firing)?.finding;
  return found?.kind === 'found' && found.plusMinus80_K !== undefined
    ? { hotter_K: found.hotter_K, plusMinus80_K: found.plusMinus80_K }
    : undefined;
};

const bulkOf = (
  file: TestPiecesFile,
  clay: Clay,
  shrinkage: ShrinkageFinding | undefined,
  absorption: ReturnType<typeof absorptionFrom> | undefined,
): MeasuredClay => {
  const weighed = absorption?.bulkDensity_kg_m3 === undefined ? undefined : absorption;
  return measuredClay(clay, {
    drying_percent: shrinkage?.drying_percent,
    firing_percent: shrinkage?.firing_percent,
    bulkDensity_kg_m3: weighed?.bulkDensity_kg_m3,
    openPorosity_percent: weighed?.openPorosity_percent,
    note: file.name,
  });
};

/**
 * Reads all test pieces of a file: cones first (they correct the heat), then sizes and weights (they correct the clay), then
 * sag with both.
 * @throws AfterfireError `bad-input` for pieces that cannot be read, each field named
 */
export const readTestPieces = (
  file: TestPiecesFile,
  clay: Clay,
  scheduleOf: ScheduleOf,
  options: SagOptions = {},
): TestPiecesFinding => {
  const offsets = offsetsOf(file, scheduleOf);
  const shrinkage = file.shrinkageBars.length > 0 ? shrinkageFrom(file.shrinkageBars) : undefined;
  const absorption = file.absorption.length > 0 ? absorptionFrom(file.absorption) : undefined;
  const bulk = bulkOf(file, clay, shrinkage, absorption);
  const firings = file.firings.map((f) => ({
    name: f.name,
    heat: heatOf(f, scheduleOf),
    offset: usable(offsets, f.name),
  }));
  const inUse = firings.filter((f) => file.sagBars.some((b) => b.firing === f.name));
  const sag = file.sagBars.length > 0 ? sagViscosityFrom(bulk.clay, file.sagBars, inUse, options) : undefined;
  const weighed = absorption?.bulkDensity_kg_m3 === undefined ? undefined : absorption;
  return {
    offsets,
    shrinkage,
    absorption,
    sag,
    clay: sag?.clay ?? bulk.clay,
    changed: [...bulk.changed, ...(sag?.changed ?? [])],
    contradictions: [
      ...offsets.flatMap((o) => o.finding.contradictions.map((c) => `${o.firing}: ${c}`)),
      ...(shrinkage?.contradictions ?? []),
      ...(absorption?.faults ?? []),
      ...(weighed?.contradictions ?? []),
      ...(sag?.contradictions ?? []),
    ],
    disagreements: bulk.disagreements,
    notes: [
      ...offsets.flatMap((o) => [
        `${o.firing}: ${o.finding.text}`,
        ...o.finding.notes.map((n) => `${o.firing}: ${n}`),
      ]),
      ...(shrinkage?.notes ?? []),
      ...(weighed?.notes ?? []),
      ...(sag?.notes ?? []),
    ],
  };
};

/** One firing's test pieces as learning takes them: the thermometer's word and the cones' kept apart. */
export interface ToLearn {
  readonly firing: string;
  readonly kiln: string;
  readonly what: string;
  readonly heat: TemperatureHistory;
  /** At `at_C`, were the kiln not off; four times in five within the factor. */
  readonly viscosity?: { readonly value_Pa_s: number; readonly factor80: number };
  readonly offset?: { readonly hotter_K: number; readonly plusMinus80_K: number };
}

const DEVIATIONS_80 = normalQuantile(0.9);

const barsOf = (
  file: TestPiecesFile,
  firing: TestFiring,
  heat: TemperatureHistory,
  clay: Clay,
  at_C: number,
) => {
  const read = file.sagBars
    .filter((b) => b.firing === firing.name)
    .map((b) => readBar(clay, b, heat, barTable(clay, b, heat, readAt_m(b))))
    .filter((r) => r.kind === 'value');
  if (read.length === 0) return undefined;
  const weights = read.map((r) => 1 / r.sd ** 2);
  const sum = weights.reduce((a, b) => a + b, 0);
  const softness = read.reduce((s, r, i) => s + weights[i] * r.softness, 0) / sum;
  return {
    names: read.map((r) => r.bar),
    value_Pa_s: sagViscosity_Pa_s(clay, kelvinFromCelsius(at_C)) * Math.exp(-softness),
    factor80: Math.exp(DEVIATIONS_80 / Math.sqrt(sum)),
  };
};

/**
 * What each firing of a file adds to learning. Bars that only bound say nothing here.
 * @param clay with the activation energy that learning counts with (the log's reference)
 * @param at_C temperature of the log's reference
 */
export const testPiecesToLearn = (
  file: TestPiecesFile,
  clay: Clay,
  at_C: number,
  scheduleOf: ScheduleOf,
): ToLearn[] => {
  const offsets = offsetsOf(file, scheduleOf);
  return file.firings.flatMap((firing) => {
    const heat = heatOf(firing, scheduleOf);
    const bars = barsOf(file, firing, heat, clay, at_C);
    const offset = usable(offsets, firing.name);
    if (!bars && !offset) return [];
    const said = [
      ...(bars ? [`sag ${bars.names.length === 1 ? 'bar' : 'bars'} ${bars.names.join(', ')}`] : []),
      ...(offset ? ['witness cones'] : []),
    ];
    return [
      {
        firing: firing.name,
        kiln: firing.kiln,
        what: `${file.name}, ${firing.name}: ${said.join(' and ')}`,
        heat,
        ...(bars && { viscosity: { value_Pa_s: bars.value_Pa_s, factor80: bars.factor80 } }),
        ...(offset && { offset }),
      },
    ];
  });
};
