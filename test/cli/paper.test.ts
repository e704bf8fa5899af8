import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { demoRecord } from '../../src/cli/demo-record.ts';
import { LABEL_SHEETS } from '../../src/making/record-paper/label-sheet.ts';
import { closeRecord } from '../../src/store/record.ts';
import { afterfire } from './terminal.ts';

let folder: string;
const at = (file: string): string => join(folder, file);
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'afterfire-paper-'));
  closeRecord(await demoRecord(at('d.sqlite')));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const paper = (...argv: string[]) =>
  afterfire(['paper', ...argv, '--record', at('d.sqlite'), '--pdf', at('out.pdf')]);
const pagesIn = (file: string): [number, number][] =>
  [...readFileSync(at(file), 'latin1').matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(([, w, h]) => [
    Number(w),
    Number(h),
  ]);

describe('paper', () => {
  test.each([
    ['labels', ['--pieces', 'R-101-R-125'], 2],
    ['labels', ['--pieces', 'R-101-120', '--labels', 'letter-44x13', '--first', '70'], 2],
    [
      'labels',
      ['--pieces', 'R-101', '--labels', 'a4-99x68', '--page', 'https://192.168.1.20:8443', '--shift=-1,0.5'],
      1,
    ],
    ['tags', ['--pieces', 'R-101-R-113,R-001', '--price', '--paper', 'letter'], 2],
    ['tags', ['--pieces', 'R-101', '--size', '40x75'], 1],
    ['cards', ['--pieces', 'R-101-R-109'], 2],
    ['sheet', ['--pieces', 'R-101,R-001', '--no-picture'], 2],
  ])('%s %j', async (kind, more, pages) => {
    const { code, out, err } = await paper(kind, ...more);
    expect(code, err).toBe(0);
    expect(out).toContain(`${pages} page`);
    expect(out).toContain('100 %');
    expect(pagesIn('out.pdf')).toHaveLength(pages);
  });

  test('the sheet of a piece has its picture, foreseen; one of a form, clay and heat is fired once', async () => {
    const { code, err } = await paper('sheet', '--pieces', 'R-001-R-006');
    expect(code, err).toBe(0);
    const fired = new Set([...err.matchAll(/foreseeing (R-\d+)/g)].map(([, number]) => number));
    expect(fired.size).toBeGreaterThan(0);
    expect(fired.size).toBeLessThan(6);
  });

  test('a photograph that is damaged or gone is told of, and the sheet is printed without it', async () => {
    const files = readdirSync(at('d.photos'), { recursive: true, encoding: 'utf8' }).filter((f) =>
      f.endsWith('.png'),
    );
    for (const file of files) writeFileSync(join(at('d.photos'), file), 'spoilt');
    const { code, err } = await paper('sheet', '--pieces', 'R-002');
    expect(code).toBe(0);
    expect(err).toMatch(/R-002: photo .* damaged/);
  });

  test('labels of one’s own, by a file of lengths; pages have the size of the sheet', async () => {
    const roll = {
      width_mm: 60,
      height_mm: 30,
      columns: 1,
      rows: 1,
      labelWidth_mm: 60,
      labelHeight_mm: 30,
      left_mm: 0,
      top_mm: 0,
    };
    writeFileSync(at('roll.json'), JSON.stringify(roll));
    const { code, err } = await paper('labels', '--pieces', 'R-101-R-103', '--labels', at('roll.json'));
    expect(code, err).toBe(0);
    const pages = pagesIn('out.pdf');
    expect(pages).toHaveLength(3);
    expect((pages[0][0] * 25.4) / 72).toBeCloseTo(60, 2);
    writeFileSync(at('bad.json'), JSON.stringify({ ...roll, columns: 2 }));
    expect((await paper('labels', '--pieces', 'R-101', '--labels', at('bad.json'))).err).toMatch(
      /labels.columns/,
    );
  });

  test('a page to check the printer with needs no record', async () => {
    const sheet = 'a4-38x21';
    const { code, err } = await afterfire([
      'paper',
      'labels',
      '--calibrate',
      '--labels',
      sheet,
      '--pdf',
      at('ruler.pdf'),
    ]);
    expect(code, err).toBe(0);
    const [[width]] = pagesIn('ruler.pdf');
    expect((width * 25.4) / 72).toBeCloseTo(LABEL_SHEETS[sheet].width_mm, 2);
  });

  test('gaps in a range are told; the rest is printed', async () => {
    const { code, err } = await paper('cards', '--pieces', 'R-145-R-150');
    expect(code, err).toBe(0);
    expect(err).toContain('no such pieces: R-147, R-148, R-149, R-150');
  });

  test.each([
    [['labels'], /--pieces: got/],
    [['labels', '--pieces', 'Q-1'], /--pieces: got "Q-1"/],
    [['labels', '--pieces', 'R-101', '--labels', 'huge'], /labels: got "huge"; expected a4-38x21/],
    [['labels', '--pieces', 'R-101', '--first', '22'], /--first: got/],
    [['labels', '--pieces', 'R-101', '--page', 'javascript:alert(1)'], /--page: got/],
    [
      ['labels', '--pieces', 'R-101', '--labels', 'letter-44x13', '--page', 'https://192.168.1.20:8443'],
      /code: got/,
    ],
    [['labels', '--pieces', 'R-101', '--shift', '9'], /--shift: got/],
    [['tags', '--pieces', 'R-101', '--size', 'big'], /--size: got/],
    [['tags', '--pieces', 'R-101', '--paper', 'a3'], /a3/],
  ])('%j is refused in words', async (argv, said) => {
    const { code, err } = await paper(...argv);
    expect(code).not.toBe(0);
    expect(err).toMatch(said);
  });

  test('a file that cannot be is refused before the work, and so is a missing record', async () => {
    const nowhere = await afterfire([
      'paper',
      'cards',
      '--record',
      at('d.sqlite'),
      '--pieces',
      'R-101',
      '--pdf',
      at('no/x.pdf'),
    ]);
    expect(nowhere.err).toMatch(/--pdf: got/);
    const none = await afterfire(['paper', 'cards', '--pieces', 'R-101', '--pdf', at('x.pdf')]);
    expect(none.err).toMatch(/--record: got/);
  });
});
