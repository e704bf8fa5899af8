import type { FiringInput } from '../making/firing/firing.ts';
import { fieldOf, type Path, withAt } from './state/at.ts';
import { checked, isFaults } from './state/check.ts';
import { keepDraft } from './state/draft.ts';
import { heard } from './state/heard.ts';
import { change, endGesture } from './state/history.ts';
import { ATTITUDES, type Page, sameWork, type Work, withAttitude, workOf } from './state/page.ts';
import { openLane } from './worker/lane.ts';

/** A live preview under a moving hand is cut this coarse. */
const QUICK_TRIANGLES = 800;
/** Once the hand rests it is looked at again, this fine: twelve flutes then have some seven nodes each. */
const REST_TRIANGLES = 2400;
/** The finer look, the other settings and the draft wait until the hand rests this long. */
const REST_ms = 450;
/** A step of the finer look may run on this long: it has a worker of its own and keeps no hand waiting. */
const REST_PATIENCE_ms = 3000;

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
  // One that was on its way when the hand moved on is older than what the hand has been shown since.
  const restLane = openLane(
    'finer',
    (told, of) => {
      if (sameWork(of, withAttitude(workOf(page), of.setting.attitude))) set(heard(page, 'quick', told, of));
    },
    REST_PATIENCE_ms,
  );
  const fullLane = openLane('full', (told, of) => set(heard(page, 'full', told, of)));

  const rest = (): void => {
    const work = workOf(page);
    keepDraft(work, page.opened);
    if (!page.full.some(({ of }) => sameWork(of, work)))
      restLane.ask('finer', inputOf(work, REST_TRIANGLES, 'quick'));
    for (const attitude of ATTITUDES) {
      const wanted = withAttitude(work, attitude);
      const have = page.quick[attitude];
      if (attitude !== work.setting.attitude && !(have && sameWork(have.of, wanted)))
        restLane.ask(attitude, inputOf(wanted, REST_TRIANGLES, 'quick'));
    }
  };

  /** The work changed: look again, and let what was fired from other work stop. */
  const follow = (): void => {
    restLane.stop();
    quickLane.ask('shown', inputOf(workOf(page), QUICK_TRIANGLES, 'quick'));
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
