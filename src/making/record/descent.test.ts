import { expect, test } from 'vitest';
import { descentFault } from './descent.ts';

/** A line of descent is a forest (a graph without a cycle, each member with at most one parent): by definition, no source needed. */

const nameOf = (form: number): string => `form ${form}`;
const LINE = new Map<number, number | null>([
  [1, null],
  [2, 1],
  [3, 2],
  [4, 1],
]);

test('none, an unrelated form, a sister and a niece are possible parents', () => {
  for (const [form, parent] of [
    [1, null],
    [4, 2],
    [4, 3],
    [2, 4],
  ] as const)
    expect(descentFault(form, parent, LINE, nameOf), `${form} from ${parent}`).toBeUndefined();
});

test('a form itself, its child and its grandchild are not', () => {
  expect(descentFault(1, 1, LINE, nameOf)?.expected).toMatch(/form 1 cannot descend from itself/);
  for (const parent of [2, 3, 4])
    expect(descentFault(1, parent, LINE, nameOf)).toEqual({
      field: 'form.parent',
      value: `form ${parent}`,
      expected: 'a form that does not itself descend from form 1',
    });
});

test('every order of saying so keeps a forest: after any accepted choice each form still leads to a beginning', () => {
  const parents = new Map<number, number | null>([1, 2, 3, 4].map((form) => [form, null]));
  let refused = 0;
  for (let i = 0; i < 400; i++) {
    const [form, parent] = [1 + ((i * 7) % 4), 1 + ((i * i + 3 * i) % 4)];
    if (descentFault(form, parent, parents, nameOf)) refused++;
    else parents.set(form, parent);
    for (const start of parents.keys()) {
      let steps = 0;
      for (let at: number | null = start; at !== null; at = parents.get(at) ?? null)
        expect(++steps).toBeLessThanOrEqual(4);
    }
  }
  expect(refused).toBeGreaterThan(0);
});
