import { gramsFromKg, litresFromCubicMetres, mmFromMetres } from '../../units.ts';

interface Unit {
  readonly ending: string;
  readonly unit: string;
  readonly from: (si: number) => number;
  readonly digits: number;
}

/** How a value whose name ends so is told: the artist's unit, and as many digits as a ruler or scale gives. */
const UNITS: readonly Unit[] = [
  { ending: '_m3', unit: 'ml', from: (v) => 1000 * litresFromCubicMetres(v), digits: 0 },
  { ending: '_m2', unit: 'cm²', from: (a) => 1e4 * a, digits: 1 },
  { ending: '_m', unit: 'mm', from: mmFromMetres, digits: 1 },
  { ending: '_kg', unit: 'g', from: gramsFromKg, digits: 0 },
  { ending: '_deg', unit: '°', from: (x) => x, digits: 1 },
];

export interface Quantity {
  readonly label: string;
  readonly unit: string;
  readonly told: (si: number) => string;
}

/** `lipWidth_m` → lip width, mm. A value without a known ending is told as it is. */
export const quantityOf = (key: string): Quantity => {
  const found = UNITS.find(({ ending }) => key.endsWith(ending));
  const name = found === undefined ? key : key.slice(0, -found.ending.length);
  const label = name.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
  const told = (si: number): string =>
    Number.isFinite(si)
      ? (found?.from(si) ?? si).toFixed(found?.digits ?? 2).replace(/^-(0(\.0*)?)$/, '$1')
      : '–';
  return { label, unit: found?.unit ?? '', told };
};
