import type { MakeEngine } from '../../../kernel/numerics/front-engine.ts';
import { GAS_CONSTANT_J_molK } from '../../../units.ts';
import type { AimInput, AimProgress } from './aim-contract.ts';
import { seek } from './passes.ts';
import { setWanted, soughtFor } from './wanted.ts';

/** For a piece no green leads to: with how much less of the firing one would. Looked for on a coarse mesh. */
export interface LessHeat {
  /** Part of this firing's heat-work (creep clock) with which a green piece leads there. */
  readonly share: number;
  /** So much cooler at the top comes to that, by the clay's own softening, K. */
  readonly cooler_K: number;
}

const COARSE = 700;
/** A fixed number of steps each way: what falls would otherwise be followed all the way down. */
const STEPS = 12;
const SHARES = [0.7, 0.5, 0.35, 0.25, 0.15, 0.1, 0.05] as const;

/** The greatest share tried with which the first pass is within tolerance already; undefined: none. */
export function* lessHeat(
  input: AimInput,
  engine?: MakeEngine,
): Generator<AimProgress, LessHeat | undefined, void> {
  const coarse: AimInput = { ...input, triangles: Math.min(COARSE, input.triangles), care: 'full' };
  const wanted = setWanted(coarse);
  const peak_K = wanted.history.temperature_K.reduce((a, b) => Math.max(a, b), 0);
  for (const share of SHARES) {
    yield { fraction: 0.96 + 0.03 * (1 - share), note: 'with less heat', passes: [] };
    const sought = soughtFor(wanted, coarse, engine, share);
    const way = { ...sought.way, options: { steps: STEPS } };
    const run = seek({ ...sought, way, most: 1 });
    let r = run.next();
    while (!r.done) r = run.next();
    const { best } = r.value;
    if (!best || best.max_m > sought.tolerance_m) continue;
    const Q = 1000 * input.clay.sagViscosity.activation_kJ_mol;
    // eta ~ exp(Q/RT): the clock runs slower by `share` at the temperature where 1/T is up by R ln(1/share)/Q.
    const cooler_K = peak_K - 1 / (1 / peak_K + (GAS_CONSTANT_J_molK * Math.log(1 / share)) / Q);
    return { share, cooler_K };
  }
  return undefined;
}
