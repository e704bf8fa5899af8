import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

/** Path from the root (always with /) → text. */
export type Files = ReadonlyMap<string, string>;

/** What is wrong and where; a rule with nothing to say gives an empty list. */
export type Complaint = string;

const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const NOT_OURS = new Set(['node_modules', 'dist', '.git', 'coverage', 'out']);
const TEXT = /\.(ts|mjs|js|json|css|html|md|svg)$|^\.ci\/run$|^\.npmrc$/;

const walk = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    if (NOT_OURS.has(entry.name)) return [];
    const path = join(folder, entry.name);
    return entry.isDirectory() ? walk(path) : [path];
  });

/** Every text file of the repository. */
export const readRepository = (): Files =>
  new Map(
    walk(ROOT)
      .map((path) => [relative(ROOT, path).split(sep).join('/'), path] as const)
      .filter(([name]) => TEXT.test(name))
      .map(([name, path]) => [name, readFileSync(path, 'utf8')]),
  );

export interface Import {
  readonly from: string;
  /** A file of ours (path from the root) or a package name. */
  readonly to: string;
  readonly typeOnly: boolean;
}

const STATEMENT =
  /(?:^|\n)\s*(import|export)\s+(type\s+)?(?:[\w*\s{},$]*?\sfrom\s+)?'([^']+)'|\bimport\(\s*'([^']+)'\s*\)|new URL\(\s*'([^']+)'\s*,\s*import\.meta\.url/g;

/** What one file imports: statements, `import()`, and the `new URL(…, import.meta.url)` of a worker. */
export const importsOf = (from: string, text: string): Import[] => {
  const found: Import[] = [];
  for (const match of text.matchAll(STATEMENT)) {
    const target = match[3] ?? match[4] ?? match[5];
    if (target === undefined) continue;
    const name = target.replace(/\?.*$/, '');
    const ours = name.startsWith('.') || match[5] !== undefined;
    const to = ours ? posix.join(posix.dirname(from), name) : name;
    found.push({ from, to, typeOnly: match[2] !== undefined });
  }
  return found;
};

export const isTest = (name: string): boolean => /\.test\.ts$/.test(name) || name.startsWith('test/');

/** The sources the rules on imports are about: src without its tests. */
export const sources = (files: Files): string[] =>
  [...files.keys()].filter((name) => name.startsWith('src/') && name.endsWith('.ts') && !isTest(name));
