import { z } from 'zod';
import type { Alter } from './alteration.ts';
import { CutLip, cutLip } from './cut-lip.ts';
import { Facets, facets } from './facets.ts';
import { Lobes, lobes } from './lobes.ts';
import { Oval, oval } from './oval.ts';
import { Push, push } from './push.ts';

/** A new alteration is one file beside this one, its schema here and its row below. */
export const Alteration = z.discriminatedUnion('kind', [Lobes, Oval, Facets, Push, CutLip]);
export type Alteration = z.infer<typeof Alteration>;

type Table = { readonly [K in Alteration['kind']]: Alter<Extract<Alteration, { kind: K }>> };
const TABLE: Table = { lobes, oval, facets, push, 'cut lip': cutLip };

/** The functions of an alteration, whichever it is. */
export const alterOf = (alteration: Alteration): Alter<Alteration> =>
  TABLE[alteration.kind] as unknown as Alter<Alteration>;
