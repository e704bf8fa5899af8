import { checked, isFaults } from './check.ts';
import type { Work } from './page.ts';

/** The last good work, kept by the browser between visits. */
export interface Draft {
  readonly work: Work;
  readonly opened?: string | undefined;
}

const KEY = 'afterfire/draft/1';

/** False when the browser keeps nothing (private window, full, switched off); the page works on without. */
export const keepDraft = (draft: Draft): boolean => {
  try {
    localStorage.setItem(KEY, JSON.stringify(draft));
    return true;
  } catch {
    return false;
  }
};

/** What was kept, if it still passes every check of today. */
export const keptDraft = (): Draft | undefined => {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null') as Draft | null;
    if (!kept) return undefined;
    let work = kept.work;
    for (const part of ['form', 'clay', 'schedule', 'setting'] as const) {
      const outcome = checked(work, part);
      if (isFaults(outcome)) return undefined;
      work = outcome;
    }
    return { work, opened: kept.opened };
  } catch {
    return undefined;
  }
};
