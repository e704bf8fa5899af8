import { AfterfireError } from '../../../error.ts';
import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import { type Form, parseForm } from '../../form/form.ts';
import { measure } from '../../form/measure.ts';
import { softDensity } from '../soften.ts';
import { THINNEST_THROWN_mm } from './hands.ts';
import { likely } from './likely.ts';
import { limitOfSize } from './makeable.ts';
import type { MakeableProgress, WallForInput, WallForRun, WallTried } from './makeable-contract.ts';
import { mm } from './told.ts';

/** Coarse, as for the settings. */
const MOST_TRIANGLES = 1000;
/** How much thinner or thicker a wall is worth trying, and how finely the least change is told. */
const FACTORS = [1.2, 0.85, 1.45, 0.7, 1.75, 2.1] as const;
const FINE = 0.05;

const scaledWall = (form: Form, factor: number): Form => {
  const by = (t: number): number => Math.round(10 * t * factor) / 10;
  return {
    ...form,
    wall: form.wall.map((w) => ({ ...w, thickness_mm: by(w.thickness_mm) })),
    foot: form.foot.kind === 'none' ? form.foot : { ...form.foot, thickness_mm: by(form.foot.thickness_mm) },
  };
};

const thinnestOf = (form: Form): number => Math.min(...form.wall.map((w) => w.thickness_mm));

function* tryWall(
  input: WallForInput,
  factor: number,
  engine: MakeEngine | undefined,
): Generator<MakeableProgress, WallTried, void> {
  const form = scaledWall(input.form, factor);
  const none = { factor, thinnest_mm: thinnestOf(form), max_m: Number.NaN, weight_kg: Number.NaN };
  const lost: WallTried = { ...none, likely_m: Number.POSITIVE_INFINITY };
  try {
    const found = yield* likely({ ...input, form: parseForm(form) }, engine, input.limit_m);
    if ('gone' in found) return { ...lost, text: found.gone };
    const { makeable, likely_m } = found;
    const weight_kg = measure(makeable.mesh, softDensity(input.clay)).weight_kg;
    return { ...none, max_m: makeable.max_m, likely_m, weight_kg };
  } catch (e) {
    if (!(e instanceof AfterfireError) || e.code !== 'bad-input' || factor === 1) throw e;
    return { ...lost, text: e.message };
  }
}

const percent = (share: number): string => `${Math.abs(Math.round(100 * share))} %`;

const tell = (limit_m: number, asWanted: WallTried, found?: WallTried): string => {
  const limit = mm(1000 * limit_m);
  const off = Number.isFinite(asWanted.likely_m)
    ? `is within ${mm(1000 * asWanted.likely_m)}`
    : 'does not come through in every clay this one may be';
  if (found === asWanted)
    return `With its wall as wanted it ${off} for four clays in five; ${limit} was asked.`;
  if (!found)
    return `With its wall as wanted it ${off}; no wall from ${FACTORS[3]} to ${FACTORS[5]} times as thick brings it within ${limit}. Another setting or a stiffer line is needed.`;
  const more = found.weight_kg / asWanted.weight_kg - 1;
  const cost = Number.isFinite(more)
    ? `, ${Math.abs(Math.round(1000 * (found.weight_kg - asWanted.weight_kg)))} g ${more > 0 ? 'more' : 'less'} when fired (${percent(more)})`
    : '';
  const which = found.factor > 1 ? 'thicker' : 'thinner';
  return `With its wall as wanted it ${off}. A wall ${percent(found.factor - 1)} ${which} (${mm(found.thinnest_mm)} at the thinnest) is within ${mm(1000 * found.likely_m)}${cost}.`;
};

type Trying = Generator<MakeableProgress, WallTried, void>;

/** The first factor that is enough, by growing change. */
function* firstEnough(
  form: Form,
  go: (factor: number) => Trying,
  within: (t: WallTried) => boolean,
): Generator<MakeableProgress, WallTried | undefined, void> {
  const least = thinnestOf(form);
  for (const factor of FACTORS) {
    if (factor < 1 && factor * least < Math.min(least, THINNEST_THROWN_mm)) continue;
    const one: WallTried = yield* go(factor);
    if (within(one)) return one;
  }
  return undefined;
}

/** Between a wall that is enough and the next one nearer to the wanted that is not, halved until it is told finely enough. */
function* leastEnough(
  enough: WallTried,
  tried: readonly WallTried[],
  go: (factor: number) => Trying,
  within: (t: WallTried) => boolean,
): Trying {
  const thicker = enough.factor > 1;
  const nearer = tried.map((t) => t.factor).filter((f) => (thicker ? f < enough.factor : f > enough.factor));
  let not = thicker
    ? Math.max(1, ...nearer.filter((f) => f >= 1))
    : Math.min(1, ...nearer.filter((f) => f <= 1));
  let found = enough;
  while (Math.abs(found.factor - not) > FINE + 1e-9) {
    const middle: number = Math.round(50 * (found.factor + not)) / 100;
    if (middle === found.factor || middle === not) break;
    const one: WallTried = yield* go(middle);
    if (within(one)) found = one;
    else not = middle;
  }
  return found;
}

const defaultLimit = (form: Form): number => {
  const size = Math.max(...form.line.map((p) => Math.max(2 * p.radius_mm, p.height_mm)));
  return limitOfSize(size / 1000);
};

/** A guess at how many walls will be tried, for the bar. */
const USUAL_TRIES = 7;

/**
 * Seeks the least change of the wall, thicker or thinner, that brings the piece made by hand within a limit for four clays in
 * five, and what it costs. Bending falls with the square of a wall, stretching not at all: sometimes no wall helps.
 * @throws AfterfireError `bad-input` where the wanted form itself cannot be fired as set
 */
export function* wallFor(input: WallForInput, engine?: MakeEngine): WallForRun {
  const limit_m = input.limit_m ?? defaultLimit(input.form);
  const coarse: WallForInput = {
    ...input,
    limit_m,
    triangles: Math.min(MOST_TRIANGLES, input.triangles),
    care: 'quick',
  };
  const tried: WallTried[] = [];
  function* go(factor: number): Trying {
    const run = tryWall(coarse, factor, engine);
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) {
        tried.push(r.value);
        return r.value;
      }
      const fraction = Math.min(0.99, (tried.length + r.value.fraction) / USUAL_TRIES);
      yield { fraction, note: `wall × ${factor}: ${r.value.note}` };
    }
  }
  const within = (t: WallTried): boolean => t.likely_m <= limit_m;
  const asWanted: WallTried = yield* go(1);
  const enough = within(asWanted) ? asWanted : yield* firstEnough(input.form, go, within);
  const found = enough && enough !== asWanted ? yield* leastEnough(enough, tried, go, within) : enough;
  return {
    limit_m,
    asWanted,
    tried: tried.sort((a, b) => a.factor - b.factor),
    ...(found ? { found, form: scaledWall(input.form, found.factor) } : {}),
    text: tell(limit_m, asWanted, found),
  };
}
