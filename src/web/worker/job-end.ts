import { AfterfireError } from '../../error.ts';
import { breath } from './breath.ts';
import type { JobSays } from './learning-jobs.ts';

/** Helpers of the compiled kernels join between steps, and nobody reads progress more often. */
const BETWEEN_BREATHS_ms = 60;

/** Drives a run to its end and says how far it is; a job is not stopped but its worker ended. */
export const drive = async <T>(
  run: Generator<{ readonly fraction: number; readonly note: string }, T, void>,
  say: (fraction: number, note: string) => void,
): Promise<T> => {
  let breathed = performance.now();
  for (;;) {
    const step = run.next();
    if (step.done) return step.value;
    if (performance.now() - breathed < BETWEEN_BREATHS_ms) continue;
    say(step.value.fraction, step.value.note);
    await breath();
    breathed = performance.now();
  }
};

const post = (said: JobSays<unknown>): void => postMessage(said);

/** Makes this worker answer one question by `work`. */
export const answerWith = <Ask>(
  work: (ask: Ask, say: (fraction: number, note: string) => void) => unknown,
): void => {
  const say = (fraction: number, note: string): void => post({ kind: 'progress', fraction, note });
  addEventListener('message', async ({ data }: MessageEvent<Ask>) => {
    try {
      post({ kind: 'done', value: await work(data, say) });
    } catch (error) {
      post({
        kind: 'failed',
        message: error instanceof Error ? error.message : String(error),
        faults: error instanceof AfterfireError ? error.faults : [],
      });
    }
  });
};
