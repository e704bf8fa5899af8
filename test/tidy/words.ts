import type { Complaint, Files } from './repository.ts';

/** A word we do not write, and what to do instead. */
const BANNED: readonly (readonly [RegExp, string])[] = [
  [/\b(TODO|FIXME|XXX|HACK)\b/, 'do it, or file it where work is planned'],
  [/lorem ipsum|\bplaceholder (text|value|data|file)\b/i, 'the real words'],
  [/(?<!node:)\butils?\b(?!:)/i, 'the name of what it does'],
  [/\btranscripts?\b/i, 'nothing: the work speaks for itself'],
  [/\bsub-?agents?\b/i, 'nothing: who did the work is not part of it'],
  [/\bbisqu(e|it) ware\b/i, '"fired" or "bone dry": this clay is fired once'],
  [/\bgreenware\b/i, '"green"'],
  [/\bas an AI\b/i, 'nothing'],
];

/** A path or host that is true on one machine only. */
const ONE_MACHINE: readonly (readonly [RegExp, string])[] = [
  [/(^|[\s"'`(=])\/(work|tmp|root|home\/\w+|Users\/\w+)\//, 'a path of one machine'],
  [/\b[A-Z]:\\+Users\\/, 'a path of one machine'],
  [/\bregistry\.[a-z]+js\.[a-z]+|\bregistry\.yarnpkg\.com/, 'a registry host'],
  [/^\s*"resolved":/, 'a registry address in the lock file'],
];

const perLine = (files: Files, find: (line: string, name: string) => string | undefined): Complaint[] =>
  [...files]
    .filter(([name]) => !name.startsWith('test/tidy/'))
    .flatMap(([name, text]) =>
      text.split('\n').flatMap((line, i) => {
        const said = find(line, name);
        return said === undefined ? [] : [`${name}:${i + 1} ${said}`];
      }),
    );

export const bannedWords = (files: Files): Complaint[] =>
  perLine(files, (line, name) => {
    if (name === 'package-lock.json') return undefined;
    const hit = BANNED.find(([pattern]) => pattern.test(line));
    return hit && `says "${hit[0].exec(line)?.[0]}"; write ${hit[1]} instead`;
  });

export const machinePaths = (files: Files): Complaint[] =>
  perLine(files, (line) => {
    const hit = ONE_MACHINE.find(([pattern]) => pattern.test(line));
    return hit && `holds ${hit[1]}: ${line.trim().slice(0, 80)}`;
  });

export const MOST_LINES = 400;

/** One file, one idea: past this a reader has lost the thread. */
export const longFiles = (files: Files): Complaint[] =>
  [...files]
    .filter(([name]) => /\.(ts|mjs|css|html)$/.test(name))
    .map(([name, text]) => [name, text.split('\n').length - 1] as const)
    .filter(([, lines]) => lines > MOST_LINES)
    .map(([name, lines]) => `${name} has ${lines} lines; ${MOST_LINES} is the most`);
