import { expect, test } from 'vitest';
import { readRepository } from './repository.ts';

const files = readRepository();
const readme = files.get('README.md') ?? '';

test('the README sets up with exactly two commands', () => {
  const commands = [...readme.matchAll(/^```\n(npm [^\n]*)\n```$/gm)].map(([, command]) => command);
  expect(commands).toEqual(['npm ci && npm start', 'npm ci && npm test']);
});

test("CI runs exactly the README's test command", () => {
  const script = files.get('.ci/run') ?? '';
  const lines = script.split('\n').filter((line) => line !== '' && !/^(#|set |cd )/.test(line));
  expect(lines).toEqual(['npm ci && npm test']);
});

test('every file that the README points to is there', () => {
  const links = [...readme.matchAll(/\]\(([\w./-]+)\)/g)].map(([, link]) => link);
  expect(links.length).toBeGreaterThan(3);
  for (const link of links) expect(files.has(link) || link === 'LICENSE', link).toBe(true);
});

test('every example that the README fires is there', () => {
  const examples = [...readme.matchAll(/examples\/[\w.-]+\.json/g)].map(([path]) => path);
  expect(examples.length).toBeGreaterThan(1);
  for (const example of examples) expect(files.has(example), example).toBe(true);
});

test('every package has its line in the ledger', () => {
  const { dependencies, devDependencies } = JSON.parse(files.get('package.json') ?? '{}');
  const ledger = files.get('docs/dependencies.md') ?? '';
  const names = Object.keys({ ...dependencies, ...devDependencies }).filter(
    (name) => !name.startsWith('@types/'),
  );
  for (const name of names) expect(ledger, name).toContain(`\n| ${name} |`);
});
