import { badInput } from '../error.ts';
import type { KindName } from '../making/record/kinds.ts';
import { atLeast, STAGES, STANDS, type Stage, type Stands } from '../making/record/piece-state.ts';
import type { Column } from './pieces-csv.ts';

/** What must have happened to a piece for it to stand where a line of a table says. */

export type Line = Readonly<Partial<Record<Column, string>>>;

export interface Happened {
  readonly kind: KindName;
  readonly data?: Readonly<Record<string, string | number>>;
  readonly note?: string;
}

const numberIn = (line: Line, column: Column): number => {
  const text = line[column] ?? '';
  const value = Number(text);
  if (text.trim() === '' || !Number.isFinite(value)) throw badInput(column, text, 'a number');
  return value;
};

/** How far a line says the piece came; pieces that stand in a kiln now are few and are set by hand. */
export const stageOf = ({ stage = 'finished' }: Line): Stage => {
  if (stage === 'not begun' || !STAGES.includes(stage as Stage))
    throw badInput('stage', stage, STAGES.slice(1).join(', '));
  return stage === 'set' ? 'bone dry' : stage === 'fired' ? 'unloaded' : (stage as Stage);
};

const weighed = (line: Line, column: Column, clay: string): Happened[] =>
  line[column] === undefined ? [] : [{ kind: 'weighed', data: { clay, weight_g: numberIn(line, column) } }];

/** From the clay to bone dry. */
export const firstEntries = (line: Line, stage: Stage): Happened[] => {
  const worked: Record<string, number> = line.hours === undefined ? {} : { hours: numberIn(line, 'hours') };
  return [
    ...(atLeast(stage, 'formed') ? [{ kind: 'formed', data: worked } as const] : []),
    ...weighed(line, 'wet_g', 'wet'),
    ...(stage === 'drying' ? [{ kind: 'drying' } as const] : []),
    ...(atLeast(stage, 'bone dry') ? [{ kind: 'dry' } as const] : []),
    ...weighed(line, 'bone_dry_g', 'bone dry'),
  ];
};

const money = (line: Line, column: Column, usual: string): Record<string, string | number> => ({
  price_minor: numberIn(line, column),
  currency: line.currency ?? usual,
});

const stoodAt = (line: Line, stands: Stands, usual: string): Happened[] => {
  const { place } = line;
  switch (stands) {
    case 'packed':
      return [{ kind: 'packed', data: { box: place ?? 'a box' } }];
    case 'shown':
      return [{ kind: 'shown', data: { place: place ?? 'a show' } }];
    case 'on consignment':
      return [{ kind: 'consigned', data: { place: place ?? 'a gallery' } }];
    case 'sold': {
      const paid = money(line, line.sale_minor === undefined ? 'price_minor' : 'sale_minor', usual);
      return [{ kind: 'sold', data: line.sold_to === undefined ? paid : { ...paid, to: line.sold_to } }];
    }
    case 'lost':
      return [{ kind: 'lost', data: { cause: line.cause ?? 'other' } }];
    case 'in the studio':
      return place === undefined ? [] : [{ kind: 'moved', data: { place } }];
  }
};

/** From the kiln to where it stands now. */
export const lastEntries = (line: Line, stage: Stage, usual: string): Happened[] => {
  const stands = line.stands ?? 'in the studio';
  if (!STANDS.includes(stands as Stands)) throw badInput('stands', stands, STANDS.join(', '));
  return [
    ...weighed(line, 'fired_g', 'fired'),
    ...(line.fired_height_mm === undefined
      ? []
      : [
          {
            kind: 'measured',
            data: { clay: 'fired', height_mm: numberIn(line, 'fired_height_mm') },
          } as const,
        ]),
    ...(stage === 'finished' ? [{ kind: 'finished' } as const] : []),
    ...(line.price_minor === undefined
      ? []
      : [{ kind: 'priced', data: money(line, 'price_minor', usual) } as const]),
    ...(line.note === undefined ? [] : [{ kind: 'noted', note: line.note } as const]),
    ...stoodAt(line, stands as Stands, usual),
  ];
};
