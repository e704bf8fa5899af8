import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { AfterfireError } from '../../error.ts';
import { parseClay } from '../clay/clay.ts';
import { parseForm } from '../form/form.ts';
import { parseSchedule, temperatureHistory } from '../kiln/schedule.ts';
import { parseSetting } from '../setting-file.ts';
import { contradictionsIn } from './contradictions.ts';
import { howRight, tightened } from './how-right.ts';
import {
  beliefNow,
  type Kit,
  type Learned,
  learnFromTestPiece,
  learnFromUnloading,
  takeBack,
} from './learn.ts';
import { beliefTold, kilnKnown, learnedClay, learnedClayFile } from './learned-clay.ts';
import { type LearnedEntry, parseLearningLog } from './learning-log.ts';
import { newLearningLog } from './start.ts';
import { parseUnloading, type Unloading } from './unloading.ts';

const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8'));
const clay = parseClay(example('studio-porcelain.clay.json'));
const schedule = parseSchedule(example('cone-10-slow.schedule.json'));
const heat = temperatureHistory(schedule);
const kit: Kit = {
  clay,
  schedule,
  form: (file) => parseForm(example(file)),
  setting: (file) => parseSetting(example(file)).setting,
};
const fresh = newLearningLog(clay, heat);
const finish = <T>(run: Generator<unknown, T, void>): T => {
  for (let r = run.next(); ; r = run.next()) if (r.done) return r.value;
};
const bar = (log = fresh, id = 'bar 1', value_Pa_s = 2e9, factor80 = 1.1): Learned =>
  learnFromTestPiece(
    log,
    { kiln: 'Front kiln', what: 'a sag bar', viscosity: { value_Pa_s, factor80 } },
    clay,
    heat,
    { id, date: '2026-03-01', from: id },
  );
const demo = parseLearningLog(example('studio-porcelain.learning.json'));
const demoNow = beliefNow(demo);
const learned = demo.entries as LearnedEntry[];

/** The truth the demo's unloadings were made with (bench/demo-unloadings.ts). */
const TRUTH = { softness: Math.log(1.5), front_K: 7, small_K: -4, size: -0.004 };

test('the demo log: its last belief follows from its evidence alone, whatever stands in its entries', () => {
  const now = demoNow;
  const said = learned.at(-1)?.after;
  expect(now.softness.mean).toBeCloseTo(said?.softness.mean ?? 0, 6);
  expect(now.kilns.map((k) => k.name)).toEqual(['Front kiln', 'Small kiln']);
});

test('the demo log: all four stated truths lie within what is believed, to 2 standard deviations', () => {
  const { softness, size, kilns } = demoNow;
  expect(Math.abs(softness.mean - TRUTH.softness)).toBeLessThan(2 * softness.sd);
  expect(Math.abs(size.mean - TRUTH.size)).toBeLessThan(2 * size.sd);
  expect(Math.abs(kilns[0].mean_K - TRUTH.front_K)).toBeLessThan(2 * kilns[0].sd_K);
  expect(Math.abs(kilns[1].mean_K - TRUTH.small_K)).toBeLessThan(2 * kilns[1].sd_K);
  // and it was a factor of 2 before
  expect(softness.sd).toBeLessThan(0.25 * demo.start.softness.sd);
});

test('the demo log is what its unloadings teach: one piece run anew gives the film that is kept', () => {
  const whole = parseUnloading(example('2026-04-25-small.unloading.json'));
  const one: Unloading = { ...whole, pieces: whole.pieces.filter((p) => p.number === '107') };
  const { entry } = finish(
    learnFromUnloading(fresh, one, kit, { id: 'x', date: '2026-04-25', from: 'x.unloading.json' }),
  );
  const kept = learned
    .find((e) => e.from === '2026-04-25-small.unloading.json')
    ?.evidence.pieces.find((p) => p.number === '107');
  const [now, then] = [entry.evidence.pieces[0], kept].map((p) => p?.film.readings['drop greatest'] ?? []);
  expect(now).toHaveLength(then.length);
  // compiled kernels wrote it, plain ones check it
  now.forEach((x, i) => {
    expect(Math.abs(x - then[i])).toBeLessThan(0.02 + 0.01 * then[i]);
  });
});

test('nothing is overwritten: a log stays as it was, the next is one entry longer', () => {
  const before = JSON.stringify(fresh);
  const { log, entry } = bar();
  expect(JSON.stringify(fresh)).toBe(before);
  expect(log.entries).toHaveLength(1);
  expect(entry.before).toEqual(fresh.start);
  expect(entry.after.softness.sd).toBeLessThan(0.5 * entry.before.softness.sd);
  expect(parseLearningLog(JSON.parse(JSON.stringify(log)))).toEqual(log);
});

test('what was learned is taken back by a later entry, and that one too; nothing is deleted', () => {
  const one = bar().log;
  const two = bar(one, 'bar 2', 9e9).log;
  const back = takeBack(two, 'bar 2', 'it touched its support', { id: 'back', date: '2026-03-02' });
  expect(back.entries).toHaveLength(3);
  expect(beliefNow(back).softness.mean).toBeCloseTo(beliefNow(one).softness.mean, 9);
  const again = takeBack(back, 'back', 'it had not', { id: 'again', date: '2026-03-03' });
  expect(beliefNow(again).softness.mean).toBeCloseTo(beliefNow(two).softness.mean, 9);
  expect(again.entries.at(-1)?.after).toEqual(beliefNow(again));
  expect(() => takeBack(back, 'bar 2', '', { id: 'b', date: '2026-03-03' })).toThrow('still counts');
  expect(() => takeBack(back, 'bar 9', '', { id: 'b', date: '2026-03-03' })).toThrow('bar 1, bar 2, back');
});

test('what was taken back and learned anew is not restored beside itself: it would count twice', () => {
  const gone = takeBack(bar().log, 'bar 1', 'wrong figure', { id: 'back', date: '2026-03-02' });
  const anew = {
    ...gone,
    entries: [...gone.entries, { ...(gone.entries[0] as LearnedEntry), id: 'bar 1 again' }],
  };
  expect(() => takeBack(anew, 'back', 'not wrong', { id: 'b', date: '2026-03-03' })).toThrow(
    'take back bar 1 again',
  );
  const without = takeBack(anew, 'bar 1 again', 'wrong too', { id: 'c', date: '2026-03-03' });
  const restored = takeBack(without, 'back', 'not wrong', { id: 'd', date: '2026-03-03' });
  expect(beliefNow(restored)).toEqual(beliefNow(bar().log));
});

test('the same thing is not learned from twice, nor from another clay', () => {
  const { log } = bar();
  expect(() => bar(log, 'bar 1')).toThrow(AfterfireError);
  expect(() =>
    learnFromTestPiece(fresh, { kiln: 'k', what: '' }, { ...clay, name: 'Other' }, heat, {
      id: 'a',
      date: '2026-03-01',
      from: 'a',
    }),
  ).toThrow('clay.name');
  const unloading = parseUnloading(example('2026-04-25-small.unloading.json'));
  const run = learnFromUnloading(demo, unloading, kit, {
    id: 'new',
    date: '2026-11-25',
    from: '2026-04-25-small.unloading.json',
  });
  expect(() => run.next()).toThrow('take that entry back first');
});

test('a bar that says something else altogether is named, and counts for little', () => {
  const good = [1, 2, 3].reduce((log, i) => bar(log, `bar ${i}`, 2e9).log, fresh);
  const { entry } = bar(good, 'bar 4', 12e9);
  expect(entry.contradictions).toHaveLength(1);
  expect(entry.contradictions[0]).toMatch(/stiffer by a factor of [56]\.\d than all the rest/);
  const moved = Math.abs(entry.after.softness.mean - entry.before.softness.mean);
  expect(moved).toBeLessThan(entry.before.softness.sd);
});

test('a slip of the pen on one piece is named by piece, measure and what it should be', () => {
  const last = learned.at(-1) as LearnedEntry;
  const [piece, ...others] = last.evidence.pieces;
  const slip = piece.readings.map((r) => (r.key === 'height' ? { ...r, value_mm: r.value_mm + 30 } : r));
  const evidence = { ...last.evidence, pieces: [{ ...piece, readings: slip }, ...others] };
  const bent = { ...demo, entries: [...demo.entries.slice(0, -1), { ...last, evidence }] };
  const [right, wrong] = [demoNow, beliefNow(bent)];
  expect(Math.abs(wrong.size.mean - right.size.mean)).toBeLessThan(right.size.sd);
  const said = contradictionsIn(evidence, wrong);
  expect(said).toHaveLength(1);
  expect(said[0]).toMatch(/^Piece 118: height 20\d\.\d mm does not go with the rest, which has it near 17\d/);
});

test('the learned clay is a new clay: measured, from whom, narrower; the old one is named and unharmed', () => {
  const before = JSON.stringify(clay);
  const now = demoNow;
  const out = learnedClay(clay, demo, now);
  expect(JSON.stringify(clay)).toBe(before);
  expect(out.sagViscosity.how).toBe('measured');
  expect(out.sagViscosity.note).toContain('20 fired pieces');
  expect(out.sagViscosity.note).toContain('3.0e+9');
  expect(out.sagViscosity.factor80).toBeLessThan(1.25);
  expect(learnedClay(clay, fresh, fresh.start)).toBe(clay);
  expect(learnedClayFile('studio-porcelain.clay.json', '2026-11-25')).toBe(
    'studio-porcelain-learned-2026-11-25.clay.json',
  );
  expect(learnedClayFile('a-learned-2026-01-02.clay.json', '2026-11-25')).toBe(
    'a-learned-2026-11-25.clay.json',
  );
  expect(beliefTold(demo, now)[0]).toBe('Learned from 20 fired pieces.');
});

test('what a firing takes as known: softness with the piece’s own scatter, a soft clay going with a cool kiln', () => {
  const known = kilnKnown(demoNow, 'Front kiln');
  expect(known.softness).toBeGreaterThan(learnedClay(clay, demo, demoNow).sagViscosity.factor80);
  expect(known.together).toBeLessThan(-0.3);
  expect(kilnKnown(demoNow, 'never seen').off_K).toBe(0);
});

test('how right we were: every measure of the demo, its share inside, and predictions that tighten', () => {
  const right = howRight(demo);
  expect(right.pieces).toBe(20);
  expect(right.rows).toHaveLength(learned.flatMap((e) => e.predictions).length);
  const hits = right.rows.filter((r) => r.measured_mm >= r.low_mm && r.measured_mm <= r.high_mm).length;
  expect(right.inside).toBeCloseTo(hits / right.rows.length, 12);
  expect(right.inside).toBeGreaterThan(right.due[0]);
  expect(right.text).toContain(`${hits} of ${right.rows.length} measures on 20 pieces`);
  const known = tightened(demo);
  expect(known).toHaveLength(7);
  expect(known.at(-1)?.movement_mm).toBeLessThan(0.4 * known[0].movement_mm);
});

test('a bias is told where there is one: the same log with every drop 4 mm more', () => {
  const bent = {
    ...demo,
    entries: learned.map((e) => ({
      ...e,
      predictions: e.predictions.map((p) =>
        p.key.startsWith('drop') ? { ...p, measured_mm: p.before.middle_mm + 4 } : p,
      ),
    })),
  };
  const upright = howRight(bent).byAttitude.find((b) => b.group === 'upright' && b.about === 'movement');
  expect(upright?.text).toMatch(/^upright: they move \d\.\d mm \(±\d\.\d\) more than predicted\.$/);
});

test('a bias of three pieces is known as Student has it: t of 2 degrees of freedom, 1.886 at 0.9 (any table)', () => {
  const entry = learned[0];
  const one = entry.predictions.find((p) => p.key.startsWith('drop')) as LearnedEntry['predictions'][number];
  const predictions = [-1, 0, 1].map((off, i) => ({
    ...one,
    piece: `p${i}`,
    measured_mm: one.before.middle_mm + off,
  }));
  const { byKiln } = howRight({ ...demo, entries: [{ ...entry, predictions }] });
  expect(byKiln).toHaveLength(1);
  expect(byKiln[0].plusMinus_mm).toBeCloseTo(1.886 / Math.sqrt(3), 6);
});
