import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { z } from 'zod';
import { parseSetting, SettingFile } from './setting-file.ts';
import { parseStudio, StudioFile } from './studio-file.ts';

const json = JSON.parse(readFileSync('examples/demo.studio.json', 'utf8'));

test('the demo studio names its clay, its schedule and its forms, each with its setting', () => {
  const studio = parseStudio(json);
  expect(
    studio.forms.map(({ setting }) => (typeof setting === 'string' ? setting : setting.attitude)),
  ).toEqual(['upright', 'rim down', 'on its side', 'on-two-saddles.setting.json', 'upright', 'rim down']);
});

test.each([
  ['../elsewhere.setting.json', /forms\[0\]\.setting: got "\.\.\/elsewhere/],
  [{ attitude: 'upside down' }, /forms\[0\]\.setting\.attitude: got "upside down"/],
  [{ attitude: 'upright', shelfs: 'slides' }, /forms\[0\]\.setting\.shelfs: .*no field of this name/],
])('a setting that is none: %j', (setting, message) => {
  const [{ file }] = json.forms;
  expect(() => parseStudio({ ...json, forms: [{ file, setting }] })).toThrow(message);
});

test('a setting in a file of its own, by its name', () => {
  const { name, setting } = parseSetting(
    JSON.parse(readFileSync('examples/on-two-saddles.setting.json', 'utf8')),
  );
  expect(name).toBe('On its side, on two saddles');
  expect(setting.props.map(({ kind }) => kind)).toEqual(['saddle', 'saddle']);
  expect(() =>
    parseSetting({ afterfire: 'setting/1', name: 'x', attitude: 'leaning', lean_deg: 200 }),
  ).toThrow(/setting\.lean_deg: got 200; expected a number of at most 60/);
});

test('a path that leads out of the studio is refused', () => {
  expect(() => parseStudio({ ...json, clay: '../secret.clay.json' })).toThrow(
    /studio\.clay: got "\.\.\/secret/,
  );
});

test.each([
  ['studio', StudioFile],
  ['setting', SettingFile],
])('the published schema of a %s is the one the program reads by', (name, schema) => {
  const committed = JSON.parse(readFileSync(`docs/schema/${name}.schema.json`, 'utf8'));
  expect(committed).toEqual(JSON.parse(JSON.stringify(z.toJSONSchema(schema, { io: 'input' }))));
});
