import { expect, test } from 'vitest';
import type { Film } from '../worker/film.ts';
import { heard } from './heard.ts';
import {
  type Attitude,
  firedIn,
  type Page,
  type Studio,
  sameWork,
  shownOf,
  startPage,
  type Work,
} from './page.ts';

const work = (attitude: Attitude): Work =>
  ({
    form,
    clay,
    schedule,
    setting: { attitude, turn_deg: 0, shelf: 'slides', lean_deg: 0, props: [] },
  }) as unknown as Work;
const [form, clay, schedule] = [{}, {}, {}];
const page: Page = startPage({} as Studio, work('upright'), undefined);
const film = (name: string) => ({ name }) as unknown as Film;
const done = (name: string) => ({ kind: 'done', id: 1, film: film(name), took_ms: 1 }) as const;
const failed = {
  kind: 'failed',
  id: 1,
  code: 'bad-input',
  message: 'm',
  faults: [{ field: 'setting.attitude', value: 'upright', expected: 'one it stands in' }],
} as const;

test('a full firing is shown before a quick look, until the work is another', () => {
  const both = heard(
    heard(page, 'quick', done('quick'), work('upright')),
    'full',
    done('full'),
    work('upright'),
  );
  expect(shownOf(both)?.film).toEqual(film('full'));
  const other = {
    ...both,
    history: { ...both.history, present: { ...work('upright'), form: { other: 1 } as never } },
  };
  expect(shownOf(other)?.film).toEqual(film('quick'));
});

test('a setting chosen again is the same work', () => {
  expect(sameWork(work('upright'), work('upright'))).toBe(true);
  expect(sameWork(work('upright'), work('rim down'))).toBe(false);
});

test('what cannot be fired loses its picture and says why, only where it is shown', () => {
  const seen = heard(page, 'quick', done('quick'), work('rim down'));
  const aside = heard(seen, 'quick', failed, work('rim down'));
  expect(firedIn(aside, 'rim down')).toBeUndefined();
  expect(aside.refused['rim down']?.why).toMatch(/The attitude: upright; right would be one it stands in/);
  expect(aside.trouble).toBeUndefined();
  const shown = heard(page, 'quick', failed, work('upright'));
  expect(shown.trouble).toMatch(/right would be/);
  expect(heard(shown, 'quick', done('again'), work('upright'))).toMatchObject({
    trouble: undefined,
    refused: {},
  });
});

test('of two quick looks at the same work the finer stays, in whatever order they come', () => {
  const look = (triangles: number) => ({
    kind: 'done' as const,
    id: 1,
    film: { triangles: new Uint32Array(3 * triangles) } as unknown as Film,
    took_ms: 1,
  });
  const shownAfter = (...looks: readonly number[]) =>
    looks.reduce((p, n) => heard(p, 'quick', look(n), work('upright')), page).quick.upright!.film.triangles
      .length / 3;
  expect(shownAfter(800, 2400)).toBe(2400);
  expect(shownAfter(2400, 800)).toBe(2400);
  const moved: Work = { ...work('upright'), form: { other: 1 } as never };
  const after = heard(heard(page, 'quick', look(2400), work('upright')), 'quick', look(800), moved);
  expect(after.quick.upright?.of).toBe(moved);
});

test('a remark that is a sentence of its own joins on without its full stop', () => {
  const told = {
    ...failed,
    faults: [{ field: 'f', value: '900 °C. It stays chalk.', expected: '1200 °C.' }],
  };
  expect(heard(page, 'quick', told, work('upright')).trouble).toBe(
    'It cannot be fired so. f: 900 °C. It stays chalk; right would be 1200 °C.',
  );
});

test('progress moves the bar of a full run only, and stopping takes the bar away', () => {
  const running: Page = { ...page, running: { of: work('upright'), what: 'fire', fraction: 0, note: '' } };
  const half = { kind: 'progress', id: 1, fraction: 0.5, note: 'softening' } as const;
  expect(heard(running, 'full', half, work('upright')).running?.fraction).toBe(0.5);
  expect(heard(running, 'quick', half, work('upright')).running?.fraction).toBe(0);
  expect(heard(running, 'full', { kind: 'stopped', id: 1 }, work('upright')).running).toBeUndefined();
});

test('a twin that cannot be made takes nothing away: the verdict stays, the reason stands where the twin would', () => {
  const running = { of: work('upright'), what: 'compare', fraction: 0.1, note: '' } as const;
  const told = {
    kind: 'failed',
    id: 1,
    code: 'bad-input',
    message: 'm',
    faults: [{ field: 'form.line', value: 'a', expected: 'b' }],
  } as const;
  const after = heard({ ...page, running }, 'full', told, work('upright'));
  expect(after.trouble).toBeUndefined();
  expect(after.running).toBeUndefined();
  expect(after.beside?.compared).toBe('Its plain twin cannot be made. form.line: a; right would be b.');
});
