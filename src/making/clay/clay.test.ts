import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { AfterfireError } from '../../error.ts';
import { Clay, parseClay } from './clay.ts';
import {
  disagreements,
  firingShrinkageFromDensities_percent,
  saturatedDensity_kg_m3,
} from './consistency.ts';
import { clayValues } from './provenance.ts';
import { lengthIn } from './shrinkage.ts';

const json = JSON.parse(readFileSync('examples/studio-porcelain.clay.json', 'utf8'));
const complaints = (change: object): string => {
  try {
    parseClay({ ...json, ...change });
  } catch (error) {
    if (error instanceof AfterfireError && error.code === 'bad-input') return error.message;
    throw error;
  }
  return '';
};
const bulk = (dry: number, loi: number, fired: number) => ({
  ...parseClay(json),
  boneDryDensity: { value_kg_m3: dry },
  lossOnIgnition: { value_percent: loi },
  firedDensity: { value_kg_m3: fired },
});

test('the demo clay agrees with itself and shrinks by about a seventh', () => {
  const clay = parseClay(json);
  expect(disagreements(clay)).toEqual([]);
  expect(1 - lengthIn(clay, 'fired')).toBeGreaterThan(0.14);
  expect(1 - lengthIn(clay, 'fired')).toBeLessThan(0.15);
});

test('firing shrinkage from conservation of mass: dry 1.70, LOI 6.5 %, fired 2.40 is 12.83 %; dry 1.93 is 9.0 %', () => {
  expect(firingShrinkageFromDensities_percent(bulk(1700, 6.5, 2400))).toBeCloseTo(12.83, 2);
  // the sheet of consistency relations prints 9.0; the arithmetic itself gives 9.07
  expect(Math.abs(firingShrinkageFromDensities_percent(bulk(1930, 6.5, 2400)) - 9.0)).toBeLessThan(0.1);
});

test.each([
  [20, 2053],
  [22, 2018],
  [25, 1970],
  [28, 1926],
  [30, 1899],
])('clay full of water, grains of 2600: moisture %i %% weighs %i kg/m3 (saturated mixture)', (w, density) => {
  const clay = { ...parseClay(json), throwingMoisture: { value_percent: w } };
  expect(saturatedDensity_kg_m3(clay)).toBeCloseTo(density, -0.5);
});

test('values that contradict one another are named, with by how much', () => {
  expect(complaints({ firingShrinkage: { value_percent: 12, how: 'guess' } })).toMatch(
    /clay\.firingShrinkage\.value_percent: got 12; expected about 9\.1, .*2\.9 points more/,
  );
  expect(complaints({ boneDryDensity: { value_kg_m3: 1700, how: 'guess' } })).toMatch(
    /clay\.boneDryDensity\.value_kg_m3: got 1700; expected about 1928, .*11\.8 % less/,
  );
  expect(complaints({ wetDensity: { value_kg_m3: 1500, how: 'guess' } })).toMatch(
    /clay\.wetDensity\.value_kg_m3: got 1500; expected about 1985/,
  );
});

test('bad shapes name the field, the value and what would be right', () => {
  expect(complaints({ colour: 'white' })).toMatch(
    /clay\.colour: got "white"; no field of this name; the fields/,
  );
  expect(complaints({ firedDensity: { value: 2400, how: 'guess' } })).toMatch(
    /clay\.firedDensity\.value: got 2400; no field of this name; did you mean value_kg_m3\?/,
  );
  expect(complaints({ firedDensity: { value_kg_m3: Number.NaN, how: 'guess' } })).toMatch(
    /got NaN; expected a number/,
  );
  expect(complaints({ firedDensity: { value_kg_m3: 2.4, how: 'guess' } })).toMatch(
    /got 2\.4; expected a number of at least 500/,
  );
  expect(complaints({ firedDensity: { value_kg_m3: 2400, how: 'published' } })).toMatch(
    /firedDensity\.source/,
  );
  expect(complaints({ firedDensity: { value_kg_m3: 2400, how: 'measured' } })).toMatch(/firedDensity\.note/);
  expect(complaints({ afterfire: 'clay/2' })).toMatch(/got "clay\/2"; expected "clay\/1"/);
});

test('the sag viscosity of the demo clay says that it is a guess', () => {
  const sag = clayValues(parseClay(json))[0]!;
  expect(sag.how).toBe('guess');
  expect(sag.value).toMatch(/^3 × 10⁹ Pa·s at 1285 °C/);
  expect(sag.value).toContain('factor 2');
  expect(sag.from.match(/a guess/g)).toHaveLength(1);
  expect(sag.from).toContain('until a test bar');
});

test('the published schema is the one the program reads by', () => {
  const committed = JSON.parse(readFileSync('docs/schema/clay.schema.json', 'utf8'));
  expect(committed).toEqual(JSON.parse(JSON.stringify(z.toJSONSchema(Clay, { io: 'input' }))));
});
