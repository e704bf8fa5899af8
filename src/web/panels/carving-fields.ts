import type { Carving } from '../../making/form/carving/carving-shape.ts';
import type { FieldRow } from './alteration-fields.ts';

const mm = (key: string, label: string, step = 0.5): FieldRow => ({ path: [key], label, unit: 'mm', step });
const degrees = (key: string, label: string): FieldRow => ({ path: [key], label, unit: '°', step: 5 });
const many = (key: string, label: string): FieldRow => ({ path: [key], label, unit: '', step: 1, places: 0 });
const percent = (key: string, label: string): FieldRow => ({
  path: [key],
  label,
  unit: '%',
  step: 1,
  times: 100,
});

const DEPTH = mm('depth_mm', 'Deep', 0.1);
const MAP: readonly FieldRow[] = [
  percent('alongFrom', 'From'),
  percent('alongTo', 'Up to'),
  many('count', 'How many'),
  degrees('angle_deg', 'Starts at'),
  DEPTH,
];

/** The boxes of a carving's card, by what it is. */
export const carvingRows = (c: Carving): readonly FieldRow[] =>
  'map' in c
    ? MAP
    : [
        mm('width_mm', 'Wide'),
        mm('height_mm', 'High'),
        degrees('turn_deg', 'Turned'),
        percent('along', 'Up the line'),
        many('count', 'How many'),
        degrees('angle_deg', 'Starts at'),
        many('rows', 'Rows'),
        ...(c.rows > 1 ? [{ ...mm('rowStep_mm', 'Row to row', 1), otherwise: 1.5 * c.height_mm }] : []),
        ...(c.kind === 'relief' ? [DEPTH, mm('bevel_mm', 'Bevel', 0.1)] : []),
      ];

const PLACED = { turn_deg: 0, along: 0.55, angle_deg: 0, rows: 1, staggered: false } as const;

/** A first one to start from: plainly to be seen, and on most pieces harmless. */
export const firstOpening = (): Carving => ({
  kind: 'opening',
  outline: { motif: 'leaf' },
  width_mm: 9,
  height_mm: 16,
  count: 6,
  ...PLACED,
});

export const firstRelief = (): Carving => ({
  kind: 'relief',
  outline: { motif: 'drop' },
  width_mm: 10,
  height_mm: 14,
  count: 8,
  depth_mm: 0.8,
  bevel_mm: 1,
  ...PLACED,
});

/** The same outline cut through instead of carved in, or the other way. */
export const asOther = (c: Carving): Carving => {
  if ('map' in c) return c;
  if (c.kind === 'opening') return { ...c, kind: 'relief', depth_mm: 0.8, bevel_mm: 1 };
  const { depth_mm: _, bevel_mm: __, ...placed } = c;
  return { ...placed, kind: 'opening' };
};
