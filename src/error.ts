/**
 * The one kind of failure that comes from outside (a file, a flag, a person's hand).
 * Trouble of the material ("the rim touched the shelf") is never thrown: it is data in the result.
 */
export type ErrorCode = 'bad-input' | 'too-large' | 'not-found' | 'cannot-do' | 'cancelled' | 'broken';

export interface Fault {
  /** Where: a path like `form.wall[2].thickness_mm` or a flag like `--setting`. */
  readonly field: string;
  /** What was given, shortened for reading. */
  readonly value: string;
  /** What would be right. */
  readonly expected: string;
  /** There is no field of this name at all; `expected` says so itself. */
  readonly unknown?: true;
}

/** A full stop, but not the dots of a value cut short. */
const withoutStop = (text: string): string => text.replace(/(?<!\.)\.$/, '');

/** One fault as a clause without a full stop; `lead` comes before what would be right. */
export const faultText = ({ field, value, expected, unknown }: Fault, lead = 'expected'): string =>
  `${field}: got ${withoutStop(value)}; ${unknown ? '' : `${lead} `}${withoutStop(expected)}`;

export class AfterfireError extends Error {
  constructor(
    readonly code: ErrorCode,
    message: string,
    readonly faults: readonly Fault[] = [],
  ) {
    super(message);
    this.name = 'AfterfireError';
  }
}

const shown = (value: unknown): string => {
  if (value === undefined) return 'nothing';
  const text = typeof value === 'number' ? String(value) : (JSON.stringify(value) ?? String(value));
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
};

/** One bad field: names the field, the value and what would be right. */
export const badInput = (field: string, value: unknown, expected: string): AfterfireError =>
  badInputs([{ field, value: shown(value), expected }]);

/** Several bad fields in one error, so that a person mends them in one go. */
export const badInputs = (faults: readonly Fault[]): AfterfireError =>
  new AfterfireError('bad-input', faults.map((f) => faultText(f)).join('\n'), faults);

export { shown as shownValue };
