import { checked, isFaults } from './check.ts';
import type { Studio, Work } from './page.ts';

/** The last good work, kept by the browser between visits. A clay of the studio stays there: only its name is kept. */
interface Draft extends Omit<Work, 'clay'> {
  readonly clay: string;
  /** A clay the studio does not have, such as one just measured: gone if it were not kept whole. */
  readonly ownClay?: Work['clay'] | undefined;
  readonly opened?: string | undefined;
}

const KEY = 'afterfire/draft/1';

/** A browser that keeps nothing (private window, full, switched off) is no trouble: the page works on without. */
export const keepDraft = (work: Work, opened: string | undefined, studio: Studio): void => {
  const ownClay = Object.values(studio.clays).includes(work.clay) ? undefined : work.clay;
  const draft: Draft = { ...work, clay: work.clay.name, ownClay, opened };
  try {
    localStorage.setItem(KEY, JSON.stringify(draft));
  } catch {
    // Said nowhere: there is nothing a person could do about it, and the form can be saved as a file.
  }
};

/** What was kept, on the studio's own clay, if it still passes every check of today. */
export const keptDraft = (
  studio: Studio,
): { readonly work: Work; readonly opened: string | undefined } | undefined => {
  try {
    const draft = JSON.parse(localStorage.getItem(KEY) ?? 'null') as Draft | null;
    if (!draft) return undefined;
    const clay =
      draft.ownClay ??
      Object.values(studio.clays).find(({ name }) => name === draft.clay) ??
      studio.clays[studio.studio.clay]!;
    const { form, schedule, setting, opened } = draft;
    let work: Work = { form, clay, schedule, setting };
    for (const part of ['form', 'clay', 'schedule', 'setting'] as const) {
      const outcome = checked(work, part);
      if (isFaults(outcome)) return undefined;
      work = outcome;
    }
    return { work, opened };
  } catch {
    return undefined;
  }
};
