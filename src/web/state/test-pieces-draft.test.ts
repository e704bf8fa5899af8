import { expect, test } from 'vitest';
import { parseTestPieces } from '../../making/test-pieces-file.ts';
import { type DraftTests, missing, nextName, placeIn, sentOf } from './test-pieces-draft.ts';

const draft: DraftTests = {
  name: 'Mine',
  clay: 'studio-porcelain',
  firings: [{ name: 'first', kiln: 'k', schedule: 'cone-10-slow.schedule.json' }],
  sagBars: [
    { name: 'A1', firing: 'first', span_mm: 110 },
    { name: 'A2', firing: 'first', span_mm: 110, length_mm: 127, thickness_mm: 5, sag_mm: 6 },
  ],
  shrinkageBars: [],
  absorption: [],
  leaveOut: [],
};

test('rows still to measure wait; the rest is a file, and its faults find their way back to the row', () => {
  expect(missing.sagBars(draft.sagBars[0]!)).toEqual(['length', 'thickness', 'sag']);
  const sent = sentOf(draft);
  expect(parseTestPieces(sent.json).sagBars.map((b) => b.name)).toEqual(['A2']);
  expect(placeIn(sent, 'sagBars[0].length_mm')).toBe('sagBars[1].length_mm');
  expect(placeIn(sent, 'test-pieces.firings[0].log')).toBe('firings[0].log');
});

test('a bar that came down needs no sag', () => {
  const bar = { name: 'B', span_mm: 110, length_mm: 127, thickness_mm: 4, end: 'touched the shelf' as const };
  expect(missing.sagBars(bar)).toEqual([]);
});

test('the next name is one nobody has', () => {
  expect(nextName([{ name: 'A1' }, { name: 'A3' }], 'A')).toBe('A2');
});
