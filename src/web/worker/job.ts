import type { Fault } from '../../error.ts';
import type { JobSays } from './learning-jobs.ts';

/** Why a job came to nothing, in words to show. */
export class JobFault extends Error {
  readonly faults: readonly Fault[];
  constructor(message: string, faults: readonly Fault[]) {
    super(message);
    this.faults = faults;
  }
}

export interface Job<T> {
  /** Its answer; nothing where it was cancelled. Rejects with a JobFault. */
  readonly done: Promise<T | undefined>;
  readonly cancel: () => void;
}

/** One question to a worker of its own, which ends with the answer: a cancel is heard at once, however deep it works. */
export const startJob = <T>(
  worker: Worker,
  ask: unknown,
  hear: (fraction: number, note: string) => void = () => {},
): Job<T> => {
  let cancel = (): void => {};
  const done = new Promise<T | undefined>((resolve, reject) => {
    const end = (then: () => void): void => {
      worker.terminate();
      then();
    };
    cancel = () => end(() => resolve(undefined));
    worker.addEventListener('message', ({ data }: MessageEvent<JobSays<T>>) => {
      if (data.kind === 'progress') hear(data.fraction, data.note);
      else if (data.kind === 'done') end(() => resolve(data.value));
      else end(() => reject(new JobFault(data.message, data.faults)));
    });
    worker.addEventListener('error', ({ message }) => end(() => reject(new JobFault(message, []))));
    worker.postMessage(ask);
  });
  return { done, cancel };
};
