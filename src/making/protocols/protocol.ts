import { badInput } from '../../error.ts';
import { CONE_CHART } from '../kiln/cones.ts';
import { type Block, layOut } from '../paper/lay-out.ts';
import { type Page, type Paper, pageSvg } from '../paper/page.ts';
import { BOILING, CUTTING, EDGES, KILN, MEASURING_HOT, UNDER_THE_BAR } from './cautions.ts';
import { barOnSupports, barOutline, bendGauge, checkRuler, conesInARow } from './drawings.ts';

/** Guided test pieces to print: what to make, how to fire it, where to write what was measured. */

export const PROTOCOLS = [
  'sag-bar',
  'shrinkage-bar',
  'absorption',
  'bars-at-holds',
  'witness-cones',
] as const;
export type ProtocolKind = (typeof PROTOCOLS)[number];

export interface ProtocolOptions {
  /** Name of the clay, printed on top; a line to write on where left out. */
  readonly clay?: string;
  readonly kiln?: string;
  /** Rows of the table. */
  readonly pieces?: number;
  /** Between the edges of the supports. */
  readonly span_mm?: number;
  /** Wet thickness of a sag bar. */
  readonly thickness_mm?: number;
  /** Peaks and holds of a set. */
  readonly holds?: readonly { readonly peak_C: number; readonly minutes: number }[];
  /** Softest first: one that should go down, the one aimed at, one that should stand. */
  readonly cones?: readonly string[];
}

export interface Protocol {
  readonly kind: ProtocolKind;
  readonly title: string;
  readonly blocks: readonly Block[];
}

const DEFAULTS = {
  span_mm: 110,
  thickness_mm: 6.5,
  holds: [
    { peak_C: 1235, minutes: 120 },
    { peak_C: 1250, minutes: 30 },
    { peak_C: 1265, minutes: 15 },
    { peak_C: 1275, minutes: 15 },
  ],
  cones: ['9', '10', '11'],
} as const;
const SUPPORT_HEIGHT_mm = 40;
const BAR_WIDTH_mm = 20;
/** Bar beyond each edge after it has shrunk by a seventh and a little been drawn in. */
const BEYOND_mm = 9;
const SHRUNK = 0.86;
const LONGEST_mm = 180;

const TITLES: Readonly<Record<ProtocolKind, string>> = {
  'sag-bar': 'A sag bar on two supports',
  'shrinkage-bar': 'Shrinkage bars',
  absorption: 'Water absorption and density',
  'bars-at-holds': 'Sag bars at different holds',
  'witness-cones': 'Witness cones beside the ware',
};

const paragraph = (text: string): Block => ({ kind: 'paragraph', text });
const heading = (text: string): Block => ({ kind: 'heading', text });
const steps = (...items: readonly string[]): Block => ({ kind: 'list', numbered: true, items });
const table = (
  columns: readonly (readonly [string, number])[],
  rows: readonly (readonly string[])[],
): Block => ({
  kind: 'table',
  columns: columns.map(([title, share]) => ({ title, share })),
  rows: rows.map((r) => columns.map((_, i) => r[i] ?? '')),
});
const blank = (count: number, first: (i: number) => readonly string[] = () => []): (readonly string[])[] =>
  Array.from({ length: count }, (_, i) => first(i));

const opening = (kind: ProtocolKind, o: ProtocolOptions, what: string, mind: readonly string[]): Block[] => [
  { kind: 'title', text: TITLES[kind] },
  paragraph(
    `Clay: ${o.clay ?? '____________________'}    Kiln: ${o.kiln ?? '____________________'}    Date: ____________`,
  ),
  paragraph(what),
  heading('Mind'),
  { kind: 'list', numbered: false, items: [...mind, ...KILN] },
  {
    kind: 'drawing',
    caption:
      'Print at 100 %, not fitted to the page, and lay a ruler on this line: where it is not 100 mm, the drawings are not at true size.',
    elements: checkRuler(),
  },
];

const lengthFor = (span: number): number => Math.round((span + 2 * BEYOND_mm) / SHRUNK);

const checkedSizes = (o: ProtocolOptions) => {
  const span = o.span_mm ?? DEFAULTS.span_mm;
  const thickness = o.thickness_mm ?? DEFAULTS.thickness_mm;
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

const sagBlocks = (o: ProtocolOptions): Block[] => {
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

const holdsBlocks = (o: ProtocolOptions): Block[] => {
  const { span, thickness, length } = checkedSizes(o);
  const holds = o.holds ?? DEFAULTS.holds;
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

const shrinkageBlocks = (o: ProtocolOptions): Block[] => [
  ...opening(
    'shrinkage-bar',
    o,
    'Two marks on a bar, measured wet, bone dry and fired, give drying and firing shrinkage. Thrown clay shrinks differently along and across: cut some bars each way. ASTM C326 asks for ten bars; five each way tell much.',
    [CUTTING, MEASURING_HOT],
  ),
  {
    kind: 'drawing',
    caption: 'Outline with its marks, true size: prick the two crosses through the paper.',
    elements: barOutline(130, 25, { apart: 100 }),
  },
  heading('Make'),
  steps(
    'Cut bars from a slab, or from the wall of a thrown cylinder: some round it, some up it. Name each and write its direction in the table.',
    'Prick the marks as soon as a bar can be handled, and measure between them at once, to 0.2 mm. That is the wet length.',
  ),
  heading('Dry and fire'),
  steps(
    'Dry flat and slowly. Bone dry (no longer cool on the cheek, no lighter from day to day): measure again.',
    'Fire flat on dusted alumina to the heat of your ware, and measure again, cold.',
  ),
  table(
    [
      ['bar', 0.8],
      ['direction (along, across, through, round, up)', 2],
      ['wet, mm', 1],
      ['bone dry, mm', 1],
      ['fired, mm', 1],
      ['firing', 1.4],
      ['note', 1.6],
    ],
    blank(o.pieces ?? 10),
  ),
  paragraph(
    'Drying shrinkage = 100 (wet − dry)/wet; firing shrinkage = 100 (dry − fired)/dry; in all 100 (wet − fired)/wet, which is less than their sum.'.replaceAll(
      '−',
      '–',
    ),
  ),
];

const absorptionBlocks = (o: ProtocolOptions): Block[] => [
  ...opening(
    'absorption',
    o,
    'Three weights of a fired, unglazed piece give its open pores and its density: dry, soaked, and hanging in water. The way of weighing is that of ASTM C373: five pieces of 50 g or more, no sharp edges.',
    [BOILING, EDGES, MEASURING_HOT],
  ),
  heading('Weigh'),
  steps(
    'Dry the pieces at 150 °C until two weighings an hour apart agree. Let them cool dry. Weigh: dry.',
    'Put them in boiling water, not touching one another or the bottom. Boil 5 hours, topping up. Leave them in the water for another 24 hours.',
    'Hang each on a thin thread under water from the hook of the balance (or on a wire stand over it), no air on it, not touching the beaker. Weigh: hanging. Take off the weight of the thread.',
    'Take it out, wipe off drops with a damp cloth without drawing water from the pores, and weigh at once: soaked.',
    'Note how finely your balance reads, and the temperature of the water. 0.01 g is what the standard asks; with 0.1 g use pieces of 200 g and more.',
  ),
  table(
    [
      ['piece', 1],
      ['firing', 1.4],
      ['dry, g', 1.2],
      ['hanging, g', 1.2],
      ['soaked, g', 1.2],
      ['balance reads to, g', 1.2],
      ['note', 1.8],
    ],
    blank(o.pieces ?? 5),
  ),
  paragraph(
    'Water taken up = 100 (soaked – dry)/dry; open pores = 100 (soaked – dry)/(soaked – hanging); density = dry/(soaked – hanging) × that of water.',
  ),
];

const conesBlocks = (o: ProtocolOptions): Block[] => {
  const cones = o.cones ?? DEFAULTS.cones;
  cones.forEach((cone, i) => {
    if (!CONE_CHART.some((c) => c.cone === cone))
      throw badInput(`cones[${i}]`, cone, `a cone of the chart: ${CONE_CHART.map((c) => c.cone).join(', ')}`);
  });
  if (cones.length === 0 || cones.length > 7) throw badInput('cones', cones.length, '1 to 7 of them');
  return [
    ...opening(
      'witness-cones',
      o,
      'Cones bend by the heat that was really there. A row of three beside the ware, the softest down, one half way, the hardest standing, shows by how much the thermometer is off, to a few degrees.',
      [MEASURING_HOT],
    ),
    {
      kind: 'drawing',
      caption:
        'The row as it should come out: first down, middle bent, last standing. Write over each how it was found.',
      elements: conesInARow(cones),
    },
    heading('Set and fire'),
    steps(
      'Use self-supporting regular cones, of one box where you can. Set the row on a level tray beside the ware, not beside the thermocouple, where nothing blows on it and each can fall free. A row top and bottom shows how even the kiln is.',
      'Keep the log, or the schedule, of the firing. The rate over the last 100 °C and the hold count.',
    ),
    heading('Measure'),
    steps(
      'Cold, hold each cone against the quarter circle, its foot in the corner, and read how far the tip has come down from where it stood: 0° not at all, 90° level with its foot or lower.',
    ),
    {
      kind: 'drawing',
      caption: 'True size; the corner is the foot of the cone.',
      elements: bendGauge(50),
    },
    table(
      [
        ['firing', 1.6],
        ['place in the kiln', 1.6],
        ...cones.map((c) => [`cone ${c}, °`, 1.2] as const),
        ['peak by thermometer, °C', 1.6],
        ['note', 1.4],
      ],
      blank(o.pieces ?? 6),
    ),
  ];
};

const BLOCKS: Readonly<Record<ProtocolKind, (o: ProtocolOptions) => Block[]>> = {
  'sag-bar': sagBlocks,
  'shrinkage-bar': shrinkageBlocks,
  absorption: absorptionBlocks,
  'bars-at-holds': holdsBlocks,
  'witness-cones': conesBlocks,
};

/**
 * A protocol as blocks of text, drawings at true size and tables to fill in by hand.
 * @throws AfterfireError `bad-input` for sizes that make no bar, or no such cone
 */
export const protocolOf = (kind: ProtocolKind, options: ProtocolOptions = {}): Protocol => ({
  kind,
  title: TITLES[kind],
  blocks: BLOCKS[kind](options),
});

/** Its pages on a paper, nothing in the margins. */
export const protocolPages = (protocol: Protocol, paper: Paper): Page[] =>
  layOut(
    protocol.blocks,
    paper,
    `Afterfire: ${protocol.title}. Advice, not a rule: makers' and local rules come first.`,
  );

/** Its pages as SVG at true size, one each. */
export const protocolSvg = (protocol: Protocol, paper: Paper): string[] =>
  protocolPages(protocol, paper).map(pageSvg);
