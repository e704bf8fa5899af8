import { describe, expect, test } from 'vitest';
import scheduleFile from '../../examples/cone-10-slow.schedule.json' with { type: 'json' };
import clayFile from '../../examples/studio-porcelain.clay.json' with { type: 'json' };
import example from '../../examples/studio-porcelain.test-pieces.json' with { type: 'json' };
import { parseClay } from './clay/clay.ts';
import { parseSchedule } from './kiln/schedule.ts';
import { readTestPieces, testPiecesToLearn } from './read-test-pieces.ts';
import { heatOf, parseTestPieces } from './test-pieces-file.ts';

const clay = parseClay(clayFile);
const scheduleOf = () => parseSchedule(scheduleFile);
const file = parseTestPieces(example);

test('the example is read whole: a kiln a few degrees hot, a clay softer than its file, both within their intervals', () => {
  const found = readTestPieces(file, clay, scheduleOf);
  // Made with 2.4e9 Pa·s at 1285 °C (file: 3e9), 460 kJ/mol (file: 500), kilns 4, 6 and 5 °C hotter than they said.
  for (const [i, true_K] of [4, 6, 5].entries()) {
    const { hotter_K, plusMinus80_K } = found.offsets[i].finding;
    expect(Math.abs(hotter_K - true_K)).toBeLessThan(plusMinus80_K as number);
  }
  const sag = found.sag!;
  expect(Math.abs(sag.belief.softness - Math.log(3 / 2.4))).toBeLessThan(1.2816 * sag.belief.sdSoftness);
  expect(Math.abs(sag.belief.activation_kJ_mol - 460)).toBeLessThan(1.2816 * sag.belief.sdActivation_kJ_mol);
  expect(found.contradictions).toEqual([]);
  expect(found.disagreements).toEqual([]);
  const renewed = parseClay(found.clay);
  expect([renewed.sagViscosity.how, renewed.firingShrinkage.how, renewed.firedDensity.how]).toEqual(
    Array(3).fill('measured'),
  );
  expect(clay).toEqual(parseClay(clayFile));
});

test('for learning, the word of the thermometer and that of the cones are kept apart, firing by firing', () => {
  const learn = testPiecesToLearn(file, clay, 1285, scheduleOf);
  expect(learn.map((l) => l.firing)).toEqual(['long hold', 'short hold', 'cone 10']);
  for (const l of learn) {
    expect(l.offset).toBeDefined();
    // Softer than the file by the clay and by the hotter kiln together: a quarter more and 5 K × 0.026.
    expect(l.viscosity!.value_Pa_s / 3e9).toBeGreaterThan(0.55);
    expect(l.viscosity!.value_Pa_s / 3e9).toBeLessThan(0.95);
  }
});

describe('a file that cannot be', () => {
  test('names each fault', () => {
    const bad = structuredClone(example) as {
      firings: Record<string, unknown>[];
      sagBars: { firing: string; name: string }[];
    };
    bad.firings[0].schedule = 'cone-10-slow.schedule.json';
    (bad.firings[1].log as { time_h: number }[])[3].time_h = 1;
    bad.sagBars[0].firing = 'another';
    bad.sagBars[2].name = 'A2';
    expect(() => parseTestPieces(bad)).toThrow(
      /firings\[0\]: got both[\s\S]*log\[3\].time_h: got 1; expected later[\s\S]*sagBars\[2\].name: got A2[\s\S]*sagBars\[0\].firing: got another; expected one of long hold/,
    );
  });
  test('a log starts when it starts', () => {
    const firing = {
      ...file.firings[0],
      log: [
        { time_h: 3, temperature_C: 20 },
        { time_h: 4, temperature_C: 120 },
      ],
    };
    expect([...heatOf(firing, scheduleOf).time_s]).toEqual([0, 3600]);
  });
});
