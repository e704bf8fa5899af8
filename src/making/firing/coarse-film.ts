import type { CreepStep } from '../../kernel/shell/creep.ts';
import type { FormMesh } from '../form/mesh-form.ts';
import type { FiringProgress } from './firing.ts';
import type { SetDown } from './set-down.ts';
import type { Softening } from './soften.ts';

/** One coarse run that goes on past the end of the firing; every trial and every further minute is a moment of it. */
export interface CoarseFilm {
  readonly mesh: FormMesh;
  readonly down: SetDown;
  readonly steps: readonly CreepStep[];
  /** Clock reading up to which it tells anything. */
  readonly reach: number;
  /** Why it tells no more: it was enough, the piece fell, or a wall met itself and was not followed further. */
  readonly end: 'enough' | 'fell' | 'met';
}

/** How far to run: to `most`, or from `least` on until it has moved enough. */
export interface Enough {
  readonly least: number;
  readonly most: number;
  readonly moved: (from: CreepStep, now: CreepStep) => boolean;
}

/** Follows a run as far as there is something to learn from it. */
export function* filmUntil(
  piece: { readonly mesh: FormMesh; readonly down: SetDown },
  run: Generator<CreepStep, Softening, void>,
  enough: Enough,
  progress: (share: number) => FiringProgress,
): Generator<FiringProgress, CoarseFilm, void> {
  const steps: CreepStep[] = [];
  let past: CreepStep | undefined;
  for (let r = run.next(); ; r = run.next()) {
    if (r.done) {
      const fell = r.value.end.kind !== 'time is up';
      const reach = steps.at(-1)?.time_s ?? 0;
      const cut = r.value.metAtClock !== undefined && reach < enough.most * (1 - 1e-6);
      return { ...piece, steps, reach, end: fell ? 'fell' : cut ? 'met' : 'enough' };
    }
    const step = r.value;
    steps.push(step);
    if (past && enough.moved(past, step)) {
      run.return(undefined as never);
      return { ...piece, steps, reach: step.time_s, end: 'enough' };
    }
    if (!past && step.time_s >= enough.least) past = step;
    yield progress(Math.min(1, step.time_s / enough.most));
  }
}

/** Clock reading at which one part of the wall met another, if it did. */
export const meetsAt = (film: CoarseFilm): number | undefined =>
  film.steps.at(-1)?.met_s ?? (film.end === 'met' ? film.reach : undefined);

/** Clock reading of the first step at which one of these nodes, clear of the shelf at the start, lies on it. */
export const touchesAt = (film: CoarseFilm, nodes: ArrayLike<number>): number | undefined => {
  const began = film.steps[0].resting;
  return film.steps.find((s) => Array.from(nodes).some((n) => s.resting[n] && !began[n]))?.time_s;
};

/** A clock reading within the film, and whether it was. */
export const within = (film: CoarseFilm, clock: number): boolean =>
  film.end === 'enough' || clock <= film.reach * (1 + 1e-9);
