import { expect, test } from 'vitest';
import { NOTHING_YET } from '../../../making/record/piece-state.ts';
import { sayDay, stateLine } from './entry-words.ts';

const NOW = '2026-11-25T14:00:00.000Z'; // a Wednesday (ISO 8601 calendar)

test('a day as one says it', () => {
  expect(
    ['2026-11-25', '2026-11-24', '2026-11-26', '2026-11-24', '2026-11-20', '2026-11-03', '2025-11-03'].map(
      (day) => sayDay(day, '2026-11-25'),
    ),
  ).toEqual(['today', 'yesterday', 'tomorrow', 'yesterday', 'Friday', '3 November', '3 November 2025']);
});

test('the state of a piece is one line', () => {
  const dry = {
    ...NOTHING_YET,
    stage: 'bone dry',
    since_utc: '2026-11-20T22:30:00.000Z',
    place: 'shelf 2',
  } as const;
  expect(stateLine(dry, '', 'UTC', NOW)).toBe('Bone dry since Friday, shelf 2');
  // Half past eleven in Berlin's evening is the next day in Tokyo.
  expect(stateLine(dry, '', 'Asia/Tokyo', NOW)).toBe('Bone dry since Saturday, shelf 2');
  const lost = { ...dry, stands: 'lost', loss: { cause: 'cracked', at: 'fired', at_utc: NOW } } as const;
  expect(stateLine(lost, '', 'UTC', NOW)).toBe('Lost today: cracked (it was fired)');
});
