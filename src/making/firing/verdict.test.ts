import { expect, test } from 'vitest';
import { parseSchedule, temperatureHistory } from '../kiln/schedule.ts';
import type { Estimate, Trials } from './firing.ts';
import { say, type VerdictFacts } from './verdict.ts';
import { whenTold } from './when.ts';

const drop: Estimate = {
  value: 0.0042,
  low: 0.0027,
  high: 0.0057,
  numerical: 0.0005,
  spreadLow: 0.0028,
  spreadHigh: 0.0056,
  why: '',
};
const trials: Trials = { count: 16, fell: 0, met: 0, touched: 0 };
const facts: VerdictFacts = {
  kind: 'stands',
  part: 'the lip',
  drop,
  followed: true,
  shrinkageDone: 1,
  trials,
  spared: 0,
};

test('a verdict is what a potter would say', () => {
  expect(say(facts).text).toBe('Stands; the lip drops 4 ± 1.5 mm beyond shrinkage.');
  expect(say({ ...facts, kind: 'falls-over', when: 'at about cone 8, 1249 °C' }).text).toBe(
    'Falls over at about cone 8, 1249 °C.',
  );
});

test('trials that end otherwise are told, the worst of them', () => {
  expect(say({ ...facts, trials: { ...trials, fell: 3, touched: 9 } }).text).toBe(
    'Stands; the lip drops 4 ± 1.5 mm beyond shrinkage. But in 3 of 16 trials within what is not known of clay and kiln it falls.',
  );
  expect(say({ ...facts, kind: 'sags', trials: { ...trials, touched: 2 } }).text).toContain(
    'But in 2 of 16 trials within what is not known of clay and kiln the lip comes down to the shelf.',
  );
  expect(say({ ...facts, kind: 'falls-over', when: 'at about cone 8', spared: 5 }).text).toContain(
    'In 5 of 16 trials within what is not known of clay and kiln it stands.',
  );
});

test('a wall that meets itself and was followed rests there', () => {
  const met = { ...facts, kind: 'wall-on-wall', when: 'at about cone 9' } as const;
  expect(say(met).text).toContain('and rests there; the lip drops 4 ± 1.5 mm');
  expect(say({ ...met, followed: false }).text).toContain('what happens after that is not shown');
});

test("when: at the chart's end point of a cone that cone is named (cones 8 and 6, 60 °C/h: 1249 and 1222 °C)", () => {
  const heat = temperatureHistory(
    parseSchedule({
      afterfire: 'schedule/1',
      name: 'steady',
      segments: [
        { kind: 'ramp', rate_C_h: 60, to_C: 1300 },
        { kind: 'ramp', rate_C_h: 200, to_C: 60 },
      ],
    }),
  );
  const at = (T_C: number): string => whenTold(heat, ((T_C - 20) / 60) * 3600, 0, []);
  expect(at(1250)).toBe('at about cone 8, 1250 °C');
  expect(at(1223)).toBe('at about cone 6, 1223 °C');
  expect(at(400)).toMatch(/before any cone/);
  expect(whenTold(heat, heat.time_s[heat.time_s.length - 1] - 3600, 0, [])).toMatch(/^in the cooling/);
});
