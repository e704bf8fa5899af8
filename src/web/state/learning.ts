import { useEffect, useState } from 'preact/hooks';
import type { Clay } from '../../making/clay/clay.ts';
import { temperatureHistory } from '../../making/kiln/schedule.ts';
import type { Learned } from '../../making/learning/learn.ts';
import { type LearnedEntry, type LearningLog, standingEntries } from '../../making/learning/learning-log.ts';
import { newLearningLog } from '../../making/learning/start.ts';
import type { Unloading } from '../../making/learning/unloading.ts';
import { type Job, startJob } from '../worker/job.ts';
import type { LearnAsk, TakeBackAsk } from '../worker/learning-jobs.ts';
import { keepLastEntry, keepUnloading } from './keep.ts';
import type { Studio } from './page.ts';

/** What both rooms of learning share: kept unloadings, what was learned of each clay, and the update that runs. */
export interface Learning {
  readonly unloadings: Readonly<Record<string, Unloading>>;
  /** By the key of a clay. */
  readonly logs: Readonly<Record<string, LearningLog>>;
  readonly running?: { readonly key: string; readonly fraction: number; readonly note: string } | undefined;
  /** What did not work, to show as it is. */
  readonly trouble?: string | undefined;
}

export interface Desk {
  readonly studio: Studio;
  readonly now: () => Learning;
  readonly onChange: (hear: () => void) => () => void;
  /** Keeps an unloading: the key it goes by, and whether the studio has it now or only this page. */
  readonly keep: (unloading: Unloading) => Promise<{ readonly key: string; readonly kept: boolean }>;
  /** Learns from kept unloadings, one after another. */
  readonly learn: (keys: readonly string[]) => Promise<void>;
  readonly cancel: () => void;
  readonly takeBack: (clay: string, entry: string) => Promise<void>;
}

const fileOf = (key: string): string => `${key}.unloading.json`;
export const keyOfFile = (file: string): string => file.replace(/\.unloading\.json$/, '');

export const today = (): string => {
  const now = new Date();
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
};

export const logOf = (desk: Pick<Desk, 'studio' | 'now'>, clay: string): LearningLog => {
  const { studio } = desk;
  const { clays, schedules } = studio;
  return (
    desk.now().logs[clay] ??
    newLearningLog(clays[clay] as Clay, temperatureHistory(schedules[studio.studio.schedule]))
  );
};

/** What was learned from an unloading, if that still counts. */
export const learnedFrom = (log: LearningLog, key: string): LearnedEntry | undefined =>
  standingEntries(log).find((entry) => entry.from === fileOf(key));

/** Kept unloadings of a clay that nothing was learned from, oldest first. */
export const waiting = ({ unloadings }: Learning, clay: string, log: LearningLog): string[] => {
  // One whose entry was taken back on purpose does not wait.
  const met = new Set(log.entries.flatMap((e) => (e.kind === 'taken back' ? [] : [e.from])));
  return Object.entries(unloadings)
    .filter(([key, u]) => u.clay === `${clay}.clay.json` && !met.has(fileOf(key)))
    .sort(([, a], [, b]) => (a.date < b.date ? -1 : 1))
    .map(([key]) => key);
};

const newId = (log: LearningLog, date: string): string => {
  const used = new Set(log.entries.map((e) => e.id));
  let n = log.entries.length + 1;
  while (used.has(`${date}-${n}`)) n++;
  return `${date}-${n}`;
};

const withEnding = <T>(things: Readonly<Record<string, T>>, ending: string): Record<string, T> =>
  Object.fromEntries(Object.entries(things).map(([key, thing]) => [`${key}${ending}`, thing]));

const said = (error: unknown): string => (error instanceof Error ? error.message : String(error));

const askOf = (studio: Studio, log: LearningLog, key: string, unloading: Unloading): LearnAsk => ({
  kind: 'learn',
  log,
  unloading,
  clay: studio.clays[unloading.clay.replace(/\.clay\.json$/, '')] as Clay,
  schedule: studio.schedules[unloading.schedule.replace(/\.schedule\.json$/, '')],
  forms: withEnding(studio.forms, '.form.json'),
  settings: {},
  stamp: { id: newId(log, today()), date: unloading.date, from: fileOf(key) },
});

/** Where an unloading goes if the server gives it no name. */
const ownKey = (unloading: Unloading, used: object): string => {
  const slug = unloading.kiln
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
  const base = `${unloading.date}-${slug || 'kiln'}`;
  for (let n = 1; ; n++) {
    const key = n === 1 ? base : `${base}-${n}`;
    if (!(key in used)) return key;
  }
};

/** By clay key, the logs that the server gave. */
const logsOf = ({ clays, learning }: Studio): Record<string, LearningLog> =>
  Object.fromEntries(
    Object.values(learning ?? {}).flatMap((log) => {
      const clay = Object.keys(clays).find((key) => clays[key].name === log.clay);
      return clay ? [[clay, log] as const] : [];
    }),
  );

const newWorker = (): Worker =>
  new Worker(new URL('../worker/learning-worker.ts', import.meta.url), { type: 'module' });

const openDesk = (studio: Studio): Desk => {
  let state: Learning = { unloadings: studio.unloadings ?? {}, logs: logsOf(studio) };
  let job: Job<unknown> | undefined;
  const hearers = new Set<() => void>();
  const set = (part: Partial<Learning>): void => {
    state = { ...state, ...part };
    for (const hear of hearers) hear();
  };
  const now = (): Learning => state;

  const keepLog = async (clay: string, log: LearningLog): Promise<void> => {
    set({ logs: { ...state.logs, [clay]: log } });
    try {
      await keepLastEntry(log);
    } catch (error) {
      set({
        trouble: `It counts on this page, and is gone when the page is closed; an unloading can be saved as a file. ${said(error)}`,
      });
    }
  };

  const keep: Desk['keep'] = async (unloading) => {
    let key = ownKey(unloading, state.unloadings);
    let kept = true;
    try {
      key = await keepUnloading(unloading);
    } catch {
      // What is learned from it will not be kept either, and says so.
      kept = false;
    }
    set({ unloadings: { ...state.unloadings, [key]: unloading } });
    return { key, kept };
  };

  const learnOne = async (key: string): Promise<boolean> => {
    const unloading = state.unloadings[key];
    const clay = unloading.clay.replace(/\.clay\.json$/, '');
    set({ running: { key, fraction: 0, note: '' } });
    const learning = startJob<Learned>(
      newWorker(),
      askOf(studio, logOf({ studio, now }, clay), key, unloading),
      (fraction, note) => set({ running: { key, fraction, note } }),
    );
    job = learning;
    try {
      const learned = await learning.done;
      if (learned) await keepLog(clay, learned.log);
      return learned !== undefined;
    } catch (error) {
      set({ trouble: `Nothing was learned from this: ${said(error)}` });
      return false;
    }
  };

  return {
    studio,
    now,
    onChange: (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    keep,
    learn: async (keys) => {
      if (state.running) return;
      set({ trouble: undefined });
      for (const key of keys) if (!(await learnOne(key))) break;
      set({ running: undefined });
    },
    cancel: () => job?.cancel(),
    takeBack: async (clay, entry) => {
      if (state.running) return;
      const log = logOf({ studio, now }, clay);
      set({ trouble: undefined, running: { key: entry, fraction: 0.5, note: 'counting anew' } });
      const date = today();
      const ask: TakeBackAsk = { kind: 'take back', log, entry, stamp: { id: newId(log, date), date } };
      try {
        const again = startJob<LearningLog>(newWorker(), ask);
        job = again;
        const longer = await again.done;
        if (longer) await keepLog(clay, longer);
      } catch (error) {
        set({ trouble: said(error) });
      }
      set({ running: undefined });
    },
  };
};

const desks = new WeakMap<Studio, Desk>();

/** The studio's desk: it outlives the rooms, so that an update runs on while another page is looked at. */
export const useDesk = (studio: Studio): Desk => {
  const desk = desks.get(studio) ?? openDesk(studio);
  desks.set(studio, desk);
  const [, draw] = useState(0);
  useEffect(() => desk.onChange(() => draw((n) => n + 1)), [desk]);
  return desk;
};
