import type { Firing } from '../../making/firing/firing.ts';
import type { Camera } from '../../making/photo/camera.ts';
import type { compareWithFired } from '../../making/photo/compare-with-fired.ts';
import type { Outline, PhotoRead } from '../../making/photo/find-outline.ts';
import { type OutlineMeasures, outlineMeasures } from '../../making/photo/outline-measures.ts';
import type { Ring } from '../../making/photo/ring.ts';
import type { UnloadingOutline } from '../../making/photo/unloading-outline.ts';
import { table } from '../table.ts';
import { list } from './firing-report.ts';
import { quantityOf } from './quantity.ts';
import { SAFETY_IN_BRIEF } from './safety.ts';

/** All that one photograph said. */
export interface OutlineTold {
  readonly name: string;
  readonly found: PhotoRead;
  readonly outline: Outline;
  readonly camera: Camera | undefined;
  /** The true section of a round piece, where it is known where the lens stood. */
  readonly section: Outline | undefined;
  readonly forUnloading: UnloadingOutline;
  readonly firing: Firing | undefined;
  readonly compared: ReturnType<typeof compareWithFired> | undefined;
}

const ROWS = ['height_m', 'widest_m', 'widestAt_m', 'lipWidth_m', 'footWidth_m', 'lean_m'] as const;
const LABELS: Partial<Record<(typeof ROWS)[number], string>> = {
  widest_m: 'widest',
  widestAt_m: 'widest at height',
  lean_m: 'lip off the foot, to the right',
};

const column = (m: OutlineMeasures | undefined, key: (typeof ROWS)[number]): string =>
  m === undefined ? '' : quantityOf(key).told(m[key]);

const measuresTable = ({ outline, section, compared }: OutlineTold): string => {
  const columns: [string, OutlineMeasures][] = [
    ['as seen', outlineMeasures(outline.points_m)],
    ...(section
      ? ([['true section, if round', outlineMeasures(section.points_m)]] as [string, OutlineMeasures][])
      : []),
    ...(compared ? ([['foreseen, as seen', compared.foreseen]] as [string, OutlineMeasures][]) : []),
  ];
  return table(
    ['mm', ...columns.map(([name]) => name)],
    ROWS.map((key) => [LABELS[key] ?? quantityOf(key).label, ...columns.map(([, m]) => column(m, key))]),
  );
};

const mm = (x_m: number): string => (1000 * x_m).toFixed(1);

/** The comparison in sentences. */
export const comparedTold = ({ compared, firing }: OutlineTold): string[] => {
  if (!compared || !firing) return [];
  const { greatest_m, greatestAt, placed_m, rms_m, turn_rad } = compared;
  const [x, z] = [placed_m[2 * greatestAt], placed_m[2 * greatestAt + 1]];
  return [
    `Against ${firing.input.form.name} as it was foreseen: most of it within ${mm(rms_m)} mm (root mean square); furthest, it lies ${mm(Math.abs(greatest_m))} mm ${greatest_m > 0 ? 'outside' : 'inside'}, at ${mm(z)} mm above the shelf, ${mm(Math.abs(x))} mm ${x > 0 ? 'right' : 'left'} of the axis.`,
    ...(Math.abs(turn_rad) > 0.002
      ? [
          `Turned by ${((180 * turn_rad) / Math.PI).toFixed(1)}° to lie on it: card or camera was not level, or the piece leans.`,
        ]
      : []),
  ];
};

const known = ({ camera, found, forUnloading }: OutlineTold): string[] => [
  `Scale from the ${found.card?.card.name} card: ${found.pxPerMm?.toFixed(1)} pixels a mm. Four points in five within ±${forUnloading.plusMinus_mm} mm (a guess).`,
  camera
    ? `The lens stood ${(1000 * camera.distance_m).toFixed(0)} mm from the card.`
    : 'Where the lens stood is not known (--camera): a round piece looks wider than it is, by half a millimetre at 200 mm across and 1 m away.',
];

/** What to look at and mend. */
export const troublesTold = ({ found }: OutlineTold): string[] => [
  ...found.troubles.map(({ text }) => text),
  ...found.weak.map(
    ({ share, middle_m: [x, z] }) =>
      `Hardly seen: ${Math.round(100 * share)} % of the edge, about x ${mm(x)}, ${mm(z)} mm above the shelf.`,
  ),
];

/** The outline of one photograph, to be read in a terminal. */
export const outlineReport = (told: OutlineTold): string => {
  const head = `Outline from ${told.name}`;
  return [
    `${head}\n${'='.repeat(head.length)}\n`,
    measuresTable(told),
    list('Compared', comparedTold(told)),
    list('Look at', troublesTold(told)),
    list('How sure', [...known(told), ...(told.firing?.provenance ?? [])]),
    told.firing ? `\n${SAFETY_IN_BRIEF}\n` : '',
  ].join('');
};

const pairs = (ring: Ring): number[][] =>
  Array.from({ length: ring.length / 2 }, (_, i) => [ring[2 * i], ring[2 * i + 1]]);

/** The same for programs: SI units, and the outline as an unloading file keeps it. */
export const outlineJson = ({
  name,
  found,
  outline,
  camera,
  section,
  forUnloading,
  compared,
  firing,
}: OutlineTold): object => ({
  photo: name,
  card: found.card?.card.name,
  pxPerMm: found.pxPerMm,
  camera,
  points_m: pairs(outline.points_m),
  sure: Array.from(outline.sure),
  measures: outlineMeasures(outline.points_m),
  section: section && { points_m: pairs(section.points_m), measures: outlineMeasures(section.points_m) },
  weak: found.weak,
  troubles: found.troubles,
  unloading: { outline: forUnloading },
  against: compared &&
    firing && {
      form: firing.input.form.name,
      setting: firing.input.setting,
      foreseen_m: pairs(compared.foreseen_m),
      placed_m: pairs(compared.placed_m),
      difference_m: Array.from(compared.difference_m),
      greatest_m: compared.greatest_m,
      rms_m: compared.rms_m,
      turn_rad: compared.turn_rad,
      measured: compared.measured,
      foreseen: compared.foreseen,
    },
});
