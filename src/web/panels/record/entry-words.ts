import type { Entry } from '../../../making/record/entry.ts';
import { daysBetween, hoursBetween, wallClock } from '../../../making/record/instant.ts';
import { type KindName, kindOf } from '../../../making/record/kinds.ts';
import type { PieceState } from '../../../making/record/piece-state.ts';
import { amountText, moneyText, type Units } from '../../state/record/amount.ts';

/** On a button that records it. */
export const KIND_TITLES: Readonly<Record<KindName, string>> = {
  begun: 'Begun',
  formed: 'Formed',
  weighed: 'Weighed',
  measured: 'Measured',
  carved: 'Carved',
  drying: 'Put to dry',
  dry: 'Bone dry',
  set: 'Set in the kiln',
  unset: 'Taken out before the fire',
  fired: 'Fired',
  unloaded: 'Out of the kiln',
  photographed: 'Photo',
  finished: 'Finished',
  priced: 'Priced',
  promised: 'Promised',
  packed: 'Packed',
  shown: 'Shown',
  consigned: 'On consignment',
  sold: 'Sold',
  returned: 'Came back',
  lost: 'Lost',
  moved: 'Moved',
  noted: 'A note',
  planned: 'Planned',
  lit: 'Kiln started',
  read: 'Thermometer read',
  off: 'Kiln off',
  opened: 'Kiln opened',
  'called off': 'Called off',
  undone: 'Taken back',
};

const dayText = (day: string, today: string): string => {
  const [date, now] = [new Date(`${day}T12:00:00Z`), today.slice(0, 4)];
  const year = day.slice(0, 4) === now ? {} : ({ year: 'numeric' } as const);
  return new Intl.DateTimeFormat('en-GB', {
    day: 'numeric',
    month: 'long',
    ...year,
    timeZone: 'UTC',
  }).format(date);
};

/** A calendar day as one says it: today, yesterday, Tuesday, 3 November. */
export const sayDay = (day: string, today: string): string => {
  const ago = daysBetween(day, today);
  if (ago === 0) return 'today';
  if (ago === 1) return 'yesterday';
  if (ago === -1) return 'tomorrow';
  if (ago > 1 && ago < 7)
    return new Intl.DateTimeFormat('en-GB', { weekday: 'long', timeZone: 'UTC' }).format(
      new Date(`${day}T12:00:00Z`),
    );
  return dayText(day, today);
};

/** When something was, in the studio's own zone. */
export const sayWhen = (at_utc: string, zone: string, now_utc: string): string =>
  sayDay(wallClock(at_utc, zone).day, wallClock(now_utc, zone).day);

/** A day where there is little room: `6 Oct`, with the year where it is another. */
export const shortDay = (at_utc: string, zone: string, now_utc: string): string => {
  const { day } = wallClock(at_utc, zone);
  const other = day.slice(0, 4) !== wallClock(now_utc, zone).day.slice(0, 4);
  const text = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', timeZone: 'UTC' });
  return `${text.format(new Date(`${day}T12:00:00Z`))}${other ? ` ${day.slice(0, 4)}` : ''}`;
};

/** The day and the time on the wall. */
export const sayMoment = (at_utc: string, zone: string): string => {
  const { day, time } = wallClock(at_utc, zone);
  return `${dayText(day, '')}, ${time.slice(0, 5)}`;
};

export interface Sayer {
  readonly units: Units;
  readonly firingName: (id: number | undefined) => string;
  readonly sheetName: (id: number) => string;
}

const valueText = (
  kind: KindName,
  field: string,
  value: string | number,
  { units, sheetName }: Sayer,
): string => {
  const of = kindOf(kind).fields[field];
  if (of?.type === 'sheet') return sheetName(Number(value));
  if (of?.type === 'photo') return '';
  if (typeof value !== 'number') return value;
  const amount = field.endsWith('_minor') ? value : amountText(field, value, units);
  return field === 'shelf' ? `shelf ${amount}` : String(amount);
};

/** What an entry says besides its kind: `thrown, 900 g`. */
export const entryDetail = (entry: Entry, sayer: Sayer): string => {
  const { kind, data, firing } = entry;
  const money = 'price_minor' in data ? [moneyText(Number(data.price_minor), String(data.currency))] : [];
  const rest = Object.entries(data)
    .filter(([field]) => field !== 'price_minor' && field !== 'currency')
    .map(([field, value]) => {
      const text = valueText(kind, field, value, sayer);
      if (kind === 'measured' && field !== 'clay') return `${field.replace(/_mm$/, '')} ${text}`;
      return field === 'until' || field === 'by' ? `${field} ${text}` : text;
    });
  const where = firing === undefined ? [] : [sayer.firingName(firing)];
  return [...money, ...rest, ...where].filter((text) => text !== '').join(', ');
};

const at = (place: string | undefined): string => (place === undefined ? '' : `, ${place}`);

const firstOf = (parts: readonly (string | undefined)[]): string =>
  parts.flatMap((part) => (part === undefined ? [] : [`, ${part}`])).join('');

/** What it is, and what else is known of that; when it came about stands between. */
const workText = (
  state: PieceState,
  firing: string,
  now_utc: string,
): readonly [what: string, rest: string] => {
  const { stage, cover, shelf, attitude, came, dryingSince_utc } = state;
  switch (stage) {
    case 'not begun':
    case 'begun':
      return ['Begun', ''];
    case 'formed':
      return ['Formed', ''];
    case 'drying': {
      const hours = dryingSince_utc === undefined ? 100 : hoursBetween(dryingSince_utc, now_utc);
      return ['Drying', firstOf([hours < 100 ? `${Math.round(hours)} h now` : undefined, cover])];
    }
    case 'bone dry':
      return ['Bone dry', ''];
    case 'set':
      return [`Set in ${firing}`, firstOf([shelf === undefined ? undefined : `shelf ${shelf}`, attitude])];
    case 'fired':
      return [`In ${firing}, fired`, ', still in the kiln'];
    case 'unloaded':
      return ['Out of the kiln', firstOf([came])];
    case 'finished':
      return ['Finished', ''];
  }
};

/** The state of a piece in one line: `Bone dry since Tuesday, shelf by the door`. */
export const stateLine = (state: PieceState, firing: string, zone: string, now_utc: string): string => {
  const { stands, place, until, sale, loss, since_utc, last_utc, promised } = state;
  const today = wallClock(now_utc, zone).day;
  const ends = until === undefined ? '' : ` until ${sayDay(until, today)}`;
  switch (stands) {
    case 'lost':
      return loss ? `Lost ${sayWhen(loss.at_utc, zone, now_utc)}: ${loss.cause} (it was ${loss.at})` : 'Lost';
    case 'sold':
      return sale
        ? `Sold ${sayWhen(sale.at_utc, zone, now_utc)} for ${moneyText(sale.minor, sale.currency)}${sale.to ? ` to ${sale.to}` : ''}${sale.through ? ` through ${sale.through}` : ''}`
        : 'Sold';
    case 'packed':
      return `Packed${at(place)}`;
    case 'shown':
      return `Shown${place === undefined ? '' : ` at ${place}`}${ends}`;
    case 'on consignment':
      return `On consignment${place === undefined ? '' : ` with ${place}`}${ends}`;
    case 'in the studio': {
      const when = since_utc ?? last_utc;
      const since = when === undefined ? '' : ` since ${sayWhen(when, zone, now_utc)}`;
      const due = promised ? `. Promised to ${promised.to} by ${sayDay(promised.by, today)}` : '';
      const [what, rest] = workText(state, firing, now_utc);
      return `${what}${since}${rest}${at(place)}${due}`;
    }
  }
};
