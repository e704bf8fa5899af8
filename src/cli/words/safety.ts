import { KILN_CAUTIONS } from '../../making/kiln/cautions.ts';

/** The usual cautions, where the work meets them. */
export const SAFETY = `Cautions:\n${KILN_CAUTIONS.map((caution) => `  - ${caution}\n`).join('')}`;

/** Said after each predicted firing. */
export const SAFETY_IN_BRIEF =
  'A prediction, not a promise: set a first piece on a saucer of fired clay, and fire by the rules of your kiln and clay.';
