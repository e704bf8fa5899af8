import type { Alteration } from '../../making/form/alterations/table.ts';
import type { Path } from '../state/at.ts';

export interface FieldRow {
  readonly path: Path;
  readonly label: string;
  readonly unit: string;
  readonly step?: number;
  readonly places?: number;
  readonly times?: number;
  /** What holds while the file says nothing. */
  readonly otherwise?: number;
  readonly choices?: { readonly names: readonly string[]; readonly of: (alteration: Alteration) => string };
}

interface About {
  readonly name: string;
  readonly rows: readonly FieldRow[];
  /** A first one to start from: plainly to be seen, and harmless. */
  readonly make: () => Alteration;
}

const percent = (key: string, label: string): FieldRow => ({
  path: [key],
  label,
  unit: '%',
  step: 1,
  times: 100,
});
const degrees = (key: string, label: string): FieldRow => ({ path: [key], label, unit: '°', step: 5 });
const mm = (key: string, label: string, step = 0.5): FieldRow => ({ path: [key], label, unit: 'mm', step });
const count = (label: string): FieldRow => ({ path: ['count'], label, unit: '', step: 1, places: 0 });

/** One row of inputs for each field of each kind; ranges and their messages come from the form's own checks. */
export const ALTERATIONS: { readonly [K in Alteration['kind']]: About } = {
  lobes: {
    name: 'Flutes or lobes',
    rows: [
      count('How many'),
      percent('roundness', 'Softness'),
      degrees('twist_deg', 'Twist'),
      degrees('turn_deg', 'Turned'),
    ],
    make: () => ({
      kind: 'lobes',
      count: 12,
      depth: [{ along: 0.5, depth_mm: 3 }],
      roundness: 1,
      twist_deg: 0,
      turn_deg: 0,
    }),
  },
  oval: {
    name: 'Oval',
    rows: [
      { path: ['longer_percent'], label: 'Longer by', unit: '%', step: 1 },
      degrees('turn_deg', 'Turned'),
    ],
    make: () => ({ kind: 'oval', longer_percent: 12, turn_deg: 0 }),
  },
  facets: {
    name: 'Facets',
    rows: [
      count('How many'),
      percent('flatness', 'Flatness'),
      percent('from', 'From'),
      percent('to', 'Up to'),
      degrees('turn_deg', 'Turned'),
    ],
    make: () => ({ kind: 'facets', count: 8, flatness: 1, from: 0.1, to: 0.9, turn_deg: 0 }),
  },
  push: {
    name: 'Push in or out',
    rows: [
      mm('depth_mm', 'Out (− in)'),
      mm('reach_mm', 'Reach', 1),
      percent('along', 'Up the line'),
      degrees('angle_deg', 'Round at'),
    ],
    make: () => ({ kind: 'push', angle_deg: -60, along: 0.55, reach_mm: 35, depth_mm: -6 }),
  },
  'cut lip': {
    name: 'Cut lip',
    rows: [
      count('How many'),
      mm('depth_mm', 'Deep'),
      {
        path: ['shape'],
        label: 'Shape',
        unit: '',
        choices: { names: ['wave', 'notch'], of: (a) => (a.kind === 'cut lip' ? a.shape : 'wave') },
      },
      degrees('turn_deg', 'Turned'),
    ],
    make: () => ({ kind: 'cut lip', count: 5, depth_mm: 8, shape: 'wave', turn_deg: 0 }),
  },
};
