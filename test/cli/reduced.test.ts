import { rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { afterfire } from './terminal.ts';

const path = join(tmpdir(), `afterfire-bar-${process.pid}.json`);
afterAll(() => rm(path, { force: true }));

const SPAN_m = 0.15;
const WIDTH_m = 0.025;
const WALL_m = 0.005;
const [ALONG, ACROSS] = [40, 6];
const node = (i: number, j: number): number => i * (ACROSS + 1) + j;
const grid = (visit: (i: number, j: number) => void, m: number, n: number): void => {
  for (let i = 0; i < m; i++) for (let j = 0; j < n; j++) visit(i, j);
};

/** A flat bar whose two end lines cannot sink, in the air, in SI. */
const bar = (): object => {
  const positions_m: number[][] = [];
  const triangles: number[][] = [];
  grid(
    (i, j) => positions_m.push([(SPAN_m * i) / ALONG, WIDTH_m * (j / ACROSS - 0.5), 0.1]),
    ALONG + 1,
    ACROSS + 1,
  );
  grid(
    (i, j) => {
      const [a, b, c, d] = [node(i, j), node(i + 1, j), node(i + 1, j + 1), node(i, j + 1)];
      triangles.push(
        ...((i + j) % 2
          ? [
              [a, b, c],
              [a, c, d],
            ]
          : [
              [a, b, d],
              [b, c, d],
            ]),
      );
    },
    ALONG,
    ACROSS,
  );
  const ends = [0, ALONG].flatMap((i) => Array.from({ length: ACROSS + 1 }, (_, j) => node(i, j)));
  return {
    afterfire: 'reduced/1',
    what: 'a bar on two supports',
    positions_m,
    triangles,
    wall_m: WALL_m,
    density_kg_m3: 2400,
    viscosity_Pa_s: 5e9,
    gravity_m_s2: 9.81,
    held: [{ nodes: ends, velocity: ['z'] }],
    times_s: [50, 100],
  };
};

test('a bar on two supports sags at 5ρgL⁴/(96 η h²): simple beam (any handbook) with E → 3η', async () => {
  await writeFile(path, JSON.stringify(bar()));
  const { code, out, err } = await afterfire(['reduced', path, '--json']);
  expect(code, err).toBe(0);
  const { ended, times_s, positions_m } = JSON.parse(out);
  expect(ended.kind).toBe('time is up');
  expect(times_s).toEqual([50, 100]);
  const middle = 3 * node(ALONG / 2, ACROSS / 2) + 2;
  const exact_m = ((5 * 2400 * 9.81 * SPAN_m ** 4) / (96 * 5e9 * WALL_m ** 2)) * 100;
  // Measured 0.987: a bar a sixth as wide as long is a beam to about one per cent.
  expect(Math.abs((0.1 - positions_m[1][middle]) / exact_m - 1)).toBeLessThan(0.02);
});

test('the table is in millimetres', async () => {
  await writeFile(path, JSON.stringify(bar()));
  const { code, out } = await afterfire(['reduced', path]);
  expect(code).toBe(0);
  expect(out).toContain('a bar on two supports');
  expect(out).toMatch(/100\s+-?0\.\d+\s+1(49|50)\.\d+\s+-12\.\d+\s+12\.\d+\s+99\.\d+\s+100\.000/);
});

test('a triangle that names a node which is not there', async () => {
  await writeFile(path, JSON.stringify({ ...bar(), triangles: [[0, 1, 9999]] }));
  const { code, err } = await afterfire(['reduced', path]);
  expect(code).toBe(2);
  expect(err).toMatch(/triangles\[0\].*9999.*expected a node number below 287/s);
});
