import type { Form } from '../form/form.ts';

/** Ridges and hollows from here on are called flutes: many and shallow. */
const FLUTES = 16;

type Alteration = Form['alterations'][number];

/** What corrugates a wall, in the potter's word; undefined where it does not. */
const corrugation = (a: Alteration): 'lobes' | 'flutes' | 'facets' | undefined => {
  if (a.kind === 'lobes' && a.depth.some((d) => d.depth_mm !== 0))
    return a.count >= FLUTES ? 'flutes' : 'lobes';
  if (a.kind === 'facets' && a.flatness > 0) return 'facets';
  return undefined;
};

export interface PlainTwin {
  readonly form: Form;
  /** What was taken away, e.g. `lobes`, `flutes and facets`. */
  readonly without: string;
}

/**
 * The same piece without its lobes, flutes and facets, the rest as it was: same line, same wall, same cuts. Its clay
 * differs by what the ridges add or the flats take; that is told, not hidden in another wall.
 * @returns undefined where there is nothing to take away
 */
export const plainTwin = (form: Form): PlainTwin | undefined => {
  const gone = [...new Set(form.alterations.flatMap((a) => corrugation(a) ?? []))];
  if (gone.length === 0) return undefined;
  return {
    form: {
      ...form,
      name: `${form.name}, plain`.slice(0, 80),
      alterations: form.alterations.filter((a) => !corrugation(a)),
    },
    without: gone.join(' and '),
  };
};
