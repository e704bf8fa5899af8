import type { FiringInput } from '../making/firing/firing.ts';
import { type CarvingOutline, carvingOutlines } from '../making/form/carving/carving-outlines.ts';
import { fieldOf, type Path, withAt } from './state/at.ts';
import { checked, isFaults } from './state/check.ts';
import { keepDraft } from './state/draft.ts';
import { heard } from './state/heard.ts';
import { change, endGesture } from './state/history.ts';
import {
  ATTITUDES,
  inAttitude,
  type Outlines,
  onBench,
  type Page,
  sameWork,
  type Work,
  workOf,
} from './state/page.ts';
import { readingOutlines } from './state/readings.ts';
import { byField, mayBeTried, tried } from './state/trial.ts';
import { keepUnits } from './state/units-kept.ts';
import { openLane } from './worker/lane.ts';
import type { Told } from './worker/protocol.ts';

/** A live preview under a moving hand is cut this coarse. */
const QUICK_TRIANGLES = 800;
/** Once the hand rests it is looked at again, this fine: twelve flutes then have some seven nodes each. */
const REST_TRIANGLES = 2400;
/** The finer look, the other settings and the draft wait until the hand rests this long. */
const REST_ms = 450;
/** Outlines follow the hand this late: laying all of them out takes longer than a frame. */
const OUTLINES_ms = 120;
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
  /** Fires the piece without its flutes too, and takes both in the hand. */
  readonly compare: () => void;
  /** Gives up what is tried and does not hold: the last sound form is back in the fields. */
  readonly dropTrial: () => void;
  readonly stop: () => void;
}

const inputOf = (work: Work, triangles: number, care: 'quick' | 'full'): FiringInput => ({
  ...work,
  triangles,
  care,
});

/** On so coarse a mesh a nudge tips what stands when looked at closer: the finer look has the word. */
const doubtful = (told: Told): boolean =>
  told.kind === 'failed' && told.faults.some(({ value }) => value.includes('a nudge tips it'));

const NONE: readonly CarvingOutline[] = [];

/** A form whose body does not hold either has no wall to draw them on. */
const outlinesOf = (form: Work['form'], faults: Page['faults']): Outlines => {
  const bad = (i: number): boolean =>
    Object.keys(faults).some((field) => field.startsWith(`form.uneven.callipers[${i}]`));
  // One empty list for all, so that a picture without outlines is not drawn again for each.
  const listed = (lines: readonly CarvingOutline[]) => (lines.length > 0 ? lines : NONE);
  try {
    return {
      of: form,
      lines: listed(carvingOutlines(form)),
      readings: listed(readingOutlines(form, bad)),
    };
  } catch {
    return { of: form, lines: NONE, readings: NONE };
  }
};

export const openSession = (start: Page, redraw: () => void): Session => {
  let page = start;
  let resting: ReturnType<typeof setTimeout> | undefined;
  let outlining: ReturnType<typeof setTimeout> | undefined;

  const set = (next: Page): void => {
    page = next;
    redraw();
  };

  const quickLane = openLane('shown', (told, of) => {
    if (!doubtful(told)) set(heard(page, 'quick', told, of));
  });
  // One that was on its way when the hand moved on is older than what the hand has been shown since.
  const restLane = openLane(
    'finer',
    (told, of) => {
      if (sameWork(of, inAttitude(page, of.setting.attitude))) set(heard(page, 'quick', told, of));
    },
    REST_PATIENCE_ms,
  );
  const fullLane = openLane('full', (told, of) => set(heard(page, 'full', told, of)));

  const rest = (): void => {
    const work = workOf(page);
    keepDraft(work, page.opened, page.studio);
    if (!page.full.some(({ of }) => sameWork(of, work)))
      restLane.ask('finer', inputOf(work, REST_TRIANGLES, 'quick'));
    for (const attitude of ATTITUDES) {
      const wanted = inAttitude(page, attitude);
      const have = page.quick[attitude];
      if (attitude !== work.setting.attitude && !(have && sameWork(have.of, wanted)))
        restLane.ask(attitude, inputOf(wanted, REST_TRIANGLES, 'quick'));
    }
  };

  const outline = (): void => {
    const { form } = onBench(page);
    if (page.outlines?.of === form) return;
    clearTimeout(outlining);
    outlining = setTimeout(() => set({ ...page, outlines: outlinesOf(form, page.faults) }), OUTLINES_ms);
  };

  /** The work changed: look again, and let what was fired from other work stop. */
  const follow = (): void => {
    const { attitude, props } = workOf(page).setting;
    page = { ...page, propsIn: { ...page.propsIn, [attitude]: props } };
    outline();
    restLane.stop();
    quickLane.ask('shown', inputOf(workOf(page), QUICK_TRIANGLES, 'quick'));
    if (page.running && !sameWork(page.running.of, workOf(page))) fullLane.stop();
    clearTimeout(resting);
    resting = setTimeout(rest, REST_ms);
  };

  const update = (next: (page: Page) => Page): void => {
    const [before, units] = [workOf(page), page];
    set(next(page));
    if (page.lengths !== units.lengths || page.degrees !== units.degrees) keepUnits(page);
    if (workOf(page) !== before) {
      // Undone, redone, another form: what was tried on the one before is gone.
      if (page.trial === units.trial) page = { ...page, trial: undefined };
      follow();
    }
  };

  const replace = (work: Work, gesture?: string): void =>
    update((p) => ({
      ...p,
      history: change(p.history, work, gesture),
      faults: {},
      trouble: undefined,
      trial: undefined,
    }));

  /** What is tried and does not hold follows a change elsewhere in the form. */
  const takeAlong = (trial: Work['form'], path: Path, value: unknown): void => {
    const outcome = checked({ ...workOf(page), form: withAt({ form: trial }, path, value).form }, 'form');
    if (!isFaults(outcome)) {
      replace(outcome);
      return;
    }
    const form = tried(withAt({ form: trial }, path, value).form, outcome);
    if (form) set({ ...page, trial: form, faults: byField(outcome) });
  };

  const edit = (path: Path, value: unknown, gesture?: string): boolean => {
    const field = fieldOf(path);
    const { trial } = page;
    const base = mayBeTried(path) ? onBench(page) : workOf(page);
    const wanted = withAt(base, path, value);
    const outcome = checked(wanted, path[0] as keyof Work);
    if (!isFaults(outcome)) {
      replace(outcome, gesture);
      if (trial && path[0] === 'form' && !mayBeTried(path)) takeAlong(trial, path, value);
      return true;
    }
    const form = mayBeTried(path) ? tried(wanted.form, outcome) : undefined;
    if (form) {
      set({ ...page, trial: form, faults: byField(outcome) });
      outline();
      return true;
    }
    const fault = outcome.find((f) => f.field === field) ?? outcome[0]!;
    set({ ...page, faults: { ...page.faults, [field]: fault } });
    return false;
  };

  follow();
  return {
    page: () => page,
    update,
    replace,
    edit,
    release: () => set({ ...page, history: endGesture(page.history) }),
    fireFully: () => {
      const of = workOf(page);
      set({ ...page, running: { of, what: 'fire', fraction: 0, note: '' } });
      fullLane.ask('full', inputOf(of, page.triangles, 'full'));
    },
    compare: () => {
      const of = workOf(page);
      set({ ...page, running: { of, what: 'compare', fraction: 0, note: '' } });
      fullLane.ask('full', inputOf(of, page.triangles, 'full'), 'compare');
    },
    dropTrial: () => {
      set({ ...page, trial: undefined, faults: {} });
      outline();
    },
    stop: fullLane.stop,
  };
};
