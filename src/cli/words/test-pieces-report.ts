import type { Clay } from '../../making/clay/clay.ts';
import type { Mean } from '../../making/clay/test-pieces/mean-of.ts';
import type { SagReading } from '../../making/clay/test-pieces/read-bar.ts';
import type { SagFinding } from '../../making/clay/test-pieces/sag-bars.ts';
import { viscosityAt } from '../../making/clay/test-pieces/softness-grid.ts';
import type { TestPiecesFinding } from '../../making/read-test-pieces.ts';
import type { TestPiecesFile } from '../../making/test-pieces-file.ts';
import { table } from '../table.ts';
import { list } from './firing-report.ts';
import { SAFETY } from './safety.ts';

/** `2.1e+9` → `2.1 × 10⁹` */
const viscosity = (x: number): string => {
  const [figures, power] = x.toExponential(1).split('e');
  const raised = [...String(Number(power))].map((c) => '⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(c)] ?? '⁻').join('');
  return `${figures} × 10${raised}`;
};

const KINDS: Readonly<Record<SagReading['kind'], string>> = {
  value: '',
  'no stiffer than': 'at most',
  'no softer than': 'at least',
};

const sagTable = (readings: readonly SagReading[], leaveOut: readonly string[]): string =>
  `\nSag bars, each by itself\n${table(
    ['bar, firing', 'peak, °C', 'viscosity, Pa·s', 'four in five', 'small-sag formula', 'index, 1/cm', ''],
    readings.map((r) => [
      `${r.bar}, ${r.firing}`,
      r.at_C.toFixed(0),
      `${KINDS[r.kind]} ${viscosity(r.viscosity_Pa_s)}`.trim(),
      r.kind === 'value' ? `${viscosity(r.low_Pa_s)} to ${viscosity(r.high_Pa_s)}` : '',
      r.bySmallSag_Pa_s === undefined ? '' : viscosity(r.bySmallSag_Pa_s),
      r.index_per_cm === undefined ? '' : r.index_per_cm.toExponential(1),
      leaveOut.includes(r.bar) ? 'left out' : '',
    ]),
  )}`;

const ABOUT_C = [-20, 0, 20];

/** All bars together, at and about the temperature of the clay's own value. */
const together = ({ belief }: SagFinding, clay: Clay): string => {
  const { at_C } = clay.sagViscosity;
  return `\nAll bars together, with what was believed before\n${table(
    ['at, °C', 'viscosity, Pa·s', 'four in five', 'within a factor'],
    ABOUT_C.map((by) => {
      const v = viscosityAt(belief, clay.sagViscosity, at_C + by);
      return [
        String(at_C + by),
        viscosity(v.value_Pa_s),
        `${viscosity(v.low_Pa_s)} to ${viscosity(v.high_Pa_s)}`,
        v.factor80.toFixed(2),
      ];
    }),
  )}`;
};

const meanRow = (name: string, mean: Mean | undefined, unit: string, digits: number): string[][] =>
  mean === undefined
    ? []
    : [
        [
          `${name}, ${unit}`,
          mean.value.toFixed(digits),
          `${mean.low.toFixed(digits)} to ${mean.high.toFixed(digits)}`,
          String(mean.count),
        ],
      ];

const sizeRows = ({ shrinkage, absorption: weighed }: TestPiecesFinding): string[][] => {
  const absorption = weighed && 'absorption_percent' in weighed ? weighed : undefined;
  return [
    ...(shrinkage?.directions ?? []).flatMap((d) => [
      ...meanRow(`drying shrinkage, ${d.direction}`, d.drying_percent, '%', 2),
      ...meanRow(`firing shrinkage, ${d.direction}`, d.firing_percent, '%', 2),
      ...meanRow(`shrinkage in all, ${d.direction}`, d.total_percent, '%', 2),
    ]),
    ...meanRow('drying shrinkage, all', shrinkage?.drying_percent, '%', 2),
    ...meanRow('firing shrinkage, all', shrinkage?.firing_percent, '%', 2),
    ...meanRow('water taken up', absorption?.absorption_percent, '%', 2),
    ...meanRow('open pores', absorption?.openPorosity_percent, '%', 2),
    ...meanRow('fired density', absorption?.bulkDensity_kg_m3, 'kg/m³', 0),
    ...meanRow('density without open pores', absorption?.solidDensity_kg_m3, 'kg/m³', 0),
  ];
};

const sizeTable = (found: TestPiecesFinding): string => {
  const rows = sizeRows(found);
  return rows.length === 0
    ? ''
    : `\nSizes and weights\n${table(['', 'mean', 'four in five', 'pieces'], rows)}`;
};

/** What the thermometer was off by, as the cones saw it. */
const offsetTable = ({ offsets }: TestPiecesFinding): string =>
  offsets.length === 0
    ? ''
    : `\nWitness cones: how much hotter the ware got than the thermometer said, °C\n${table(
        ['firing', 'kiln', 'hotter by', 'four in five'],
        offsets.map(({ firing, kiln, finding: { kind, hotter_K, plusMinus80_K } }) => [
          firing,
          kiln,
          kind === 'contradictory'
            ? 'not to be told'
            : `${kind === 'found' ? '' : `${kind} `}${hotter_K.toFixed(0)}`,
          plusMinus80_K === undefined ? '' : `±${plusMinus80_K.toFixed(0)}`,
        ]),
      )}`;

/** All that a file of test pieces says, to be read in a terminal. */
export const testPiecesReport = (
  file: TestPiecesFile,
  clay: Clay,
  found: TestPiecesFinding,
  leaveOut: readonly string[],
): string => {
  const head = `${file.name}: ${clay.name}`;
  return [
    `${head}\n${'='.repeat(head.length)}\n`,
    offsetTable(found),
    sizeTable(found),
    ...(found.sag ? [sagTable(found.sag.readings, leaveOut), together(found.sag, clay)] : []),
    list('Does not go together', found.contradictions),
    list('What is new in the clay', found.changed),
    list('These do not go together in the clay; it is not usable until one is mended', found.disagreements),
    list('Notes', found.notes),
    `\n${SAFETY}\n`,
  ].join('');
};

/** The same for programs. */
export const testPiecesJson = (file: TestPiecesFile, found: TestPiecesFinding): object => ({
  name: file.name,
  ...found,
});
