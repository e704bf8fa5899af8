import type { Told } from '../worker/protocol.ts';
import type { Attitude, Fired, Page, Work } from './page.ts';
import { sameWork, workOf } from './page.ts';
import { faultSaid } from './spoken.ts';

/** Full firings kept, so that settings can be compared. */
const FULL_KEPT = 4;

const without = <T>(record: Readonly<Partial<Record<Attitude, T>>>, attitude: Attitude) => {
  const { [attitude]: _, ...rest } = record;
  return rest as Partial<Record<Attitude, T>>;
};

const whyNot = (told: Extract<Told, { kind: 'failed' }>, of: Work): string => {
  const fault = told.faults[0];
  if (fault) return `It cannot be fired so. ${faultSaid(fault, of)}.`;
  return told.code === 'broken' ? `Something in the program broke: ${told.message}` : told.message;
};

/** Why not, for a label under a small picture. */
const inTwoWords = (field: string | undefined): string => {
  if (field === undefined || !field.startsWith('setting.')) return 'no answer';
  if (/^setting\.props\[\d+\]/.test(field)) return 'a prop is in it';
  return field === 'setting.lean_deg' ? 'rights itself' : 'falls over';
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
  if (told.kind === 'compared') return { ...page, running, beside: { of, compared: told.compared } };
  if (told.kind === 'stopped') return { ...page, running };
  if (told.kind === 'failed' && run === 'full' && page.running?.what === 'compare') {
    const why = told.faults[0] ? `${faultSaid(told.faults[0], of)}.` : told.message;
    return { ...page, running, beside: { of, compared: `Its plain twin cannot be made. ${why}` } };
  }
  if (told.kind === 'failed') {
    const trouble = isShown ? whyNot(told, of) : page.trouble;
    if (run === 'full') return { ...page, running, trouble };
    const { faults, stood } = told;
    const brief = inTwoWords(faults[0]?.field);
    const refused = { ...page.refused, [attitude]: { brief, why: whyNot(told, of), faults, stood } };
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
