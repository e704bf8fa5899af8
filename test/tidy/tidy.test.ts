import { describe, expect, test } from 'vitest';
import { arrowsUp, cycles, deadFiles, stagesOutOfOrder, threeOutsideView } from './imports.ts';
import { type Complaint, type Files, importsOf, readRepository } from './repository.ts';
import { bannedWords, longFiles, MOST_LINES, machinePaths } from './words.ts';

const repository = readRepository();
const files = (given: Record<string, string>): Files => new Map(Object.entries(given));

interface Rule {
  readonly name: string;
  readonly rule: (given: Files) => Complaint[];
  /** A repository that breaks the rule once. */
  readonly bad: Record<string, string>;
  readonly complaint: RegExp;
  /** Nearly the same, and right. */
  readonly good: Record<string, string>;
}

const RULES: readonly Rule[] = [
  {
    name: 'no arrow up a hall',
    rule: arrowsUp,
    bad: { 'src/kernel/mesh/a.ts': "import { x } from '../../making/form/form.ts';\n" },
    complaint: /kernel may not see making/,
    good: { 'src/making/form/a.ts': "import { x } from '../../kernel/mesh/mesh.ts';\n" },
  },
  {
    name: 'the page speaks to the server by HTTP only',
    rule: arrowsUp,
    bad: { 'src/web/main.ts': "import type { App } from '../server/app.ts';\n" },
    complaint: /web may not see server/,
    good: { 'src/web/main.ts': "import { fire } from '../making/firing/fire.ts';\n" },
  },
  {
    name: 'no stage of the work looks ahead',
    rule: stagesOutOfOrder,
    bad: { 'src/making/clay/a.ts': "import type { S } from '../kiln/schedule.ts';\n" },
    complaint: /may not see a later one/,
    good: { 'src/making/firing/a.ts': "import type { S } from '../kiln/schedule.ts';\n" },
  },
  {
    name: 'three stays in the view',
    rule: threeOutsideView,
    bad: { 'src/web/worker.ts': "import { Mesh } from 'three';\n" },
    complaint: /only src\/web\/view may/,
    good: { 'src/web/view/piece.ts': "import { Mesh } from 'three';\n" },
  },
  {
    name: 'no import cycle',
    rule: cycles,
    bad: {
      'src/kernel/a.ts': "import { b } from './b.ts';\n",
      'src/kernel/b.ts': "import { a } from './a.ts';\n",
    },
    complaint: /a\.ts → src\/kernel\/b\.ts → src\/kernel\/a\.ts/,
    good: { 'src/kernel/a.ts': "import { b } from './b.ts';\n", 'src/kernel/b.ts': '' },
  },
  {
    name: 'no dead file',
    rule: deadFiles,
    bad: {
      'src/cli/main.ts': '',
      'src/kernel/alone.ts': '',
      'src/kernel/alone.test.ts': "import './alone.ts';\n",
    },
    complaint: /alone\.ts is reached from no entry/,
    good: {
      'src/cli/main.ts': "import './fire.ts';\n",
      'src/cli/fire.ts': '',
      'src/web/index.html': '<script type="module" src="./page.ts"></script>',
      'src/web/page.ts': "new Worker(new URL('./worker.ts', import.meta.url));\n",
      'src/web/worker.ts': '',
    },
  },
  {
    name: 'no banned word',
    rule: bannedWords,
    bad: { 'src/kernel/a.ts': '// TODO finish this\n' },
    complaint: /a\.ts:1 says "TODO"; write do it/,
    good: { 'src/kernel/a.ts': '// finished\n' },
  },
  {
    name: 'no path of one machine',
    rule: machinePaths,
    bad: { 'docs/a.md': 'see\nrun it in /home/someone/afterfire\n' },
    complaint: /a\.md:2 holds a path of one machine/,
    good: { 'docs/a.md': 'run it in the folder you cloned\n' },
  },
  {
    name: 'no registry address in the lock file',
    rule: machinePaths,
    bad: { 'package-lock.json': '  "resolved": "https://example.org/a.tgz"\n' },
    complaint: /a registry address/,
    good: { 'package-lock.json': '  "version": "1.0.0"\n' },
  },
  {
    name: 'no file too long to read',
    rule: longFiles,
    bad: { 'src/kernel/a.ts': '\n'.repeat(MOST_LINES + 1) },
    complaint: /401 lines; 400 is the most/,
    good: { 'src/kernel/a.ts': '\n'.repeat(MOST_LINES) },
  },
];

describe.each(RULES)('$name', ({ rule, bad, good, complaint }) => {
  test('holds here', () => expect(rule(repository)).toEqual([]));
  test('can fail', () => {
    const said = rule(files(bad));
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(complaint);
  });
  test('lets the right thing pass', () => expect(rule(files(good))).toEqual([]));
});

test('imports are read in every shape they come in', () => {
  const text = `import type { A } from './a.ts';
import {
  b,
} from '../b.ts';
import './c.css';
export { d } from './d.ts';
const e = await import('./e.ts');
const f = new Worker(new URL('./f.ts', import.meta.url), { type: 'module' });
import three from 'three/addons/x.js';
`;
  expect(importsOf('src/web/main.ts', text).map(({ to, typeOnly }) => [to, typeOnly])).toEqual([
    ['src/web/a.ts', true],
    ['src/b.ts', false],
    ['src/web/c.css', false],
    ['src/web/d.ts', false],
    ['src/web/e.ts', false],
    ['src/web/f.ts', false],
    ['three/addons/x.js', false],
  ]);
});

test('the walk over the repository finds it', () => {
  expect(repository.size).toBeGreaterThan(20);
  expect(repository.has('src/error.ts')).toBe(true);
});
