import { h } from 'preact';
import type { Estimate } from '../../making/firing/firing.ts';
import type { Session } from '../session.ts';
import { type Reading, read, readWithUnit } from '../words.ts';

/** Sides that differ by more than this are told apart. */
const LOPSIDED = 1.25;

const known = (e: Estimate): boolean => e.high > 0 && Number.isFinite(e.low) && Number.isFinite(e.high);

/** Where the last place is less than a twentieth of what is not known, it says nothing. */
const asKnown = ({ value, low, high }: Estimate, reading: Reading): Reading => {
  const half = Math.max(value - low, high - value) * reading.per_SI;
  return half > 20 * 10 ** -reading.places
    ? { ...reading, places: Math.max(0, reading.places - 1) }
    : reading;
};

/** `± 1.5`, or `3 to 7` where one side is longer. */
const inShort = ({ value, low, high }: Estimate, reading: Reading): string => {
  const [under, over] = [value - low, high - value];
  const least = 10 ** -reading.places;
  if (Math.max(under, over) * reading.per_SI < least / 2) return `± < ${least.toFixed(reading.places)}`;
  if (Math.max(under, over) <= LOPSIDED * Math.min(under, over))
    return `± ${read(Math.max(under, over), reading)}`;
  return `${read(Math.max(0, low), reading)} to ${read(high, reading)}`;
};

/** A number and how sure it is; a tap takes that apart. Without an interval it is only the number. */
export const withInterval = (
  session: Session,
  key: string,
  name: string,
  estimate: Estimate | undefined,
  given: Reading,
  told: (reading: Reading) => string,
) => {
  if (!estimate || !known(estimate)) return told(given);
  const open = session.page().unsure === key;
  const reading = asKnown(estimate, given);
  const interval = inShort(estimate, reading);
  return h(
    'button',
    {
      type: 'button',
      class: 'sure',
      'aria-expanded': open,
      'aria-label': `${name} ${told(reading)} ${reading.unit}, ${interval}. What that is made of`,
      'data-sure': key,
      onClick: () => session.update((p) => ({ ...p, unsure: open ? undefined : key })),
    },
    told(reading),
    h('small', null, interval),
  );
};

/** What an interval is made of. */
export const madeOf = (estimate: Estimate, reading: Reading): string => {
  const { value, low, high, numerical, spreadLow, spreadHigh, why } = estimate;
  const to = (a: number, b: number): string =>
    `${read(Math.max(0, a), reading)} to ${readWithUnit(b, reading)}`;
  return (
    `${readWithUnit(value, reading)}, four in five between ${to(low, high)}. Clay and kiln alone: ${to(spreadLow, spreadHigh)}. ` +
    `The calculation alone: ± ${readWithUnit(numerical, reading)}. ${why.charAt(0).toUpperCase()}${why.slice(1)}.`
  );
};
