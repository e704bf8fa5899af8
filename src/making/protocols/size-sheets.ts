import type { Block } from '../paper/lay-out.ts';
import { BOILING, CUTTING, EDGES, MEASURING_HOT } from './cautions.ts';
import { barOutline } from './drawings.ts';
import { blank, heading, opening, type ProtocolOptions, paragraph, steps, table } from './sheet-parts.ts';

export const shrinkageBlocks = (o: ProtocolOptions): Block[] => [
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
    'Drying shrinkage = 100 (wet – dry)/wet; firing shrinkage = 100 (dry – fired)/dry; in all 100 (wet – fired)/wet, which is less than their sum.'.replaceAll(
      '–',
      '–',
    ),
  ),
];

export const absorptionBlocks = (o: ProtocolOptions): Block[] => [
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
