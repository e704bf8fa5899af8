import { badInput } from '../../error.ts';

/**
 * Instants are kept as UTC to the millisecond (`2026-03-29T00:30:00.000Z`, which also sorts as text) with the IANA zone
 * of the wall clock beside them: the first says how long, the second says which day it was for the person.
 */

const INSTANT = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/;
const HOUR_MS = 3_600_000;

export const isInstant = (text: string): boolean =>
  INSTANT.test(text) && !Number.isNaN(Date.parse(text)) && new Date(text).toISOString() === text;

/** Formatters are slow to make and there are few zones in a studio's life. */
const clocks = new Map<string, Intl.DateTimeFormat>();

/** @throws RangeError for a zone that IANA does not know */
const clockOf = (zone: string): Intl.DateTimeFormat => {
  const known = clocks.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    calendar: 'iso8601',
    numberingSystem: 'latn',
    hourCycle: 'h23',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
  });
  clocks.set(zone, made);
  return made;
};

/** A zone by its name in the IANA database; a bare offset like +01:00 knows no summer and is refused. */
export const isZone = (zone: string): boolean => {
  if (!/^[A-Za-z]/.test(zone)) return false;
  try {
    clockOf(zone);
    return true;
  } catch {
    return false;
  }
};

export interface WallClock {
  /** YYYY-MM-DD */
  readonly day: string;
  /** HH:MM:SS */
  readonly time: string;
}

/** What the calendar and the clock on the wall say there. */
export const wallClock = (at_utc: string, zone: string): WallClock => {
  const part: Record<string, string> = {};
  for (const { type, value } of clockOf(zone).formatToParts(new Date(at_utc))) part[type] = value;
  return {
    day: `${part.year.padStart(4, '0')}-${part.month}-${part.day}`,
    time: `${part.hour}:${part.minute}:${part.second}`,
  };
};

/** Real hours between two instants, whatever the clocks did meanwhile. */
export const hoursBetween = (from_utc: string, to_utc: string): number =>
  (Date.parse(to_utc) - Date.parse(from_utc)) / HOUR_MS;

/** Whole days from one calendar day to another (YYYY-MM-DD); negative when the second lies before. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / (24 * HOUR_MS));

const asIfUtc = ({ day, time }: WallClock): number => Date.parse(`${day}T${time}Z`);

/**
 * The instant when a clock on the wall there shows this.
 * @param local `2026-03-29T02:30` or with a space, seconds optional
 * @param which of the two, in the hour that comes twice when summer ends
 * @throws AfterfireError `bad-input`: not a time, or one that was skipped when summer began
 */
export const instantOf = (local: string, zone: string, which: 'first' | 'second' = 'first'): string => {
  const [, day, hm, s] = /^(\d{4}-\d\d-\d\d)[T ](\d\d:\d\d)(?::(\d\d))?$/.exec(local) ?? [];
  const wanted = day === undefined ? Number.NaN : Date.parse(`${day}T${hm}:${s ?? '00'}Z`);
  if (Number.isNaN(wanted) || !new Date(wanted).toISOString().startsWith(`${day}T${hm}`))
    throw badInput('at', local, 'a day and a time, YYYY-MM-DD HH:MM');
  // No zone is further than a day from UTC, and none changes twice within two days.
  const offsets = [-24, 24].map((h) => {
    const guess = new Date(wanted + h * HOUR_MS).toISOString();
    return asIfUtc(wallClock(guess, zone)) - Date.parse(guess);
  });
  const found = [...new Set(offsets)]
    .map((offset) => wanted - offset)
    .filter((ms) => asIfUtc(wallClock(new Date(ms).toISOString(), zone)) === wanted)
    .sort((a, b) => a - b);
  if (found.length === 0)
    throw badInput(
      'at',
      local,
      `a time that was on the clocks of ${zone}: there they were put forward over it`,
    );
  return new Date(which === 'first' ? found[0] : found[found.length - 1]).toISOString();
};

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** `2026-11` → `November 2026` */
export const monthInWords = (month: string): string =>
  `${MONTHS[Number(month.slice(5, 7)) - 1]} ${month.slice(0, 4)}`;
