import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { parseStudio, StudioFile } from './studio-file.ts';

const json = JSON.parse(readFileSync('examples/demo.studio.json', 'utf8'));

test('the demo studio names its clay, its schedule and four forms with their settings', () => {
  const studio = parseStudio(json);
  expect(studio.forms.map(({ setting }) => setting.attitude)).toEqual([
    'upright',
    'rim down',
    'on its side',
    'upright',
  ]);
});

test('a path that leads out of the studio is refused', () => {
  expect(() => parseStudio({ ...json, clay: '../secret.clay.json' })).toThrow(
    /studio\.clay: got "\.\.\/secret/,
  );
});

test('the published schema is the one the program reads by', () => {
  const committed = JSON.parse(readFileSync('docs/schema/studio.schema.json', 'utf8'));
  expect(committed).toEqual(JSON.parse(JSON.stringify(z.toJSONSchema(StudioFile, { io: 'input' }))));
});
