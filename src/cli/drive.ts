import { setImmediate } from 'node:timers/promises';
import { SingleBar } from 'cli-progress';
import { AfterfireError } from '../error.ts';
import type { Io } from './io.ts';

interface Step {
  readonly fraction: number;
  readonly note: string;
}

interface Told {
  readonly tell: (step: Step) => void;
  readonly end: () => void;
}

/** A bar that moves, for somebody who watches. */
const movingBar = (title: string): Told => {
  const bar = new SingleBar({
    format: `${title} {bar} {percentage} %  {note}`,
    stream: process.stderr,
    hideCursor: true,
    clearOnComplete: true,
    barsize: 24,
  });
  bar.start(1, 0, { note: '' });
  return { tell: ({ fraction, note }) => bar.update(fraction, { note }), end: () => bar.stop() };
};

/** Plain lines at each quarter, for a log file. */
const plainLines = (title: string, io: Io): Told => {
  let said = 0;
  return {
    tell: ({ fraction, note }) => {
      const quarter = Math.floor(fraction * 4);
      if (quarter <= said) return;
      said = quarter;
      io.err(`${title}: ${quarter * 25} %${note === '' ? '' : `, ${note}`}\n`);
    },
    end: () => {},
  };
};

/** Between two looks at the keyboard. */
const BREATH_ms = 50;

/**
 * Runs stepwise work to its end, telling how far it is. Ctrl-C is heard between steps and throws `cancelled`.
 */
export const drive = async <T>(title: string, run: Generator<Step, T, void>, io: Io): Promise<T> => {
  const told = io.watched ? movingBar(title) : plainLines(title, io);
  let breathed = 0;
  try {
    for (;;) {
      const step = run.next();
      if (step.done) return step.value;
      told.tell(step.value);
      if (performance.now() - breathed > BREATH_ms) {
        await setImmediate();
        breathed = performance.now();
      }
      if (io.signal.aborted) throw new AfterfireError('cancelled', `${title}: stopped before the end`);
    }
  } finally {
    told.end();
  }
};
