import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { castOf, fateOf, kitchenOf, turnedOver } from './random-firings.ts';

/**
 * A dozen of the pieces of docs/random-firings.md, as a watch over the whole way from form to film. The study with 300 is run
 * by hand (bench/random-firings.ts); what fails there is told there.
 */
const example = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../examples/${name}`, import.meta.url), 'utf8'));
const kitchen = kitchenOf(example('studio-porcelain.clay.json'), example('cone-10-slow.schedule.json'));

test.each([8, 9, 10, 16, 17, 18, 22, 23, 24, 26, 29, 33])(
  'piece %d from the dice: numbers, no triangle turned over, nothing deeper than 0.1 mm, volume to 0.5 %, a verdict',
  (seed) => {
    const fate = fateOf(seed, kitchen);
    expect(fate.kind).not.toBe('refused');
    expect(fate.faults).toEqual([]);
  },
);

test('the dice always throw the same piece for a number', () => {
  expect(castOf(7)).toEqual(castOf(7));
  expect(castOf(7)).not.toEqual(castOf(8));
});

test('a triangle that is turned over is seen', () => {
  // A flat fan of six about a node; the node pushed far past an edge turns over the triangles on that side.
  const ring = Array.from({ length: 6 }, (_, k) => [
    Math.cos((k * Math.PI) / 3),
    Math.sin((k * Math.PI) / 3),
    0,
  ]);
  const before = Float64Array.from([0, 0, 0, ...ring.flat()]);
  const triangles = Uint32Array.from(ring.flatMap((_, k) => [0, 1 + k, 1 + ((k + 1) % 6)]));
  expect(turnedOver(before, before, triangles)).toBe(0);
  const after = before.slice();
  after.set([3, 0, 0]);
  expect(turnedOver(before, after, triangles)).toBeGreaterThan(0);
});
