import type { KindName } from '../../../making/record/kinds.ts';

/** What is typed of an entry and not yet recorded: kept by the browser until it is, or is given up. */
export interface EntryDraft {
  readonly piece: number;
  readonly kind: KindName;
  /** The entry it will stand in the place of. */
  readonly undoes?: number | undefined;
  readonly values: Readonly<Record<string, string>>;
  readonly note: string;
  /** Day and time on the studio's clock; empty: now. */
  readonly when: string;
  /** A hand-in that got no answer, and what it was made from: sent again as it was. */
  readonly sent?: { readonly from: string; readonly entry: SentEntry } | undefined;
}

export interface SentEntry {
  readonly uid: string;
  readonly at_utc: string;
}

const KEY = 'afterfire/entry/1';

export const keepEntryDraft = (draft: EntryDraft | undefined): void => {
  try {
    if (draft) localStorage.setItem(KEY, JSON.stringify(draft));
    else localStorage.removeItem(KEY);
  } catch {
    // A browser that keeps nothing: then it lives as long as the page does.
  }
};

export const keptEntryDraft = (piece: number): EntryDraft | undefined => {
  try {
    const draft = JSON.parse(localStorage.getItem(KEY) ?? 'null') as EntryDraft | null;
    return draft?.piece === piece ? draft : undefined;
  } catch {
    return undefined;
  }
};
