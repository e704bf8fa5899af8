import { findNodeAtLocation, type ParseError, parseTree } from 'jsonc-parser';
import { AfterfireError, badInput, badInputs, type Fault } from '../error.ts';

/** Where a character of a text stands, counted from 1 as an editor shows it. */
export const lineAndColumn = (text: string, offset: number): string => {
  const before = text.slice(0, offset).split('\n');
  return `line ${before.length}, column ${(before.at(-1) ?? '').length + 1}`;
};

/** Far deeper than any file of ours; a parser that calls itself would run out of stack long after this. */
const DEEPEST = 200;

const isTooDeep = (text: string): boolean => {
  let depth = 0;
  let quoted = false;
  for (let i = 0; i < text.length; i++) {
    const c = text[i];
    if (quoted && c === '\\') i++;
    else if (c === '"') quoted = !quoted;
    else if (!quoted && (c === '[' || c === '{') && ++depth > DEEPEST) return true;
    else if (!quoted && (c === ']' || c === '}')) depth--;
  }
  return false;
};

const whatIsWrong = (text: string): { offset: number; token: string; expected: string } => {
  const errors: ParseError[] = [];
  parseTree(text, errors, { disallowComments: true, allowTrailingComma: false });
  const first = errors[0] ?? { offset: text.length, length: 0 };
  const numberWord = /^-?(NaN|Infinity)/.exec(text.slice(first.offset, first.offset + 9))?.[0];
  const token = numberWord ?? text.slice(first.offset, first.offset + Math.max(first.length, 1));
  const expected = numberWord ? 'an ordinary, finite number' : 'valid JSON';
  return { offset: first.offset, token: token === '' ? 'the end of the file' : token, expected };
};

/**
 * Text → value. Throws `bad-input` naming the file, the line and the column of the first thing that is not JSON.
 * The strict parser decides; the forgiving one is asked only where it went wrong, since V8 often does not say.
 */
export const parseJson = (name: string, text: string): unknown => {
  if (isTooDeep(text))
    throw badInput(name, 'brackets without end', `at most ${DEEPEST} brackets inside one another`);
  try {
    return JSON.parse(text);
  } catch {
    const { offset, token, expected } = whatIsWrong(text);
    throw badInput(`${name}, ${lineAndColumn(text, offset)}`, token, expected);
  }
};

const pathOf = (field: string): (string | number)[] =>
  [...field.matchAll(/\[(\d+)\]|([^.[\]]+)/g)].map(([, index, key]) =>
    index === undefined ? (key ?? '') : Number(index),
  );

const lineOf = (text: string, fault: Fault): string | undefined => {
  const tree = parseTree(text);
  if (tree === undefined) return undefined;
  // A parser of ours puts the noun first (`form.wall[2]`); the file itself does not.
  for (const path of [pathOf(fault.field), pathOf(fault.field).slice(1)]) {
    const node = path.length > 0 ? findNodeAtLocation(tree, path) : undefined;
    if (node !== undefined) return lineAndColumn(text, node.offset);
  }
  return undefined;
};

/** Runs a parser over a file's value; its complaints then also say which file and, where it can be found, which line. */
export const parseFile = <T>(name: string, text: string, parse: (value: unknown) => T): T => {
  const value = parseJson(name, text);
  try {
    return parse(value);
  } catch (error) {
    if (!(error instanceof AfterfireError) || error.code !== 'bad-input') throw error;
    throw badInputs(
      error.faults.map((fault) => {
        const where = [name, lineOf(text, fault)].filter((part) => part !== undefined).join(', ');
        return { ...fault, field: `${where}: ${fault.field}` };
      }),
    );
  }
};
