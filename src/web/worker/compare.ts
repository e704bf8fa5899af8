import type { MakeEngine } from '../../kernel/numerics/front-engine.ts';
import { compareTwins, type TwinComparison } from '../../making/firing/compare-twins.ts';
import { fire } from '../../making/firing/fire.ts';
import type { Firing, FiringInput, FiringProgress, FiringRun } from '../../making/firing/firing.ts';
import { plainTwin } from '../../making/firing/plain-twin.ts';
import { parseForm } from '../../making/form/form.ts';
import { handlingOfFiring } from '../../making/handling/handled-firing.ts';
import {
  compareHandling,
  type HandlingCompared,
  type HandlingTold,
  tellHandling,
} from '../../making/handling/tell-handling.ts';
import { buffersOf, type Film, filmOf } from './film.ts';

export interface InHand {
  readonly dry: HandlingTold;
  readonly fired: HandlingTold;
}

/** A piece in the hand, and beside the same piece without its flutes where it has any. */
export interface Compared {
  readonly hand: InHand;
  readonly twin?: {
    readonly without: string;
    readonly film: Film;
    readonly comparison: TwinComparison;
    readonly hand: InHand;
    readonly handling: { readonly dry: HandlingCompared; readonly fired: HandlingCompared };
  };
}

type Handled = ReturnType<typeof handlingOfFiring>;
const told = ({ dry, fired }: Handled): InHand => ({ dry: tellHandling(dry), fired: tellHandling(fired) });

function* part(
  run: FiringRun,
  from: number,
  to: number,
  lead: string,
): Generator<FiringProgress, Firing, void> {
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) return r.value;
    const { fraction, note } = r.value;
    yield { fraction: from + (to - from) * fraction, note: lead + note };
  }
}

/**
 * What corrugation does to a piece: in the fire, and in the hand before and after it.
 * @param known the piece's own firing, where it is at hand
 * @throws AfterfireError `bad-input` where its carving does not fit the plain wall, or as `fire` does
 */
export function* compare(
  input: FiringInput,
  engine?: MakeEngine,
  known?: Firing,
): Generator<FiringProgress, Compared, void> {
  const twin = plainTwin(input.form);
  // On a wall without its ridges there is less room: openings that were apart may meet.
  if (twin) parseForm(twin.form);
  const share = twin ? 0.4 : 0.8;
  const piece = known ?? (yield* part(fire(input, engine), 0, share, ''));
  const plain =
    twin &&
    (yield* part(fire({ ...input, form: twin.form }, engine), known ? 0 : share, 0.8, 'plain twin: '));
  yield { fraction: 0.8, note: 'in the hand' };
  const own = handlingOfFiring(piece);
  if (!twin || !plain) return { hand: told(own) };
  yield { fraction: 0.9, note: 'plain twin in the hand' };
  const other = handlingOfFiring(plain);
  return {
    hand: told(own),
    twin: {
      without: twin.without,
      film: filmOf(plain),
      comparison: compareTwins(piece, plain, twin.without),
      hand: told(other),
      handling: {
        dry: compareHandling(own.dry, other.dry, twin.without),
        fired: compareHandling(own.fired, other.fired, twin.without),
      },
    },
  };
}

export const buffersOfCompared = ({ twin }: Compared): ArrayBuffer[] => (twin ? buffersOf(twin.film) : []);
