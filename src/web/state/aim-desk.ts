import { useEffect, useState } from 'preact/hooks';
import type { Aim, AimInput } from '../../making/firing/aim/aim-contract.ts';
import type { WallFor } from '../../making/firing/makeable/makeable-contract.ts';
import type { Session } from '../session.ts';
import type { AimAnswers, AimAsk, Made, Ranked } from '../worker/aim-jobs.ts';
import { type Job, JobFault, startJob } from '../worker/job.ts';
import { type Work, workOf } from './page.ts';

export type AimKind = keyof AimAnswers;

/** What was found of the way back, each with the work it was asked for; and what runs. */
export interface AimState {
  readonly found?: { readonly of: Work; readonly aim: Aim; readonly triangles: number } | undefined;
  readonly made?: Made | undefined;
  readonly settings?: { readonly of: Work; readonly ranked: Ranked } | undefined;
  readonly wall?: { readonly of: Work; readonly told: WallFor } | undefined;
  readonly running?: { readonly kind: AimKind; readonly fraction: number; readonly note: string } | undefined;
  /** Why nothing came of a question, to stand where it was asked. */
  readonly trouble?: { readonly kind: AimKind; readonly lines: readonly string[] } | undefined;
}

export interface AimDesk {
  readonly now: () => AimState;
  readonly onChange: (hear: () => void) => () => void;
  readonly find: (triangles: number) => Promise<void>;
  readonly make: () => Promise<void>;
  readonly settings: () => Promise<void>;
  readonly wall: () => Promise<void>;
  readonly cancel: () => void;
}

/** A first look is cut this coarse. */
export const QUICK_TRIANGLES = 1200;

const inputOf = (work: Work, triangles: number): AimInput => ({
  ...work,
  triangles,
  care: triangles > QUICK_TRIANGLES ? 'full' : 'quick',
});

const linesOf = (error: unknown): readonly string[] =>
  error instanceof JobFault && error.faults.length > 0
    ? error.faults.map((f) => `${f.field}: ${f.value} will not do. Right would be: ${f.expected}.`)
    : [error instanceof Error ? error.message : String(error)];

const openDesk = (session: Session): AimDesk => {
  let state: AimState = {};
  let job: Job<unknown> | undefined;
  const hearers = new Set<() => void>();
  const set = (part: Partial<AimState>): void => {
    state = { ...state, ...part };
    for (const hear of hearers) hear();
  };

  const ask = async <K extends AimKind>(
    kind: K,
    question: AimAsk,
    take: (answer: AimAnswers[K]) => Partial<AimState>,
  ): Promise<void> => {
    if (state.running) return;
    set({ running: { kind, fraction: 0, note: '' }, trouble: undefined });
    const started = startJob<AimAnswers[K]>(
      new Worker(new URL('../worker/aim-worker.ts', import.meta.url), { type: 'module' }),
      question,
      (fraction, note) => set({ running: { kind, fraction, note } }),
    );
    job = started;
    try {
      const answer = await started.done;
      set({ running: undefined, ...(answer === undefined ? {} : take(answer)) });
    } catch (error) {
      set({ running: undefined, trouble: { kind, lines: linesOf(error) } });
    }
  };

  const now = (): AimState => state;
  const work = (): Work => workOf(session.page());
  return {
    now,
    onChange: (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    find: (triangles) => {
      const of = work();
      return ask('aim', { kind: 'aim', input: inputOf(of, triangles) }, (aim) => ({
        found: { of, aim, triangles },
        made: undefined,
      }));
    },
    make: async () => {
      const { found } = state;
      if (found) await ask('make', { kind: 'make', aim: found.aim }, (made) => ({ made }));
    },
    settings: () => {
      const of = work();
      return ask('settings', { kind: 'settings', input: inputOf(of, QUICK_TRIANGLES) }, (ranked) => ({
        settings: { of, ranked },
      }));
    },
    wall: () => {
      const of = work();
      return ask('wall', { kind: 'wall', input: inputOf(of, QUICK_TRIANGLES) }, (told) => ({
        wall: { of, told },
      }));
    },
    cancel: () => job?.cancel(),
  };
};

const desks = new WeakMap<Session, AimDesk>();

/** What was found outlives the room: another page may be looked at meanwhile. */
export const useAimDesk = (session: Session): AimDesk => {
  const desk = desks.get(session) ?? openDesk(session);
  desks.set(session, desk);
  const [, draw] = useState(0);
  useEffect(() => desk.onChange(() => draw((n) => n + 1)), [desk]);
  return desk;
};
