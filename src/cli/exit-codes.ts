import type { ErrorCode } from '../error.ts';

/** One table from the kind of trouble to the exit code. (The HTTP statuses stand in server/status.ts.) */
export const EXIT: Readonly<Record<ErrorCode, number>> = {
  broken: 1,
  'cannot-do': 1,
  'bad-input': 2,
  'not-found': 3,
  'too-large': 4,
  // 128 + SIGINT, as every shell reads it.
  cancelled: 130,
};

export const EXIT_MEANINGS = `Exit codes:
  0    done (a piece that sags or falls is an answer, not an error)
  ${EXIT.broken}    something in the program broke, or it cannot do what was asked
  ${EXIT['bad-input']}    bad input: the message names the field, the value and what would be right
  ${EXIT['not-found']}    a file is not there
  ${EXIT['too-large']}    a file is too large
  ${EXIT.cancelled}  stopped by Ctrl-C`;
