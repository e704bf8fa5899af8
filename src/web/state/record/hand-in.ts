import type { AfterfireError } from '../../../error.ts';
import type { Entry } from '../../../making/record/entry.ts';
import { instantOf } from '../../../making/record/instant.ts';
import { type KindName, kindOf } from '../../../making/record/kinds.ts';
import { keptAmount, type Units } from './amount.ts';
import { askRecord, newUid } from './ask.ts';
import type { EntryDraft } from './entry-draft.ts';
import { handInSmall } from './small-photo.ts';

/** From what was typed to an entry, and its way to the server. */

export type Faults = Readonly<Record<string, string>>;

export interface Read {
  readonly data: Readonly<Record<string, string | number>>;
  readonly faults: Faults;
}

/** Reads the fields of a draft; what is missing or will not do is named by its field. */
export const readDraft = ({ kind, values }: EntryDraft, units: Units): Read => {
  const data: Record<string, string | number> = {};
  const faults: Record<string, string> = {};
  for (const [name, field] of Object.entries(kindOf(kind).fields)) {
    const text = (values[name] ?? '').trim();
    if (name === 'currency') data[name] = units.currency;
    else if (text === '') {
      if (field.needed) faults[name] = 'Say this too; the rest is kept.';
    } else if (field.type === 'number') {
      const kept = keptAmount(kind, name, text, units);
      if (typeof kept === 'number') data[name] = kept;
      else faults[name] = `${text} will not do here: ${kept}`;
    } else data[name] = field.type === 'sheet' ? Number(text) : text;
  }
  const { oneOf } = kindOf(kind);
  if (oneOf && Object.keys(faults).length === 0 && Object.keys(data).every((name) => name === 'clay'))
    faults[''] = 'Nothing is measured yet: at least one number.';
  return { data, faults };
};

/** When it happened: what was typed on the studio's clock, else now. */
export const instantTyped = (when: string, zone: string): string | Error => {
  if (when === '') return new Date().toISOString();
  try {
    return instantOf(when, zone);
  } catch (error) {
    const [fault] = (error as AfterfireError).faults ?? [];
    return new Error(fault ? `${when} will not do: ${fault.expected}` : String(error));
  }
};

export interface ToHandIn {
  readonly piece: number;
  readonly kind: KindName;
  readonly data: Read['data'];
  readonly note: string;
  readonly at_utc: string;
  readonly zone: string;
  readonly uid: string;
  readonly firing?: number | undefined;
  readonly undoes?: number | undefined;
}

/** @throws Error in words to show */
export const handIn = async (entry: ToHandIn): Promise<Entry> =>
  (await askRecord<{ entries: Entry[] }>('/entries', 'POST', { entries: [entry] })).entries[0]!;

/** What makes a hand-in the same one as before: then it keeps its uid and its time. */
export const markOf = ({ kind, values, note, when, undoes }: EntryDraft): string =>
  JSON.stringify([kind, values, note, when, undoes ?? 0]);

/** Keeps a photo and writes that the piece was photographed. */
export const handInPhoto = async (
  piece: number,
  zone: string,
  file: Blob,
  shows?: string,
): Promise<Entry> => {
  const answer = await fetch('/api/record/photos', { method: 'PUT', body: file });
  const kept = (await answer.json().catch(() => ({}))) as { sha256?: string; error?: { message: string } };
  if (!kept.sha256) throw new Error(kept.error?.message ?? `the server answered ${answer.status}`);
  await handInSmall(kept.sha256, file);
  return handIn({
    piece,
    kind: 'photographed',
    data: { photo: kept.sha256, ...(shows ? { shows } : {}) },
    note: '',
    at_utc: new Date().toISOString(),
    zone,
    uid: newUid(),
  });
};
