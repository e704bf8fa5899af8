import { useEffect, useState } from 'preact/hooks';
import type { Fault } from '../../error.ts';
import { type Job, JobFault, startJob } from '../worker/job.ts';
import type { TestPiecesTold } from '../worker/test-pieces-jobs.ts';
import type { Studio } from './page.ts';
import {
  anyMeasured,
  type DraftTests,
  keepTests,
  keptTests,
  newTests,
  placeIn,
  sentOf,
} from './test-pieces-draft.ts';

export interface TestsState {
  readonly draft: DraftTests;
  readonly told?: TestPiecesTold | undefined;
  readonly reading: boolean;
  /** By the place in the draft. */
  readonly faults: Readonly<Record<string, Fault>>;
  readonly trouble?: string | undefined;
  /** What was entered before another was opened: one may go back to it. */
  readonly aside?: DraftTests | undefined;
}

export interface TestsDesk {
  readonly now: () => TestsState;
  readonly onChange: (hear: () => void) => () => void;
  readonly change: (part: Partial<DraftTests>) => void;
  readonly open: (draft: DraftTests) => void;
}

/** Reading begins when the hand has rested this long. */
const REST_ms = 350;

const openDesk = (studio: Studio): TestsDesk => {
  let state: TestsState = { draft: keptTests(studio) ?? newTests(studio), reading: false, faults: {} };
  let job: Job<TestPiecesTold> | undefined;
  let resting: ReturnType<typeof setTimeout> | undefined;
  const hearers = new Set<() => void>();
  const set = (part: Partial<TestsState>): void => {
    state = { ...state, ...part };
    for (const hear of hearers) hear();
  };

  const read = async (): Promise<void> => {
    const { draft } = state;
    const sent = sentOf(draft);
    job?.cancel();
    job = undefined;
    if (!anyMeasured(sent, draft)) {
      set({ told: undefined, reading: false, faults: {}, trouble: undefined });
      return;
    }
    const waits = draft.firings.find((f) => f.schedule === undefined && (f.log?.length ?? 0) < 2);
    if (waits) {
      const trouble = `${waits.name} still waits for its log.`;
      set({ told: undefined, reading: false, faults: {}, trouble });
      return;
    }
    set({ reading: true });
    const mine = startJob<TestPiecesTold>(
      new Worker(new URL('../worker/test-pieces-worker.ts', import.meta.url), { type: 'module' }),
      {
        json: sent.json,
        clay: studio.clays[draft.clay],
        schedules: studio.schedules,
        leaveOut: draft.leaveOut,
      },
    );
    job = mine;
    try {
      const told = await mine.done;
      if (told && job === mine) set({ told, reading: false, faults: {}, trouble: undefined });
    } catch (error) {
      if (job !== mine) return;
      const given = error instanceof JobFault ? error.faults : [];
      const faults = given.map((f) => ({ ...f, field: placeIn(sent, f.field) }));
      set({
        reading: false,
        told: undefined,
        faults: Object.fromEntries([...faults].reverse().map((f) => [f.field, f])),
        trouble: given.length > 0 ? undefined : String((error as Error).message),
      });
    }
  };

  const begin = (): void => {
    keepTests(state.draft);
    clearTimeout(resting);
    resting = setTimeout(() => void read(), REST_ms);
  };

  begin();
  return {
    now: () => state,
    onChange: (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    change: (part) => {
      set({ draft: { ...state.draft, ...part } });
      begin();
    },
    open: (draft) => {
      set({ draft, aside: state.draft, told: undefined, faults: {}, trouble: undefined });
      begin();
    },
  };
};

const desks = new WeakMap<Studio, TestsDesk>();

export const useTestsDesk = (studio: Studio): TestsDesk => {
  const desk = desks.get(studio) ?? openDesk(studio);
  desks.set(studio, desk);
  const [, draw] = useState(0);
  useEffect(() => desk.onChange(() => draw((n) => n + 1)), [desk]);
  return desk;
};
