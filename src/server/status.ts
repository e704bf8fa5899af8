import type { ErrorCode } from '../error.ts';

/** One table from the kind of trouble to the HTTP status. (The exit codes stand in cli/exit-codes.ts.) */
export const STATUS = {
  'bad-input': 400,
  'not-found': 404,
  'too-large': 413,
  'cannot-do': 422,
  cancelled: 503,
  broken: 500,
} as const satisfies Readonly<Record<ErrorCode, number>>;
