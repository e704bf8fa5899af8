import { badInput } from '../../error.ts';
import type { Block } from '../paper/lay-out.ts';
import { CUTTING, MEASURING_HOT, UNDER_THE_BAR } from './cautions.ts';
import { barOnSupports, barOutline } from './drawings.ts';
import { blank, heading, opening, type ProtocolOptions, steps, table } from './sheet-parts.ts';

const USUAL = {
  span_mm: 110,
  thickness_mm: 6.5,
  holds: [
    { peak_C: 1235, minutes: 120 },
    { peak_C: 1250, minutes: 30 },
    { peak_C: 1265, minutes: 15 },
    { peak_C: 1275, minutes: 15 },
  ],
} as const;
const SUPPORT_HEIGHT_mm = 40;
const BAR_WIDTH_mm = 20;
/** Bar beyond each edge after it has shrunk by a seventh and a little been drawn in. */
const BEYOND_mm = 9;
const SHRUNK = 0.86;
const LONGEST_mm = 180;

const lengthFor = (span: number): number => Math.round((span + 2 * BEYOND_mm) / SHRUNK);

const checkedSizes = (o: ProtocolOptions) => {
  const span = o.span_mm ?? USUAL.span_mm;
  const thickness = o.thickness_mm ?? USUAL.thickness_mm;
  const length = lengthFor(span);
  if (!(span >= 60 && length <= LONGEST_mm))
    throw badInput(
      'span_mm',
      span,
      `60 to ${Math.floor(LONGEST_mm * SHRUNK - 2 * BEYOND_mm)}, so that the bar can be drawn at true size`,
    );
  if (!(thickness >= 3 && thickness <= span / 12))
    throw badInput('thickness_mm', thickness, `3 to a twelfth of the span, ${(span / 12).toFixed(1)}`);
  return { span, thickness, length };
};

const SAG_COLUMNS = [
  ['bar', 1],
  ['firing', 1.4],
  ['span, mm', 1.2],
  ['edges over the shelf, mm', 1.4],
  ['length fired, mm', 1.4],
  ['thickness fired, mm (mean of 5)', 1.7],
  ['sag, mm', 1.2],
  ['free / on the shelf / slid in', 1.8],
  ['note', 2],
] as const;

const barMaking = (length: number, thickness: number): string[] => [
  `Roll the clay ${thickness} mm thick between two laths of that height. Let it stiffen to leather-hard, lay the outline on it and cut the bar, ${length} × ${BAR_WIDTH_mm} mm. Scratch its name near one end.`,
  'Dry it flat between boards, turning it daily, so that it does not bend before the fire. A bar that is not straight when bone dry: measure its bow and take it off the sag, or make another.',
];
const barMeasuring: readonly string[] = [
  'When cold: see whether the bar hangs free, lies on the shelf, or slid in between. Note it before touching anything.',
  'Sag: lay a straight edge along the top over the two places where the supports were, and measure the gap in the middle; or measure from the shelf up to the underside at the supports and in the middle, and subtract. To 0.2 mm.',
  'Lift the bar off. Measure its thickness at five places with calipers, to 0.1 mm, and its length along the bar.',
];

export const sagBlocks = (o: ProtocolOptions): Block[] => {
  const { span, thickness, length } = checkedSizes(o);
  return [
    ...opening(
      'sag-bar',
      o,
      'A bar laid over two edges sinks in the middle while it is soft. From how far, its thickness, the span and what the kiln really did follows how soft this clay is in the fire. A sag of 3 to 10 % of the span reads best.',
      [CUTTING, UNDER_THE_BAR, MEASURING_HOT],
    ),
    {
      kind: 'drawing',
      caption: 'Outline of the bar from above, true size: cut by it.',
      elements: barOutline(length, BAR_WIDTH_mm),
    },
    {
      kind: 'drawing',
      caption:
        'From the side, true size, as set. The span is that of the supports, edge to edge: they do not shrink, so it is the same before and after the fire.',
      elements: barOnSupports(span, length, thickness, SUPPORT_HEIGHT_mm),
    },
    heading('Make'),
    steps(...barMaking(length, thickness)),
    heading('Set and fire'),
    steps(
      `Stand two straight-edged pieces of kiln furniture ${span} mm apart on a level tray, at least ${SUPPORT_HEIGHT_mm} mm high. Measure the span to 0.5 mm.`,
      'Dust the edges with dry alumina so that the bar can slip, and lay it over them with the same length beyond each.',
      'Set witness cones beside it, at the same height. Write down the schedule; better, keep the log of the thermometer.',
      'Fire as you fire your ware.',
    ),
    heading('Measure'),
    steps(...barMeasuring),
    table(SAG_COLUMNS, blank(o.pieces ?? 4)),
  ];
};

export const holdsBlocks = (o: ProtocolOptions): Block[] => {
  const { span, thickness, length } = checkedSizes(o);
  const holds = o.holds ?? USUAL.holds;
  if (holds.length < 2) throw badInput('holds', holds.length, 'at least two, or there is nothing to compare');
  return [
    ...opening(
      'bars-at-holds',
      o,
      'Bars of one batch, fired to different peaks with different holds, tell how fast the clay softens as it gets hotter. The further apart the peaks, the better it is known; longer holds at the lower peaks bring the sags together.',
      [CUTTING, UNDER_THE_BAR, MEASURING_HOT],
    ),
    {
      kind: 'drawing',
      caption: 'Outline of each bar from above, true size.',
      elements: barOutline(length, BAR_WIDTH_mm),
    },
    heading('Make'),
    steps(
      ...barMaking(length, thickness),
      `Make two bars for each of the ${holds.length} firings, all from one slab, and a few to spare.`,
    ),
    heading('Set and fire'),
    steps(
      `Set each bar as on the sheet for one sag bar: edges ${span} mm apart, ${SUPPORT_HEIGHT_mm} mm high, washed and dusted, on a tray, witness cones beside it.`,
      'Use the same rate over the last 100 °C in every firing. Change peak and hold only as far as your ware, kiln and shelves bear it: their makers know best.',
      'Keep the log of every firing.',
    ),
    heading('Measure'),
    steps(...barMeasuring),
    table(
      [
        ['peak, °C (planned)', 1.3],
        ['hold, min (planned)', 1.3],
        ['peak, °C (log)', 1.2],
        ['hold, min (log)', 1.2],
        ['bar', 0.8],
        ['length fired, mm', 1.3],
        ['thickness fired, mm', 1.4],
        ['sag, mm', 1],
        ['note', 1.6],
      ],
      holds.flatMap((h) => [
        [`${h.peak_C}`, `${h.minutes}`],
        [`${h.peak_C}`, `${h.minutes}`],
      ]),
    ),
  ];
};
