import { z } from 'zod';
import { badInputs, type Fault, shownValue } from './error.ts';

type Node = { [key: string]: unknown };

/** Every field a file may have at `path`, whatever branch of a union it took. */
const fieldsAt = (schema: z.ZodType, path: readonly PropertyKey[]): string[] => {
  const root = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as Node;
  const branches = (node: Node): Node[] => {
    const ref = typeof node.$ref === 'string' ? node.$ref.split('/').pop() : undefined;
    const here = ref === undefined ? node : (((root.$defs as Node)?.[ref] as Node) ?? node);
    const inner = [...((here.oneOf as Node[]) ?? []), ...((here.anyOf as Node[]) ?? [])];
    return [here, ...inner.flatMap(branches)];
  };
  let nodes = branches(root);
  for (const step of path) {
    nodes = nodes.flatMap((node) => {
      const next = typeof step === 'number' ? node.items : (node.properties as Node)?.[String(step)];
      return next === undefined ? [] : branches(next as Node);
    });
  }
  return [...new Set(nodes.flatMap((node) => Object.keys((node.properties as Node) ?? {})))];
};

/** `height_mm` without its unit, in small letters: `height`. */
const stemOf = (field: string): string => field.toLowerCase().replace(/_[^_]*$/, '');

/** Fields somebody may have meant who left the unit out, took another, or wrote it in other letters. */
const near = (key: string, known: readonly string[]): string[] => {
  const plain = key.toLowerCase();
  return known.filter(
    (k) =>
      k.toLowerCase() === plain ||
      k.toLowerCase().startsWith(`${plain}_`) ||
      (key.includes('_') && k.includes('_') && stemOf(k) === stemOf(key)),
  );
};

const unknownField = (key: string, known: readonly string[]): string => {
  const meant = near(key, known);
  return meant.length > 0
    ? `no field of this name; did you mean ${meant.join(' or ')}?`
    : `no field of this name; the fields here are ${known.join(', ')}`;
};

const valueAt = (json: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>((at, step) => (at as Node | undefined)?.[step as string], json);

const named = (root: string, path: readonly PropertyKey[]): string =>
  path.reduce<string>(
    (at, step) => (typeof step === 'number' ? `${at}[${step}]` : `${at}.${String(step)}`),
    root,
  );

const KINDS: Readonly<Record<string, string>> = {
  string: 'text',
  array: 'a list',
  object: 'a group of fields',
};

/** `"a", "b" or "c"` */
const either = (values: readonly unknown[]): string => {
  const said = values.map((v) => JSON.stringify(v));
  return said.length < 2 ? said.join() : `${said.slice(0, -1).join(', ')} or ${said.at(-1)}`;
};

/** What would have been right, in words rather than in the reader's own terms. */
const inWords = (issue: z.core.$ZodIssue): string => {
  switch (issue.code) {
    case 'invalid_type':
      return KINDS[issue.expected] ?? `a ${issue.expected}`;
    case 'invalid_value':
      return either(issue.values);
    case 'invalid_union': {
      const kinds = [...issue.message.matchAll(/'([^']*)'/g)].map(([, kind]) => kind);
      return kinds.length > 0 ? either(kinds) : 'a value of another kind';
    }
    case 'too_small': {
      if (issue.origin === 'number')
        return `a number ${issue.inclusive ? 'of at least' : 'above'} ${issue.minimum}`;
      return issue.origin === 'string' ? 'some text' : `at least ${issue.minimum} of them`;
    }
    case 'too_big': {
      if (issue.origin === 'number')
        return `a number ${issue.inclusive ? 'of at most' : 'below'} ${issue.maximum}`;
      return `at most ${issue.maximum} ${issue.origin === 'string' ? 'letters' : 'of them'}`;
    }
    default:
      return issue.message.replace(/^Invalid input: expected /, '');
  }
};

/** Where every shape asks another word in the same field, that field tells them apart: all the words together. */
const sharedChoice = (branches: readonly z.core.$ZodIssue[][]): z.core.$ZodIssue | undefined => {
  const choices = branches.flatMap((issues) => issues.find((i) => i.code === 'invalid_value') ?? []);
  const [first] = choices;
  if (choices.length < branches.length || first.path.length === 0) return undefined;
  if (choices.some((c) => c.path.join() !== first.path.join())) return undefined;
  return { ...first, values: [...new Set(choices.flatMap((c) => c.values))] };
};

/** A field (a `kind`) that has the wrong word for every shape the value may have: then only that is worth telling. */
const wrongTag = (branches: readonly z.core.$ZodIssue[][]): z.core.$ZodIssue | undefined => {
  const wrong = (issues: readonly z.core.$ZodIssue[]): z.core.$ZodIssueInvalidValue[] =>
    issues.flatMap((i) => (i.code === 'invalid_value' && i.path.length === 1 ? [i] : []));
  const tag = wrong(branches[0])[0];
  const all = branches.map((issues) => wrong(issues).find((i) => i.path[0] === tag?.path[0]));
  if (!tag || all.some((i) => !i)) return undefined;
  return { ...tag, values: [...new Set(all.flatMap((i) => i?.values ?? []))] };
};

/** Of the shapes a value may have, the one it comes closest to: the fewest fields wrong, wrongly named or missing. */
const closest = (branches: readonly z.core.$ZodIssue[][]): z.core.$ZodIssue[] => {
  const unknownKind = sharedChoice(branches);
  if (unknownKind) return [unknownKind];
  // Another kind of value altogether is further off than one wrong field inside.
  const weight = (i: z.core.$ZodIssue): number =>
    i.code === 'invalid_type' && i.path.length === 0 ? 1.5 : 1;
  const wrong = (issues: z.core.$ZodIssue[]): number =>
    issues.reduce((sum, i) => sum + (i.code === 'unrecognized_keys' ? i.keys.length : weight(i)), 0);
  return branches.reduce((best, branch) => (wrong(branch) < wrong(best) ? branch : best));
};

const faultsOf = (issue: z.core.$ZodIssue, schema: z.ZodType, json: unknown, root: string): Fault[] => {
  if (issue.code === 'unrecognized_keys') {
    const known = fieldsAt(schema, issue.path);
    return issue.keys.map((key) => ({
      field: named(root, [...issue.path, key]),
      value: shownValue(valueAt(json, [...issue.path, key])),
      expected: unknownField(key, known),
      unknown: true as const,
    }));
  }
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    const path = issue.path;
    const tag = wrongTag(issue.errors);
    return (tag ? [tag] : closest(issue.errors)).flatMap((inner) =>
      faultsOf({ ...inner, path: [...path, ...inner.path] }, schema, json, root),
    );
  }
  return [
    {
      field: named(root, issue.path),
      value: shownValue(valueAt(json, issue.path)),
      expected: inWords(issue),
    },
  ];
};

/**
 * Read outside data by a schema.
 * @param root what the file is called in messages, e.g. `clay`
 * @throws AfterfireError `bad-input`, one fault per bad field, each naming the field, the value and what would be right
 */
export const parseShape = <S extends z.ZodType>(schema: S, json: unknown, root: string): z.output<S> => {
  const read = schema.safeParse(json);
  if (read.success) return read.data;
  throw badInputs(read.error.issues.flatMap((issue) => faultsOf(issue, schema, json, root)));
};
