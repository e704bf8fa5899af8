import { z } from 'zod';
import { badInputs, type Fault } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import { isInstant, isZone } from './instant.ts';
import { type Field, KIND_NAMES, KINDS, type KindName, kindOf } from './kinds.ts';

/** One line of the journal. Nothing in it is ever changed; a later one may take it back or stand in its place. */
export interface Entry {
  readonly id: number;
  /** When it happened. */
  readonly at_utc: string;
  readonly zone: string;
  readonly piece?: number;
  readonly firing?: number;
  readonly kind: KindName;
  readonly data: Readonly<Record<string, string | number>>;
  readonly note: string;
  /** The entry this one takes back; of another kind than `undone` it stands in that one's place. */
  readonly undoes?: number;
  /** Entries written in one go share the id of the first: they are undone in one go. */
  readonly batch: number;
}

/** An entry as it is handed in. */
export interface NewEntry extends Omit<Entry, 'id' | 'batch' | 'note' | 'data'> {
  readonly data?: Entry['data'];
  readonly note?: string;
  /** Made up by who hands it in, so that the same entry sent twice is written once. */
  readonly uid?: string;
}

export const MOST_NOTE = 20_000;

/** The database would end a text at such a letter. */
const text = (most: number) =>
  z
    .string()
    .max(most)
    .refine((t) => !t.includes('\u0000'), 'text without the control character NUL')
    .refine((t) => !/\p{Surrogate}/u.test(t), 'text in well-formed Unicode');

const shapeOf = (field: Field): z.ZodType => {
  switch (field.type) {
    case 'number': {
      const number = z.number().min(field.least).max(field.most);
      return field.whole ? number.int() : number;
    }
    case 'text':
      return text(field.most).min(1);
    case 'choice':
      return z.enum(field.of as [string, ...string[]]);
    case 'day':
      return z.iso.date();
    case 'sheet':
      return z.int().positive();
    case 'photo':
      return z.string().regex(/^[0-9a-f]{64}$/, 'a SHA-256 in hexadecimal');
  }
};

/** The check of what one kind of entry may say. */
export const dataShape = (name: KindName): z.ZodObject =>
  z.strictObject(
    Object.fromEntries(
      Object.entries(kindOf(name).fields).map(([key, field]) => {
        const shape = shapeOf(field).describe(field.says);
        return [key, field.needed ? shape : shape.optional()];
      }),
    ),
  );

const DATA = Object.fromEntries(KIND_NAMES.map((name) => [name, dataShape(name)])) as unknown as Record<
  KindName,
  z.ZodObject
>;

const id = z.int().positive();

const Frame = z.strictObject({
  at_utc: z.string().refine(isInstant, 'an instant in UTC, YYYY-MM-DDTHH:MM:SS.mmmZ'),
  zone: z.string().refine(isZone, 'a zone of the IANA database, like Europe/Berlin'),
  piece: id.optional(),
  firing: id.optional(),
  kind: z.enum(KIND_NAMES),
  data: z.record(z.string(), z.unknown()).default({}),
  note: text(MOST_NOTE).default(''),
  undoes: id.optional(),
  uid: z
    .string()
    .regex(/^[\w-]{8,64}$/, '8 to 64 letters, figures, - or _')
    .optional(),
});

const fault = (field: string, value: string, expected: string): Fault => ({ field, value, expected });

const frameFaults = (entry: z.output<typeof Frame>, at: string): Fault[] => {
  const kind: (typeof KINDS)[KindName] & { inFiring?: true; noteNeeded?: true; oneOf?: true } =
    KINDS[entry.kind];
  const faults: Fault[] = [];
  const { piece, firing } = entry;
  if (kind.of === 'piece' && piece === undefined)
    faults.push(fault(`${at}.piece`, 'nothing', 'the piece it happened to'));
  if (kind.of === 'firing' && piece !== undefined)
    faults.push(fault(`${at}.piece`, String(piece), `none: "${entry.kind}" is said of a firing`));
  if ((kind.of === 'firing' || kind.inFiring) && firing === undefined)
    faults.push(fault(`${at}.firing`, 'nothing', 'the firing it happened in'));
  if (kind.of === 'either' && piece === undefined && firing === undefined)
    faults.push(fault(`${at}.piece`, 'nothing', 'the piece or the firing it is said of'));
  if (kind.noteNeeded && entry.note.trim() === '') faults.push(fault(`${at}.note`, 'nothing', 'a few words'));
  if (entry.kind === 'undone' && entry.undoes === undefined)
    faults.push(fault(`${at}.undoes`, 'nothing', 'the entry to take back'));
  if (kind.oneOf && !Object.keys(kind.fields).some((f) => f !== 'clay' && f in entry.data))
    faults.push(fault(`${at}.data`, 'nothing measured', 'at least one measure'));
  if ('currency' in entry.data && !/^[A-Z]{3}$/.test(String(entry.data.currency)))
    faults.push(fault(`${at}.data.currency`, String(entry.data.currency), 'three capital letters, like EUR'));
  return faults;
};

/**
 * Reads one entry from outside.
 * @param at what it is called in messages
 * @throws AfterfireError `bad-input`, one fault per bad field
 */
export const parseEntry = (json: unknown, at = 'entry'): NewEntry => {
  const frame = parseShape(Frame, json, at);
  const data = parseShape(DATA[frame.kind], frame.data, `${at}.data`) as Entry['data'];
  const faults = frameFaults(frame, at);
  if (faults.length > 0) throw badInputs(faults);
  return { ...frame, data };
};

/** What was handed in earlier and what is handed in now say the same. */
export const sameEntry = (a: NewEntry, b: NewEntry): boolean => {
  const plain = ({ at_utc, zone, piece, firing, kind, data, note, undoes }: NewEntry): string =>
    JSON.stringify([
      at_utc,
      zone,
      piece ?? 0,
      firing ?? 0,
      kind,
      Object.entries(data ?? {}).sort(([x], [y]) => (x < y ? -1 : 1)),
      note ?? '',
      undoes ?? 0,
    ]);
  return plain(a) === plain(b);
};
