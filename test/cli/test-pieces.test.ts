import { readdir, readFile, writeFile } from 'node:fs/promises';
import jpeg from 'jpeg-js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parseClay } from '../../src/making/clay/clay.ts';
import { parseUnloading } from '../../src/making/learning/unloading.ts';
import { flatShot } from '../photo-pieces.ts';
import { afterfire, type Bench, bench } from './terminal.ts';

const PIECES = 'studio-porcelain.test-pieces.json';
const UNLOADING = '2026-10-31-small.unloading.json';

let at: Bench;
beforeAll(async () => {
  at = await bench();
});
afterAll(() => at.clear());

type Row = Record<string, unknown>;
/** A changed copy of the demo's test pieces. */
const pieces = (change: (file: { sagBars: Row[]; shrinkageBars: Row[]; absorption: Row[] }) => void) =>
  at.spoil(PIECES, (value) => {
    change(value as never);
    return value;
  });

describe('test-pieces', () => {
  test('says softness, activation, shrinkages, pores and the thermometer, each with its interval', async () => {
    const { code, out, err } = await afterfire(['test-pieces', at.path(PIECES)]);
    expect(code, err).toBe(0);
    for (const word of [
      'Witness cones',
      'drying shrinkage, along, %',
      'firing shrinkage, across, %',
      'water taken up, %',
      'fired density',
      'Sag bars',
      'four in five',
      'Activation energy',
      'carbon monoxide',
      'silica',
    ])
      expect(out).toContain(word);
    expect(out).not.toContain('Does not go together');
    expect(out).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('the clay with all of it is a new file; the old one is never written over', async () => {
    const path = at.path('measured.clay.json');
    expect((await afterfire(['test-pieces', at.path(PIECES), '--clay', path])).code).toBe(0);
    const clay = parseClay(JSON.parse(await readFile(path, 'utf8')));
    expect([clay.sagViscosity.how, clay.firingShrinkage.how]).toEqual(['measured', 'measured']);
    const twice = await afterfire(['test-pieces', at.path(PIECES), '--clay', path]);
    expect(twice.code).toBe(2);
    expect(twice.err).toMatch(/--clay: .*never written over/);
    expect((await afterfire(['test-pieces', at.path(PIECES), '--clay', at.path('x.json')])).err).toMatch(
      /.clay.json/,
    );
  });

  test('bars that contradict one another are named, and one can be left out', async () => {
    const file = await pieces(({ sagBars }) => {
      sagBars[1].sag_mm = 1.2;
    });
    const { code, out } = await afterfire(['test-pieces', file]);
    expect(code).toBe(0);
    expect(out).toMatch(/Does not go together.*Bar A2 says stiffer than the other bars, by \d/s);
    const without = await afterfire(['test-pieces', file, '--leave-out', 'A2']);
    expect(without.out).toContain('left out');
    expect(without.out).not.toContain('Does not go together');
    expect((await afterfire(['test-pieces', file, '--leave-out', 'A9'])).err).toMatch(
      /--leave-out: got "A9"; expected a sag bar of this file: A1, A2/,
    );
  });

  test('a bar that touched its support is a bound, and what to do next time is said', async () => {
    const file = await pieces(({ sagBars }) => {
      sagBars[1].end = 'touched the shelf';
      sagBars[1].sag_mm = undefined;
    });
    const { code, out, err } = await afterfire(['test-pieces', file]);
    expect(code, err).toBe(0);
    expect(out).toMatch(/A2, long hold +\d+ +at most \d/);
    expect(out).toMatch(/Bar A2 came down on the shelf.*Next time higher supports/);
  });

  test('weights that cannot be, and lengths that cannot be', async () => {
    const swapped = await pieces(({ absorption }) => {
      [absorption[0].dry_g, absorption[0].hanging_g] = [absorption[0].hanging_g, absorption[0].dry_g];
    });
    expect((await afterfire(['test-pieces', swapped])).out).toMatch(/Piece W1: .*are the two swapped\?/);
    const grown = await pieces(({ shrinkageBars }) => {
      shrinkageBars[0].dry_mm = 120;
    });
    const { code, err } = await afterfire(['test-pieces', grown]);
    expect(code).toBe(2);
    expect(err).toMatch(/shrinkageBars\[0\]/);
  });

  test('a bar of a firing that is not in the file is named with its line', async () => {
    const file = await pieces(({ sagBars }) => {
      sagBars[0].firing = 'the one before';
    });
    const { code, err } = await afterfire(['test-pieces', file]);
    expect(code).toBe(2);
    expect(err).toMatch(
      /line \d+, column \d+: test-pieces.sagBars\[0\].firing: got the one before; expected one of long hold/,
    );
  });
});

describe('protocol', () => {
  test.each(['a4', 'letter'])('sheets on %s, as PDF and as SVG', async (paper) => {
    const out = at.path(`print-${paper}`);
    for (const kind of ['sag-bar', 'scale-card']) {
      const { code, err } = await afterfire([
        'protocol',
        kind,
        '--paper',
        paper,
        '--svg',
        '--pdf',
        '--out',
        out,
      ]);
      expect(code, err).toBe(0);
    }
    const files = await readdir(out);
    expect(files.filter((f) => f.endsWith('.pdf')).sort()).toEqual([
      `sag-bar-${paper}.pdf`,
      `scale-card-small-${paper}.pdf`,
    ]);
    // PDF's user unit is 1/72 in (ISO 32000-1, 8.3.2.3); the card's sheet lies on its long side.
    const pdf = (await readFile(`${out}/scale-card-small-${paper}.pdf`)).toString('latin1');
    const [, width, height] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf) ?? [];
    const [wide, high] = paper === 'a4' ? [297, 210] : [279.4, 215.9];
    expect((Number(width) * 25.4) / 72).toBeCloseTo(wide, 1);
    expect((Number(height) * 25.4) / 72).toBeCloseTo(high, 1);
    expect(await readFile(`${out}/scale-card-small-${paper}.svg`, 'utf8')).toContain(`width="${wide}mm"`);
  });

  test('names and holds go onto the sheet', async () => {
    const out = at.path('print-own');
    const own = ['--clay-name', 'Moon white', '--hold', '1240:60', '--hold', '1270:5', '--svg', '--out', out];
    expect((await afterfire(['protocol', 'bars-at-holds', ...own])).code).toBe(0);
    const [first, ...more] = (await readdir(out)).sort();
    const all = (await Promise.all([first, ...more].map((f) => readFile(`${out}/${f}`, 'utf8')))).join();
    for (const word of ['Moon white', '1240', '1270']) expect(all).toContain(word);
  });

  test.each([
    [['sag-bar', '--span', '500'], /span_mm: got 500; expected 60 to/],
    [['witness-cones', '--cones', '9,77'], /cones\[1\]: got "77"/],
    [['bars-at-holds', '--hold', 'hot'], /--hold: got "hot"; expected peak in °C and minutes/],
    [['sag-bar', '--paper', 'a3'], /Allowed choices are a4, letter/],
    [['glaze-tile'], /Allowed choices are sag-bar/],
  ])('%j is refused', async (argv, message) => {
    const { code, err } = await afterfire(['protocol', ...argv, '--out', at.path('never')]);
    expect(code).toBe(2);
    expect(err).toMatch(message);
  });
});

describe('outline', () => {
  const SIZE = { pxPerMm: 4, width_mm: 310, height_mm: 190 };
  const CYLINDER = 'small-plain-cylinder.form.json';
  let photo: string;
  let truth_mm: number;
  beforeAll(async () => {
    const shot = flatShot(5, SIZE);
    photo = at.path('piece.jpg');
    truth_mm = 1000 * shot.truth.reduce((most, x, i) => (i % 2 === 1 ? Math.max(most, x) : most), 0);
    await writeFile(photo, jpeg.encode(shot.picture, 90).data);
  });

  test('as JSON: the height of the formula it was made from, and an outline an unloading file takes', async () => {
    const { code, out, err } = await afterfire(['outline', photo, '--from', '90', '--json']);
    expect(code, err).toBe(0);
    const { measures, unloading, card } = JSON.parse(out);
    expect(card).toBe('small');
    // Target of the outline: 0.5 mm (test/photo-pieces.ts holds the formula).
    expect(Math.abs(1000 * measures.height_m - truth_mm)).toBeLessThan(0.5);
    const file = JSON.parse(await readFile(at.path(UNLOADING), 'utf8'));
    file.pieces[0].measured = unloading;
    expect(parseUnloading(file).pieces[0].measured?.outline?.from_deg).toBe(90);
  });

  test('against a form in its setting: both drawn, the difference said', async () => {
    const out = at.path('seen');
    const argv = [
      '--against',
      at.path(CYLINDER),
      '--quick',
      '--triangles',
      '400',
      '--camera',
      '1200',
      '--svg',
      '--out',
      out,
    ];
    const said = await afterfire(['outline', photo, ...argv]);
    expect(said.code, said.err).toBe(0);
    expect(said.out).toMatch(/Against Small plain cylinder as it was foreseen: .* mm (outside|inside)/);
    expect(said.out).toMatch(/The lens stood 1200 mm/);
    const svg = await readFile(`${out}/piece-outline.svg`, 'utf8');
    for (const word of ['from the photograph', 'as foreseen']) expect(svg).toContain(word);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  });

  test('a photograph without a scale card is refused, and where to get one is said', async () => {
    const grey = { width: 300, height: 200, data: new Uint8Array(4 * 300 * 200).fill(90) };
    await writeFile(at.path('bare.jpg'), jpeg.encode(grey, 90).data);
    const { code, err, out } = await afterfire(['outline', at.path('bare.jpg')]);
    expect(code).toBe(2);
    expect(err).toMatch(
      /bare.jpg: got no scale card seen; expected all four dark discs.*afterfire protocol scale-card/s,
    );
    expect(out).toBe('');
  });

  test.each([
    [['none.jpg'], 3, /no such file/],
    [[CYLINDER], 2, /got "no picture"; expected a JPEG or PNG/],
    [['piece.jpg', '--camera', '3'], 2, /--camera: got "3"; expected a number from 200/],
    [['piece.jpg', '--discs', '120'], 2, /--discs: got "120"; expected two numbers/],
    [['piece.jpg', '--against', CYLINDER, '--setting', 'all'], 2, /--setting: .*one setting/],
  ])('%j', async ([file, ...argv], code, message) => {
    const against = argv[0] === '--against' ? ['--against', at.path(CYLINDER), ...argv.slice(2)] : argv;
    const said = await afterfire(['outline', at.path(file), ...against]);
    expect(said.code).toBe(code);
    expect(said.err).toMatch(message);
  });
});
