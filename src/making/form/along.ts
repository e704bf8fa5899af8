import { z } from 'zod';

/** A place on the outer line as a share of its length: the one way this file says "where" along a wall. */
export const along = (): z.ZodNumber =>
  z.number().min(0).max(1).describe('Where along the outer line: 0 at the foot edge, 1 at the lip');
