import { type Complaint, type Files, type Import, importsOf, isTest, sources } from './repository.ts';

const allImports = (files: Files): Import[] =>
  sources(files).flatMap((name) => importsOf(name, files.get(name) ?? ''));

/** Which halls each hall may look into; itself always. `ground` is src/units.ts and src/error.ts. */
const MAY_SEE: Readonly<Record<string, readonly string[]>> = {
  ground: [],
  kernel: ['ground'],
  making: ['ground', 'kernel'],
  trade: ['ground', 'kernel', 'making'],
  store: ['ground', 'kernel', 'making', 'trade'],
  server: ['ground', 'kernel', 'making', 'trade', 'store'],
  cli: ['ground', 'kernel', 'making', 'trade', 'store', 'server'],
  web: ['ground', 'kernel', 'making', 'trade'],
};

const hallOf = (name: string): string => /^src\/([^/]+)\//.exec(name)?.[1] ?? 'ground';

/** No arrow up a hall: kernel ← making ← trade ← store ← server ← cli; web stands on the pure halls. */
export const arrowsUp = (files: Files): Complaint[] =>
  allImports(files)
    .filter(({ to }) => to.startsWith('src/'))
    .filter(({ from, to }) => {
      const hall = hallOf(from);
      return hallOf(to) !== hall && !(MAY_SEE[hall] ?? []).includes(hallOf(to));
    })
    .map(({ from, to }) => `${from} imports ${to}: ${hallOf(from)} may not see ${hallOf(to)}`);

/** The life of a piece, in the order of the work. */
const STAGES = ['form', 'clay', 'drying', 'kiln', 'firing', 'light'];
/** The few files that tell the whole story and so may see several stages, functions and all. */
const SEES_SEVERAL = /^src\/making\/(make\.ts|firing\/(fire|aim)\.ts)$/;

const stageOf = (name: string): number => STAGES.indexOf(/^src\/making\/([^/]+)\//.exec(name)?.[1] ?? '');

/** Inside making a stage may use the values of an earlier stage, never anything of a later one. */
export const stagesOutOfOrder = (files: Files): Complaint[] =>
  allImports(files)
    .filter(({ from, to }) => stageOf(from) >= 0 && to.startsWith('src/making/') && !SEES_SEVERAL.test(from))
    .filter(({ from, to }) => stageOf(to) < 0 || stageOf(to) > stageOf(from))
    .map(({ from, to }) => `${from} imports ${to}: a stage may not see a later one`);

/** Only the view knows how pictures in three dimensions are made. */
export const threeOutsideView = (files: Files): Complaint[] =>
  allImports(files)
    .filter(({ from, to }) => /^three($|\/)/.test(to) && !from.startsWith('src/web/view/'))
    .map(({ from }) => `${from} imports three: only src/web/view may`);

/** A file that imports itself in the end; types count too, since a reader follows them all the same. */
export const cycles = (files: Files): Complaint[] => {
  const arrows = new Map<string, string[]>();
  for (const { from, to } of allImports(files)) arrows.set(from, [...(arrows.get(from) ?? []), to]);
  const found: Complaint[] = [];
  const done = new Set<string>();
  const visit = (name: string, path: readonly string[]): void => {
    if (path.includes(name)) {
      found.push(`cycle: ${[...path.slice(path.indexOf(name)), name].join(' → ')}`);
      return;
    }
    if (done.has(name)) return;
    for (const next of arrows.get(name) ?? []) visit(next, [...path, name]);
    done.add(name);
  };
  for (const name of arrows.keys()) visit(name, []);
  return found;
};

const pageScripts = (files: Files): string[] =>
  [...files]
    .filter(([name]) => /^src\/web\/[^/]+\.html$/.test(name))
    .flatMap(([name, text]) =>
      [...text.matchAll(/<script[^>]*\ssrc="([^"]+)"/g)].map(
        ([, src]) => importsOf(name, `import './${(src ?? '').replace(/^\.?\//, '')}'`)[0]?.to ?? '',
      ),
    );

/** A source that no door, page, bench or script leads to; a test alone keeps nothing alive. */
export const deadFiles = (files: Files): Complaint[] => {
  const entries = [...files.keys()].filter((name) => /^(bench|scripts)\/.*\.ts$/.test(name) && !isTest(name));
  const queue = [
    'src/cli/main.ts',
    'src/cli/dev.ts',
    'src/web/offline.ts',
    ...pageScripts(files),
    ...entries,
  ];
  const alive = new Set<string>();
  for (let name = queue.pop(); name !== undefined; name = queue.pop()) {
    if (alive.has(name) || !files.has(name)) continue;
    alive.add(name);
    queue.push(...importsOf(name, files.get(name) ?? '').map(({ to }) => to));
  }
  return sources(files)
    .filter((name) => !alive.has(name) && !name.endsWith('.d.ts'))
    .map((name) => `${name} is reached from no entry: delete it or use it`);
};
