import { expect, test } from 'vitest';
import { type Entry, parseEntry, sameEntry } from './entry.ts';
import { foldFiring, loadFault } from './firing-state.ts';
import { foldPiece } from './fold.ts';
import { KIND_NAMES, type KindName, kindOf } from './kinds.ts';
import { standing, takenBack } from './standing.ts';

const ZONE = 'Europe/Berlin';

/** A journal written down briefly: one entry an hour. */
const journal = (...lines: readonly (readonly [KindName, Entry['data']?, Partial<Entry>?])[]): Entry[] =>
  lines.map(([kind, data = {}, more = {}], i) => ({
    id: i + 1,
    at_utc: new Date(Date.UTC(2026, 0, 5, 8 + i)).toISOString(),
    zone: ZONE,
    piece: 1,
    kind,
    data,
    note: '',
    batch: i + 1,
    ...more,
  }));

const inKiln = { firing: 7 };
const LIFE = journal(
  ['begun', { number: 'A-001', form: 3 }],
  ['formed', { how: 'thrown', clay_g: 2400, hours: 0.5 }],
  ['weighed', { clay: 'wet', weight_g: 2100 }],
  ['drying', { place: 'the cool shelf' }],
  ['carved', { how: 'fluted', hours: 3 }],
  ['dry'],
  ['weighed', { clay: 'bone dry', weight_g: 1500 }],
  ['set', { shelf: 2, attitude: 'upright' }, inKiln],
  ['fired', {}, inKiln],
  ['unloaded', { came: 'as wanted' }, inKiln],
  ['weighed', { clay: 'fired', weight_g: 1390 }],
  ['measured', { clay: 'fired', height_mm: 262 }],
  ['finished', { how: 'sanded', hours: 0.25 }],
  ['priced', { price_minor: 48000, currency: 'EUR' }],
  ['shown', { place: 'Spring show', until: '2026-04-12' }],
  ['sold', { price_minor: 46000, currency: 'EUR', to: 'somebody' }],
);

test('from clay to door: the state follows from the journal', () => {
  const { state, trouble } = foldPiece(LIFE);
  expect(trouble).toBeUndefined();
  expect(state).toMatchObject({
    number: 'A-001',
    form: 3,
    stage: 'finished',
    stands: 'sold',
    hours: 3.75,
    firings: [7],
    weights_g: { wet: 2100, 'bone dry': 1500, fired: 1390 },
    sizes: { fired: { height_mm: 262 } },
    price: { minor: 48000, currency: 'EUR' },
    sale: { minor: 46000, currency: 'EUR', to: 'somebody' },
    doubts: [],
  });
});

test.each<[string, Entry[], RegExp]>([
  [
    'sold twice',
    [...LIFE, ...journal(['sold', { price_minor: 1, currency: 'EUR' }])],
    /sold; if that was a slip/,
  ],
  [
    'fired before set',
    journal(['begun', { number: '1' }], ['formed'], ['dry'], ['fired', {}, inKiln]),
    /record "set" first/,
  ],
  [
    'weighed after it was lost',
    journal(
      ['begun', { number: '1' }],
      ['formed'],
      ['lost', { cause: 'broke in handling' }],
      ['weighed', { clay: 'wet', weight_g: 9 }],
    ),
    /lost \(broke in handling\)/,
  ],
  ['formed twice', journal(['begun', { number: '1' }], ['formed'], ['formed']), /it can be formed once/],
  ['set wet', journal(['begun', { number: '1' }], ['formed'], ['set', {}, inKiln]), /bone dry/],
  [
    'weighed fired before the fire',
    journal(['begun', { number: '1' }], ['weighed', { clay: 'fired', weight_g: 1 }]),
    /data.clay|wet: the piece is begun/,
  ],
  ['anything before begun', journal(['noted', {}, { note: 'x' }]), /"begun" before all else/],
  [
    'another firing than it was set in',
    journal(
      ['begun', { number: '1' }],
      ['formed'],
      ['dry'],
      ['set', {}, inKiln],
      ['fired', {}, { firing: 8 }],
    ),
    /7, the firing it was set in/,
  ],
  [
    'moved while in the kiln',
    journal(['begun', { number: '1' }], ['formed'], ['dry'], ['set', {}, inKiln], ['moved', { place: 'x' }]),
    /not in the kiln/,
  ],
  [
    'returned though never away',
    journal(['begun', { number: '1' }], ['returned']),
    /packed, shown, on consignment or sold/,
  ],
])('what cannot be is named: %s', (_, entries, words) => {
  const numbered = entries.map((entry, i) => ({
    ...entry,
    id: i + 1,
    at_utc: new Date(Date.UTC(2026, 0, 5, 8 + i)).toISOString(),
  }));
  const { trouble } = foldPiece(numbered);
  expect(trouble?.entry.id).toBe(numbered.length);
  expect(`${trouble?.fault.field}: ${trouble?.fault.expected}`).toMatch(words);
});

test('undo, undo of an undo, correction, correction of a correction', () => {
  const start = journal(['begun', { number: '1' }], ['formed'], ['weighed', { clay: 'wet', weight_g: 1200 }]);
  const on = (entries: Entry[], kind: KindName, undoes: number, data: Entry['data'] = {}): Entry[] => [
    ...entries,
    { ...entries[entries.length - 1], id: entries.length + 1, kind, undoes, data },
  ];
  const weight = (entries: Entry[]) => foldPiece(entries).state.weights_g.wet;
  const undone = on(start, 'undone', 3);
  expect(weight(undone)).toBeUndefined();
  const redone = on(undone, 'undone', 4);
  expect(weight(redone)).toBe(1200);
  const better = on(redone, 'weighed', 3, { clay: 'wet', weight_g: 1210 });
  expect(weight(better)).toBe(1210);
  const best = on(better, 'weighed', 6, { clay: 'wet', weight_g: 1215 });
  expect(weight(best)).toBe(1215);
  expect(standing(best).map(({ id }) => id)).toEqual([1, 2, 7]); // the first mistake stays away
  expect(weight(on(best, 'undone', 7))).toBe(1210);
  expect([...takenBack(best)].sort()).toEqual([3, 4, 6]);
});

test('a correction stands where the mistake stood, and an entry written late where it happened', () => {
  const entries = journal(['begun', { number: '1' }], ['formed'], ['drying'], ['dry']);
  const late: Entry = { ...entries[1], id: 5, kind: 'weighed', data: { clay: 'wet', weight_g: 5 } };
  expect(foldPiece([...entries, late]).trouble).toBeUndefined();
  const wrongNumber: Entry = { ...entries[0], id: 6, undoes: 1, data: { number: '2' } };
  const { state, trouble } = foldPiece([...entries, late, wrongNumber]);
  expect(trouble).toBeUndefined();
  expect(state).toMatchObject({ number: '2', stage: 'bone dry', weights_g: { wet: 5 } });
});

test('a weight that cannot be right is a doubt in the state, not an error', () => {
  const entries = journal(
    ['begun', { number: '1' }],
    ['formed'],
    ['weighed', { clay: 'wet', weight_g: 1000 }],
    ['dry'],
    ['weighed', { clay: 'bone dry', weight_g: 1100 }],
  );
  expect(foldPiece(entries).state.doubts).toEqual([
    'bone dry it weighs 1100 g, more than 1000 g wet: one of the two may be a slip',
  ]);
});

test('a firing runs in order, and what is said of its pieces must fit', () => {
  const firing = journal(
    ['planned', { name: 'F1' }],
    ['lit'],
    ['read', { temperature_C: 600 }],
    ['off'],
    ['opened'],
  ).map(({ piece: _, ...entry }) => ({ ...entry, firing: 7 }));
  const { state, trouble } = foldFiring(firing);
  expect(trouble).toBeUndefined();
  expect(state).toMatchObject({ name: 'F1', stage: 'opened', readings: [{ temperature_C: 600 }] });
  expect(foldFiring([firing[0], firing[3]]).trouble?.fault.expected).toMatch(/lit \(this one is planned\)/);
  const [set] = journal(['set', {}, { firing: 7, at_utc: state.off_utc! }]);
  expect(loadFault(set, state)?.expected).toMatch(/not yet lit/);
  expect(loadFault({ ...set, at_utc: firing[0].at_utc }, state)).toBeUndefined();
  expect(loadFault({ ...set, kind: 'fired', at_utc: firing[0].at_utc }, state)?.expected).toMatch(
    /record "lit" first/,
  );
});

test('an entry from outside: each bad field is named, with what would be right', () => {
  const good = {
    at_utc: '2026-01-05T08:00:00.000Z',
    zone: ZONE,
    piece: 1,
    kind: 'weighed',
    data: { clay: 'wet', weight_g: 1 },
  };
  expect(parseEntry(good)).toMatchObject(good);
  const bad = (change: object) => () => parseEntry({ ...good, ...change });
  expect(bad({ zone: '+01:00' })).toThrow(/entry.zone: .*IANA/);
  expect(bad({ at_utc: '2026-01-05 08:00' })).toThrow(/entry.at_utc: .*UTC/);
  expect(bad({ kind: 'eaten' })).toThrow(/entry.kind/);
  expect(bad({ data: { clay: 'wet' } })).toThrow(/entry.data.weight_g: got nothing/);
  expect(bad({ data: { clay: 'damp', weight_g: 1 } })).toThrow(/"wet", "leather-hard"/);
  expect(bad({ data: { clay: 'wet', weight_kg: 1 } })).toThrow(/did you mean weight_g/);
  expect(bad({ piece: undefined })).toThrow(/entry.piece: got nothing/);
  expect(bad({ kind: 'set', data: {} })).toThrow(/entry.firing/);
  expect(bad({ kind: 'noted', data: {} })).toThrow(/entry.note/);
  expect(bad({ kind: 'undone', data: {} })).toThrow(/entry.undoes/);
  expect(bad({ kind: 'measured', data: { clay: 'wet' } })).toThrow(/at least one measure/);
  expect(bad({ kind: 'priced', data: { price_minor: 1.5, currency: 'EUR' } })).toThrow(/price_minor/);
  expect(bad({ kind: 'priced', data: { price_minor: 1, currency: 'eur' } })).toThrow(/currency/);
  expect(bad({ note: 'a\u0000b' })).toThrow(/NUL/);
});

test('the same entry sent again is the same whatever the order of its fields', () => {
  const entry = parseEntry({
    at_utc: '2026-01-05T08:00:00.000Z',
    zone: ZONE,
    piece: 1,
    kind: 'weighed',
    data: { clay: 'wet', weight_g: 1 },
  });
  expect(sameEntry(entry, { ...entry, data: { weight_g: 1, clay: 'wet' } })).toBe(true);
  expect(sameEntry(entry, { ...entry, data: { weight_g: 2, clay: 'wet' } })).toBe(false);
});

test('every kind has words, and work that makes dust, heat or a load carries its caution', () => {
  for (const name of KIND_NAMES) expect(kindOf(name).says.length, name).toBeGreaterThan(3);
  for (const name of ['carved', 'finished', 'set', 'packed', 'lit', 'opened'] as const)
    expect(kindOf(name).caution, name).toMatch(/./);
});
