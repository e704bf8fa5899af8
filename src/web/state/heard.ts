import { faultText } from '../../error.ts';
import type { Told } from '../worker/protocol.ts';
import type { Attitude, Fired, Page, Work } from './page.ts';
import { sameWork, workOf } from './page.ts';

/** Full firings kept, so that settings can be compared. */
const FULL_KEPT = 4;

const without = <T>(record: Readonly<Partial<Record<Attitude, T>>>, attitude: Attitude) => {
  const { [attitude]: _, ...rest } = record;
  return rest as Partial<Record<Attitude, T>>;
};

const whyNot = (told: Extract<Told, { kind: 'failed' }>): string => {
  const fault = told.faults[0];
  if (fault) return `It cannot be fired so. ${faultText(fault, 'right would be')}.`;
  return told.code === 'broken' ? `Something in the program broke: ${told.message}` : told.message;
};

/** Looks at one work come from two workers and may overtake one another: the finer one stays. */
const finer = (have: Fired | undefined, fired: Fired): Fired =>
  have && sameWork(have.of, fired.of) && have.film.triangles.length > fired.film.triangles.length
    ? have
    : fired;

/** The page after a worker said something about the work it was given. */
export const heard = (page: Page, run: 'quick' | 'full', told: Told, of: Work): Page => {
  const { attitude } = of.setting;
  const isShown = attitude === workOf(page).setting.attitude;
  if (told.kind === 'progress') {
    if (run === 'quick' || !page.running) return page;
    return { ...page, running: { ...page.running, fraction: told.fraction, note: told.note } };
  }
  const running = run === 'full' ? undefined : page.running;
  if (told.kind === 'stopped') return { ...page, running };
  if (told.kind === 'failed') {
    const trouble = isShown ? whyNot(told) : page.trouble;
    if (run === 'full') return { ...page, running, trouble };
    const brief = told.faults[0]?.field === 'setting.attitude' ? 'falls over' : 'no answer';
    const refused = { ...page.refused, [attitude]: { brief, why: whyNot(told) } };
    return { ...page, running, trouble, refused, quick: without(page.quick, attitude) };
  }
  const fired = { of, film: told.film, took_ms: told.took_ms };
  const refused = without(page.refused, attitude);
  const trouble = isShown ? undefined : page.trouble;
  return run === 'full'
    ? { ...page, running, refused, trouble, full: [fired, ...page.full].slice(0, FULL_KEPT) }
    : {
        ...page,
        running,
        refused,
        trouble,
        quick: { ...page.quick, [attitude]: finer(page.quick[attitude], fired) },
      };
};
