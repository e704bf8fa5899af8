import { h } from 'preact';
import type { Estimate } from '../../making/firing/firing.ts';
import type { Session } from '../session.ts';
import { type Reading, read, readWithUnit } from '../words.ts';

/** Sides that differ by more than this are told apart. */
const LOPSIDED = 1.25;

const known = (e: Estimate): boolean => e.high > 0 && Number.isFinite(e.low) && Number.isFinite(e.high);

/** `± 1.5`, or `3 to 7` where one side is longer. */
const inShort = ({ value, low, high }: Estimate, reading: Reading): string => {
  const [under, over] = [value - low, high - value];
  const least = 0.5 * 10 ** -reading.places;
  if (Math.max(under, over) * reading.per_SI < least)
    return `± < ${(10 ** -reading.places).toFixed(reading.places)}`;
  if (Math.max(under, over) <= LOPSIDED * Math.min(under, over))
    return `± ${read(Math.max(under, over), reading)}`;
  return `${read(Math.max(0, low), reading)} to ${read(high, reading)}`;
};

/** How sure a number is, small, under it; a tap takes it apart. */
export const intervalButton = (
  session: Session,
  key: string,
  name: string,
  estimate: Estimate | undefined,
  reading: Reading,
) => {
  if (!estimate || !known(estimate)) return null;
  const open = session.page().unsure === key;
  return h(
    'button',
    {
      type: 'button',
      class: 'sure',
      'aria-expanded': open,
      'aria-label': `${name}: ${inShort(estimate, reading)} ${reading.unit}. What that is made of`,
      'data-sure': key,
      onClick: () => session.update((p) => ({ ...p, unsure: open ? undefined : key })),
    },
    inShort(estimate, reading),
  );
};

/** What an interval is made of. */
export const madeOf = (estimate: Estimate, reading: Reading): string => {
  const { value, low, high, numerical, spreadLow, spreadHigh, why } = estimate;
  const to = (a: number, b: number): string =>
    `${read(Math.max(0, a), reading)} to ${readWithUnit(b, reading)}`;
  return (
    `${readWithUnit(value, reading)}, four in five between ${to(low, high)}. Clay and kiln alone: ${to(spreadLow, spreadHigh)}. ` +
    `The calculation alone: ± ${readWithUnit(numerical, reading)}. It holds that ${why}.`
  );
};
