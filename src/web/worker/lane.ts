import type { FiringInput } from '../../making/firing/firing.ts';
import type { Ask, Told, What } from './protocol.ts';

/** One worker and its waiting room: one question at a time, and of each kind only the latest waits. */
export interface Lane {
  readonly ask: (slot: string, input: FiringInput, what?: What) => void;
  /** Stops what runs and forgets what waits. */
  readonly stop: () => void;
}

interface Running {
  readonly id: number;
  readonly input: FiringInput;
}

/** A step of a fine mesh can take seconds; a worker deep in one is let go and another begun when needed. */
const PATIENCE_ms = 250;

/**
 * @param first the slot that is served before all others, however late it came
 * @param hear is told everything, with the input it was asked with
 * @param patience_ms how long a stop may go unheard before the worker is let go; a new one starts cold
 */
export const openLane = (
  first: string,
  hear: (told: Told, input: FiringInput) => void,
  patience_ms = PATIENCE_ms,
): Lane => {
  let worker: Worker | undefined;
  let running: Running | undefined;
  let count = 0;
  const waiting = new Map<string, { readonly input: FiringInput; readonly what: What }>();

  const send = (ask: Ask): void => worker?.postMessage(ask);

  const next = (): void => {
    if (running || waiting.size === 0) return;
    const slot = waiting.has(first) ? first : [...waiting.keys()][0]!;
    const { input, what } = waiting.get(slot)!;
    waiting.delete(slot);
    running = { id: ++count, input };
    worker ??= begin();
    send({ kind: what, id: running.id, input });
  };

  const giveUp = (told: Told): void => {
    const { input } = running!;
    running = undefined;
    worker?.terminate();
    worker = undefined;
    hear(told, input);
    next();
  };

  const begin = (): Worker => {
    const made = new Worker(new URL('./fire-worker.ts', import.meta.url), { type: 'module' });
    made.addEventListener('message', ({ data }: MessageEvent<Told>) => {
      if (data.id !== running?.id) return;
      const { input } = running;
      if (data.kind !== 'progress') running = undefined;
      hear(data, input);
      next();
    });
    made.addEventListener('error', ({ message }) => {
      if (running) giveUp({ kind: 'failed', id: running.id, code: 'broken', message, faults: [] });
    });
    return made;
  };

  return {
    ask: (slot, input, what = 'fire') => {
      waiting.set(slot, { input, what });
      next();
    },
    stop: () => {
      waiting.clear();
      const asked = running;
      if (!asked) return;
      send({ kind: 'stop', id: asked.id });
      setTimeout(() => {
        if (running === asked) giveUp({ kind: 'stopped', id: asked.id });
      }, patience_ms);
    },
  };
};
