import { AfterfireError } from '../../../error.ts';
import { type Form, parseForm } from '../../form/form.ts';
import { type Addition, additionsTo } from './additions.ts';
import { type Fit, fitForm } from './fit-form.ts';
import { type Hand, handsOf, onGrid, withHands } from './hands.ts';
import { morePoints, moreWall } from './more-points.ts';
import { roundOff } from './round-off.ts';
import type { Target } from './target.ts';
import { tenths } from './thrown-form.ts';

/** A number that would have to go beyond what can be done. */
export interface Limit {
  readonly field: string;
  readonly unit: Hand['unit'];
  /** The nearest that works. */
  readonly value: number;
  readonly side: 'least' | 'most';
}

/** A form hands can make, and how near it comes to the free shape. */
export interface Handmade {
  /** On the steps of the hands; can be read back as a form file. */
  readonly form: Form;
  /** Of the rounded form, against the target. */
  readonly fit: Fit;
  /** The same before rounding. */
  readonly free: Fit;
  readonly added: readonly Addition[];
  readonly pointsAdded: number;
  readonly limits: readonly Limit[];
  /** Faults of the form the numbers would give, where the nearest without fault was taken instead. */
  readonly heldBack: readonly string[];
}

/** Something more to do must take this part of what remains, and so much in mm, to be worth the hands' time. */
const WORTH_SHARE = 0.1;
const WORTH_mm = 0.08;
const MOST_ADDED = 3;

const worth = (now: Fit, before: Fit): boolean =>
  before.rms_mm - now.rms_mm > Math.max(WORTH_mm, WORTH_SHARE * before.rms_mm);

/** Nothing can be worth it where so little remains. */
const canBeWorth = (fit: Fit): boolean => fit.rms_mm > WORTH_mm;

/** A point more on the wall must bring it so much nearer, mm. */
const WALL_WORTH_mm = 0.05;

const wallRms = ({ wallOff_mm }: Fit): number =>
  Math.sqrt(wallOff_mm.reduce((s, w) => s + w * w, 0) / wallOff_mm.length);

/** So many rows of nodes must stand for each point of the line, or it moves unseen between them. */
const ROWS_A_POINT = 2;

const rowsOf = ({ along }: Target): number => new Set(Array.from(along, (a) => Math.round(500 * a))).size;

/** Adds points to line and wall where they let the form come clearly nearer. */
const finer = (first: Fit, target: Target): Fit => {
  let fit = first;
  const more = canBeWorth(fit) ? morePoints(fit.form) : undefined;
  const line = more && ROWS_A_POINT * more.line.length <= rowsOf(target) ? more : undefined;
  if (line) {
    const tried = fitForm(line, target, handsOf(line, target.tooFine), { ...fit, form: line });
    if (worth(tried, fit)) fit = tried;
  }
  const wall = wallRms(fit) > WALL_WORTH_mm ? moreWall(fit.form) : undefined;
  if (!wall) return fit;
  const tried = fitForm(wall, target, handsOf(wall, target.tooFine), { ...fit, form: wall });
  return wallRms(fit) - wallRms(tried) > WALL_WORTH_mm ? tried : fit;
};

const withAlterations = (form: Form, alterations: Form['alterations']): Form => ({ ...form, alterations });

/** The form with one thing more to do; a squeeze that goes by the height takes the place of an even one. */
const tryOne = (now: Fit, added: readonly Addition[], one: Addition, target: Target) => {
  const own = now.form.alterations.length - added.length;
  const stays = added.map((a) => !(one.kind === 'squeeze' && a.kind === 'oval'));
  const alterations = now.form.alterations.filter((_, i) => i < own || stays[i - own]);
  const form = withAlterations(now.form, [...alterations, one.alteration]);
  return {
    fit: fitForm(form, target, handsOf(form, target.tooFine), now),
    added: [...added.filter((_, i) => stays[i]), one],
  };
};

const withMore = (first: Fit, target: Target): { fit: Fit; added: readonly Addition[] } => {
  let now: { fit: Fit; added: readonly Addition[] } = { fit: first, added: [] };
  for (let k = 0; k < MOST_ADDED && canBeWorth(now.fit); k++) {
    const { fit, added } = now;
    const tried = additionsTo(fit, target).map((one) => tryOne(fit, added, one, target));
    // In the order of the least work: what comes later must be clearly better.
    const best = tried.reduce((a, b) => (worth(b.fit, a.fit) ? b : a), now);
    if (best === now) break;
    now = best;
  }
  return now;
};

/** At a bound and pulling outwards; what was only added may end at nothing. */
const limitsOf = (fit: Fit, own: number): Limit[] =>
  fit.hands.flatMap(({ field, unit, low, high }, j): Limit[] => {
    if (Number(/^alterations\[(\d+)\]/.exec(field)?.[1] ?? -1) >= own) return [];
    if (fit.x[j] <= low) return [{ field, unit, value: low, side: 'least' }];
    return fit.x[j] >= high ? [{ field, unit, value: high, side: 'most' }] : [];
  });

/** The form itself, or the nearest on the way back that can be read; where there is none, `safe` with nothing added. */
const readable = (
  form: Form,
  hands: readonly Hand[],
  x: Float64Array,
  safe: Form,
): { form: Form; faults: string[] } => {
  const faults: string[] = [];
  for (let share = 1; share > 0; share -= 0.25) {
    const some = hands.map((h, j) => onGrid(h.value + share * (x[j] - h.value), h));
    const tried = withHands(tenths(form), hands, some);
    try {
      return { form: parseForm(tried), faults };
    } catch (e) {
      if (!(e instanceof AfterfireError)) throw e;
      if (faults.length === 0) faults.push(e.message);
    }
  }
  return { form: parseForm(tenths(safe)), faults };
};

/**
 * Fits a form to a free shape with what hands can do, adding what is worth it.
 * @param start thrown sizes
 * @param again `fixed`: no more points and nothing more to do than `start` has; `begin`: a fit to a target near by
 */
export const toHands = (
  start: Form,
  target: Target,
  { fixed = false, begin }: { readonly fixed?: boolean; readonly begin?: Fit } = {},
): Handmade => {
  const first = fitForm(start, target, handsOf(start, target.tooFine), begin);
  const { fit, added } = fixed ? { fit: first, added: [] } : withMore(finer(first, target), target);
  const { hands } = fit;
  const each = Float64Array.from(hands, (h, j) => onGrid(fit.x[j], h));
  const [best] = [roundOff(fit), each]
    .map((x) => {
      const { form, faults } = readable(fit.form, hands, x, start);
      return { form, faults, fit: fitForm(form, target, [], fit) };
    })
    .sort((a, b) => a.faults.length - b.faults.length || a.fit.rms_mm - b.fit.rms_mm);
  return {
    form: best.form,
    fit: best.fit,
    free: fit,
    added,
    pointsAdded: fit.form.line.length - start.line.length,
    limits: limitsOf(fit, start.alterations.length),
    heldBack: best.faults,
  };
};
