import { useEffect, useState } from 'preact/hooks';
import { type Job, JobFault, startJob } from '../worker/job.ts';
import type { ForeseeAsk, Foreseen } from '../worker/learning-jobs.ts';
import { type Desk, logOf } from './learning.ts';
import type { DraftPiece, DraftUnloading } from './unloading-draft.ts';

/** What the solver foresees of a piece: on its way, there, or why not. */
export type Foresight =
  | { readonly kind: 'running'; readonly fraction: number }
  | { readonly kind: 'there'; readonly foreseen: Foreseen }
  | { readonly kind: 'refused'; readonly why: string };

/** Those looked at lately: going to and fro between pieces of one form costs nothing. */
const MOST_KEPT = 24;
const kept = new Map<string, Foreseen>();
/** A hand that chooses among tiles is let choose. */
const REST_ms = 200;

const wordsOf = (error: unknown): string => {
  const [fault] = error instanceof JobFault ? error.faults : [];
  return fault ? `${fault.value}; ${fault.expected}` : error instanceof Error ? error.message : String(error);
};

/** Foresees a piece in a worker; anew where form, setting, schedule or kiln change, or more was learned. */
export const useForesight = (
  desk: Desk,
  draft: DraftUnloading,
  piece: DraftPiece | undefined,
): Foresight | undefined => {
  const { studio } = desk;
  const form = piece && studio.forms[piece.form];
  const log = studio.clays[draft.clay] && logOf(desk, draft.clay);
  const key = JSON.stringify([
    piece?.form,
    piece?.setting,
    draft.clay,
    draft.schedule,
    draft.kiln,
    log?.entries.length,
  ]);
  const [seen, setSeen] = useState<{ readonly key: string; readonly foresight: Foresight }>();
  const cached = kept.get(key);
  useEffect(() => {
    if (!form || !log || kept.has(key)) return undefined;
    const ask: ForeseeAsk = {
      kind: 'foresee',
      form,
      setting: piece.setting,
      clay: studio.clays[draft.clay],
      schedule: studio.schedules[draft.schedule],
      log,
      kiln: draft.kiln,
    };
    let job: Job<Foreseen> | undefined;
    const begin = (): void => {
      const worker = new Worker(new URL('../worker/learning-worker.ts', import.meta.url), { type: 'module' });
      job = startJob<Foreseen>(worker, ask, (fraction) =>
        setSeen({ key, foresight: { kind: 'running', fraction } }),
      );
      job.done.then(
        (foreseen) => {
          if (!foreseen) return;
          kept.set(key, foreseen);
          if (kept.size > MOST_KEPT) kept.delete(kept.keys().next().value as string);
          setSeen({ key, foresight: { kind: 'there', foreseen } });
        },
        (error: unknown) => setSeen({ key, foresight: { kind: 'refused', why: wordsOf(error) } }),
      );
    };
    const resting = setTimeout(begin, REST_ms);
    return () => {
      clearTimeout(resting);
      job?.cancel();
    };
  }, [key]);
  if (!form || !log) return undefined;
  if (cached) return { kind: 'there', foreseen: cached };
  return seen?.key === key ? seen.foresight : { kind: 'running', fraction: 0 };
};
