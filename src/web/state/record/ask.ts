import { useEffect, useRef, useState } from 'preact/hooks';
import { askServer } from '../../share/ask.ts';
import type { Begun, FormsTold, FormTold } from './answers.ts';

/** What is asked of the record, and how long a page waits for it. */

export const askRecord = <T>(path: string, method = 'GET', body?: unknown): Promise<T> =>
  askServer<T>(`/api/record${path}`, method, body);

export const inWords = (error: unknown): string => {
  const said = error instanceof Error ? error.message : String(error);
  // A browser's own words for "nobody answered" differ and say little.
  return error instanceof TypeError ? 'the laptop does not answer; is Afterfire still running there?' : said;
};

export interface Asked<T> {
  readonly value?: T | undefined;
  readonly trouble?: string | undefined;
  readonly again: () => Promise<void>;
}

/** Asks when a page opens and whenever the path changes; the last answer stays until the next is there. */
export const useAsked = <T>(path: string | undefined): Asked<T> => {
  const [told, setTold] = useState<{
    readonly path?: string | undefined;
    readonly value?: T | undefined;
    readonly trouble?: string | undefined;
  }>({});
  const latest = useRef<string | undefined>(undefined);
  const again = async (): Promise<void> => {
    latest.current = path;
    if (path === undefined) return;
    try {
      const value = await askRecord<T>(path);
      if (latest.current === path) setTold({ path, value });
    } catch (error) {
      if (latest.current === path) setTold((before) => ({ ...before, path, trouble: inWords(error) }));
    }
  };
  useEffect(() => {
    void again();
  }, [path]);
  const mine = told.path === path;
  return { value: mine ? told.value : undefined, trouble: mine ? told.trouble : undefined, again };
};

/** The studio's record as every page of it needs it: settings, and forms by their id. */
export interface Studio extends Begun, FormsTold {
  readonly formOf: (id: number | undefined) => FormTold | undefined;
}

export const useStudio = (): Asked<Studio> => {
  const begun = useAsked<Begun>('');
  const forms = useAsked<FormsTold>('/forms');
  const byId = new Map(forms.value?.forms.map((form) => [form.form, form]));
  const formOf: Studio['formOf'] = (id) => (id === undefined ? undefined : byId.get(id));
  return {
    value: begun.value && forms.value && { ...begun.value, ...forms.value, formOf },
    trouble: begun.trouble ?? forms.trouble,
    again: async () => {
      await Promise.all([begun.again(), forms.again()]);
    },
  };
};

/** One hand-in: sent again after a lost answer it is the same one, and so is written once. */
export const newUid = (): string => crypto.randomUUID();

/** Parts of the address after the page's own: `#piece/R-104` → `R-104`. */
export const partsOfAddress = (): string[] => {
  const [, ...parts] = location.hash.slice(1).split('/');
  return parts.map((part) => {
    try {
      return decodeURIComponent(part);
    } catch {
      return part;
    }
  });
};

export const pieceLink = (number: string | undefined): string => `#piece/${encodeURIComponent(number ?? '')}`;
