import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import type { Clay } from '../../clay/clay.ts';
import { aim } from '../aim/aim.ts';
import type { AimInput } from '../aim/aim-contract.ts';
import { compareFired } from './compare-fired.ts';
import { fireMade } from './made-fired.ts';
import { firedToThrown_mm, makeable } from './makeable.ts';
import type { Makeable, MakeableProgress } from './makeable-contract.ts';
import { thrownForm } from './thrown-form.ts';

/** Aim, made by hand, and fired in a clay as soft and as stiff as four cases in five allow. */
export interface Likely {
  readonly makeable: Makeable;
  /** Greatest differences, m; infinite where it does not come through. */
  readonly soft_m: number;
  readonly stiff_m: number;
  readonly likely_m: number;
}

const withViscosity = (clay: Clay, factor: number): Clay => ({
  ...clay,
  sagViscosity: { ...clay.sagViscosity, value_Pa_s: clay.sagViscosity.value_Pa_s * factor },
});

const orEndless = (x: number): number => (Number.isFinite(x) ? x : Number.POSITIVE_INFINITY);

function* inside<R>(
  run: Generator<{ readonly fraction: number; readonly note: string }, R, void>,
  from: number,
  to: number,
): Generator<MakeableProgress, R, void> {
  try {
    for (let r = run.next(); ; r = run.next()) {
      if (r.done) return r.value;
      yield { fraction: from + (to - from) * r.value.fraction, note: r.value.note };
    }
  } finally {
    run.return(undefined as never);
  }
}

/**
 * How near a piece made by hand is likely to come in one setting: the largest of three greatest differences, with the clay as
 * it is taken to be, softer and stiffer by its `factor80`. The kiln's own error is left out: it is the same for all settings.
 * @returns undefined where the aim finds no green piece, with the aim's own words
 */
export function* likely(
  input: AimInput,
  engine?: MakeEngine,
  limit_m?: number,
): Generator<MakeableProgress, Likely | { readonly gone: string }, void> {
  const found = yield* inside(aim(input, engine), 0, 0.4);
  if (found.verdict.kind === 'falls') return { gone: found.verdict.text };
  const made = yield* inside(
    makeable({ aim: found, corrections: 0, ...(limit_m === undefined ? {} : { limit_m }) }, engine),
    0.4,
    0.7,
  );
  const wanted = thrownForm(input.form, input.clay);
  const toThrown = firedToThrown_mm(found);
  const { factor80 } = input.clay.sagViscosity;
  const differences: number[] = [];
  for (const [k, factor] of [1 / factor80, factor80].entries()) {
    const clay = withViscosity(input.clay, factor);
    const plan = { aim: found, form: made.form, triangles: input.triangles, clay };
    const fired = yield* inside(fireMade(plan, engine), 0.7 + 0.15 * k, 0.85 + 0.15 * k);
    const off = compareFired(fired, made.form, wanted, toThrown, input.setting.attitude);
    differences.push(off ? off.fit.max_mm / toThrown : Number.POSITIVE_INFINITY);
  }
  const [soft_m, stiff_m] = differences;
  return { makeable: made, soft_m, stiff_m, likely_m: Math.max(orEndless(made.max_m), soft_m, stiff_m) };
}
