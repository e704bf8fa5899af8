import { expect, test } from 'vitest';
import { drive } from './drive.ts';

function* tenSteps() {
  for (let step = 1; step <= 10; step++) yield { fraction: step / 10, note: `step ${step}` };
  return 'done';
}

const quiet = (signal: AbortSignal) => {
  const lines: string[] = [];
  const io = { out: () => {}, err: (text: string) => lines.push(text), watched: false, signal };
  return { io, lines };
};

test('in a log, one line a quarter', async () => {
  const { io, lines } = quiet(new AbortController().signal);
  expect(await drive('firing', tenSteps(), io)).toBe('done');
  expect(lines).toEqual([
    'firing: 25 %, step 3\n',
    'firing: 50 %, step 5\n',
    'firing: 75 %, step 8\n',
    'firing: 100 %, step 10\n',
  ]);
});

test('a wish to stop that comes in the middle is heard between two steps', async () => {
  const stop = new AbortController();
  let taken = 0;
  function* endless() {
    for (;;) {
      taken++;
      if (taken === 5) stop.abort();
      yield { fraction: 0, note: '' };
    }
  }
  await expect(drive('firing', endless(), quiet(stop.signal).io)).rejects.toMatchObject({
    code: 'cancelled',
  });
  expect(taken).toBe(5);
});
