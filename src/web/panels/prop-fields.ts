import type { Prop } from '../../making/firing/props/table.ts';
import type { FieldRow } from './alteration-fields.ts';

const mm = (key: string, label: string, step = 1): FieldRow => ({ path: [key], label, unit: 'mm', step });

const PLACE: readonly FieldRow[] = [mm('x_mm', 'Along'), mm('y_mm', 'Across')];

interface About {
  readonly name: string;
  readonly rows: readonly FieldRow[];
}

/** What each prop is called and the boxes of its card; ranges and their messages come from the setting's own checks. */
export const PROPS: { readonly [K in Prop['kind']]: About } = {
  post: { name: 'Post', rows: [...PLACE, mm('width_mm', 'Wide'), mm('height_mm', 'High')] },
  saddle: {
    name: 'Saddle',
    rows: [
      ...PLACE,
      mm('hollowRadius_mm', 'Hollow radius'),
      mm('height_mm', 'Hollow up'),
      mm('length_mm', 'Long'),
    ],
  },
  hump: { name: 'Hump', rows: [...PLACE, mm('width_mm', 'Wide'), mm('height_mm', 'High')] },
  ring: {
    name: 'Ring setter',
    rows: [...PLACE, mm('insideRadius_mm', 'Inside radius'), mm('width_mm', 'Bar'), mm('height_mm', 'High')],
  },
  wall: {
    name: 'Wall',
    rows: [mm('away_mm', 'Away'), { path: ['towards_deg'], label: 'On the side', unit: '°', step: 15 }],
  },
};
