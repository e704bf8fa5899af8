import type { FiringInput } from '../making/firing/firing.ts';
import { fieldOf, type Path, withAt } from './state/at.ts';
import { checked, isFaults } from './state/check.ts';
import { keepDraft } from './state/draft.ts';
import { heard } from './state/heard.ts';
import { change, endGesture } from './state/history.ts';
import { ATTITUDES, type Page, sameWork, type Work, withAttitude, workOf } from './state/page.ts';
import { openLane } from './worker/lane.ts';

/** A live preview is cut this coarse. */
const QUICK_TRIANGLES = 800;
/** The other settings and the draft wait until the hand rests this long. */
const REST_ms = 350;

/** The page's one state, who may change it, and what follows from a change. */
export interface Session {
  readonly page: () => Page;
  readonly update: (next: (page: Page) => Page) => void;
  /** Changes one value of the work; says what is wrong beside its field, and then nothing else changes. */
  readonly edit: (path: Path, value: unknown, gesture?: string) => boolean;
  /** Replaces the work, e.g. by another form; it must be sound. */
  readonly replace: (work: Work, gesture?: string) => void;
  readonly release: () => void;
  readonly fireFully: () => void;
  readonly stop: () => void;
}

const inputOf = (work: Work, triangles: number, care: 'quick' | 'full'): FiringInput => ({
  ...work,
  triangles,
  care,
});

export const openSession = (start: Page, redraw: () => void): Session => {
  let page = start;
  let resting: ReturnType<typeof setTimeout> | undefined;

  const set = (next: Page): void => {
    page = next;
    redraw();
  };

  const quickLane = openLane('shown', (told, of) => set(heard(page, 'quick', told, of)));
  const fullLane = openLane('full', (told, of) => set(heard(page, 'full', told, of)));

  const askQuick = (slot: string, work: Work): void => {
    quickLane.ask(slot, inputOf(work, QUICK_TRIANGLES, 'quick'));
  };

  const rest = (): void => {
    const work = workOf(page);
    keepDraft(work, page.opened);
    for (const attitude of ATTITUDES) {
      const wanted = withAttitude(work, attitude);
      const have = page.quick[attitude];
      if (attitude !== work.setting.attitude && !(have && sameWork(have.of, wanted)))
        askQuick(attitude, wanted);
    }
  };

  /** The work changed: look again, and let what was fired from other work stop. */
  const follow = (): void => {
    askQuick('shown', workOf(page));
    if (page.running && !sameWork(page.running.of, workOf(page))) fullLane.stop();
    clearTimeout(resting);
    resting = setTimeout(rest, REST_ms);
  };

  const update = (next: (page: Page) => Page): void => {
    const before = workOf(page);
    set(next(page));
    if (workOf(page) !== before) follow();
  };

  const replace = (work: Work, gesture?: string): void =>
    update((p) => ({ ...p, history: change(p.history, work, gesture), faults: {}, trouble: undefined }));

  follow();
  return {
    page: () => page,
    update,
    replace,
    edit: (path, value, gesture) => {
      const field = fieldOf(path);
      const outcome = checked(withAt(workOf(page), path, value), path[0] as keyof Work);
      if (isFaults(outcome)) {
        const fault = outcome.find((f) => f.field === field) ?? outcome[0]!;
        set({ ...page, faults: { ...page.faults, [field]: fault } });
        return false;
      }
      replace(outcome, gesture);
      return true;
    },
    release: () => set({ ...page, history: endGesture(page.history) }),
    fireFully: () => {
      const of = workOf(page);
      set({ ...page, running: { of, fraction: 0, note: '' } });
      fullLane.ask('full', inputOf(of, page.triangles, 'full'));
    },
    stop: fullLane.stop,
  };
};
