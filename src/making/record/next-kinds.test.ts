import { expect, test } from 'vitest';
import type { Entry } from './entry.ts';
import { foldPiece } from './fold.ts';
import type { KindName } from './kinds.ts';
import { claysNow, likelyKinds, possibleKinds } from './next-kinds.ts';

const lived = (...kinds: readonly KindName[]) =>
  foldPiece(
    kinds.map(
      (kind, i): Entry => ({
        id: i + 1,
        batch: i + 1,
        at_utc: `2026-01-${String(i + 1).padStart(2, '0')}T08:00:00.000Z`,
        zone: 'UTC',
        piece: 1,
        kind,
        data: kind === 'begun' ? { number: '1' } : kind === 'lost' ? { cause: 'cracked' } : {},
        note: '',
        ...(['set', 'fired', 'unloaded'].includes(kind) ? { firing: 7 } : {}),
      }),
    ),
  ).state;

test('every kind said to be possible can in fact follow, through a whole life', () => {
  const life: KindName[] = ['begun'];
  for (const kind of [
    'formed',
    'carved',
    'drying',
    'dry',
    'set',
    'fired',
    'unloaded',
    'finished',
    'shown',
    'sold',
  ] as const) {
    expect(possibleKinds(lived(...life)), `${kind} after ${life.at(-1)}`).toContain(kind);
    life.push(kind);
  }
  expect(possibleKinds(lived(...life)).sort()).toEqual(['noted', 'photographed', 'returned']);
});

test('what is likely next is what the work has next, and is possible', () => {
  const state = lived('begun', 'formed', 'carved');
  expect(likelyKinds(state, new Set(['formed', 'carved']))).toEqual(['drying', 'weighed']);
  expect(likelyKinds(lived('begun', 'formed', 'lost'), new Set())).toEqual([]);
  expect(likelyKinds(lived('begun', 'formed', 'dry', 'set', 'fired'), new Set())).toEqual(['unloaded']);
});

test('the clay to be weighed is the one there is now', () => {
  expect(claysNow(lived('begun'))).toEqual(['wet']);
  expect(claysNow(lived('begun', 'formed', 'drying'))).toEqual(['leather-hard', 'wet']);
  expect(claysNow(lived('begun', 'formed', 'dry'))).toEqual(['bone dry']);
  expect(claysNow(lived('begun', 'formed', 'dry', 'set', 'fired', 'unloaded'))).toEqual(['fired']);
});
