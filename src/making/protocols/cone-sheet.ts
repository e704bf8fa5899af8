import { badInput } from '../../error.ts';
import { CONE_CHART } from '../kiln/cones.ts';
import type { Block } from '../paper/lay-out.ts';
import { MEASURING_HOT } from './cautions.ts';
import { bendGauge, conesInARow } from './drawings.ts';
import { blank, heading, opening, type ProtocolOptions, steps, table } from './sheet-parts.ts';

const USUAL_CONES = ['9', '10', '11'] as const;

export const conesBlocks = (o: ProtocolOptions): Block[] => {
  const cones = o.cones ?? USUAL_CONES;
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
