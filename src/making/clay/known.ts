import { z } from 'zod';

/**
 * A value and how we know it. `measured` must say when and on what, `published` must name its source,
 * `guess` may say why. Shown wherever the value is used.
 */
export const known = <Shape extends z.ZodRawShape>(shape: Shape) =>
  z.discriminatedUnion('how', [
    z.strictObject({
      ...shape,
      how: z.literal('measured'),
      note: z.string().min(1).describe('When, and on what'),
      source: z.string().min(1).optional(),
    }),
    z.strictObject({
      ...shape,
      how: z.literal('published'),
      source: z.string().min(1).describe('Where it is printed'),
      note: z.string().min(1).optional(),
    }),
    z.strictObject({
      ...shape,
      how: z.literal('guess'),
      note: z.string().min(1).optional(),
      source: z.string().min(1).optional(),
    }),
  ]);

export interface Provenance {
  readonly how: 'measured' | 'published' | 'guess';
  readonly source?: string | undefined;
  readonly note?: string | undefined;
}

/** e.g. `a guess: until a test bar is fired`. */
export const provenanceText = ({ how, source, note }: Provenance): string => {
  const head = how === 'guess' ? 'a guess' : how;
  const rest = [source, note].filter((t) => t !== undefined).join('; ');
  return rest === '' ? head : `${head}: ${rest}`;
};
