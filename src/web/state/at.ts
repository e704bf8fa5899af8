/** The way to a value inside a record, e.g. ['form', 'line', 2, 'radius_mm']. */
export type Path = readonly (string | number)[];

type Branch = { readonly [key: string]: unknown } | readonly unknown[];

export const valueAt = (root: unknown, path: Path): unknown =>
  path.reduce<unknown>((at, step) => (at as Record<string | number, unknown> | undefined)?.[step], root);

/** A copy with one value changed; `undefined` takes the field away, or the item out of its list. */
export const withAt = <T>(root: T, path: Path, value: unknown): T => {
  const [step, ...rest] = path;
  if (step === undefined) return value as T;
  const next =
    rest.length === 0 ? value : withAt((root as Record<string | number, unknown>)[step], rest, value);
  if (Array.isArray(root))
    return (next === undefined ? root.filter((_, i) => i !== step) : root.with(Number(step), next)) as T;
  const copy = { ...(root as Branch as Record<string, unknown>) };
  if (next === undefined) delete copy[step];
  else copy[step] = next;
  return copy as T;
};

/** As messages name it: form.line[2].radius_mm. */
export const fieldOf = (path: Path): string =>
  path.reduce<string>(
    (said, step) => (typeof step === 'number' ? `${said}[${step}]` : said === '' ? step : `${said}.${step}`),
    '',
  );
