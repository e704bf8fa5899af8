import type { Fault } from '../../error.ts';

/**
 * Whether a form can descend from another: never from itself, and never from one that descends from it, or the family
 * would have no beginning.
 * @param parentOf what each form descends from now; null or nothing: from none
 * @param nameOf a form in words
 */
export const descentFault = (
  form: number,
  parent: number | null,
  parentOf: ReadonlyMap<number, number | null>,
  nameOf: (form: number) => string,
): Fault | undefined => {
  if (parent === null) return undefined;
  const no = (expected: string): Fault => ({ field: 'form.parent', value: nameOf(parent), expected });
  if (parent === form) return no(`another form: ${nameOf(form)} cannot descend from itself`);
  const seen = new Set<number>();
  for (let at: number | null = parent; at !== null && !seen.has(at); at = parentOf.get(at) ?? null) {
    if (at === form) return no(`a form that does not itself descend from ${nameOf(form)}`);
    seen.add(at);
  }
  return undefined;
};
