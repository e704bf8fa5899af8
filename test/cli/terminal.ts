import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { demoFolder } from '../../src/cli/home.ts';
import { run } from '../../src/cli/main.ts';

export interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs one command line in this process and keeps what it says. */
export const afterfire = async (
  argv: readonly string[],
  signal = new AbortController().signal,
): Promise<Said> => {
  const said = { out: '', err: '' };
  const code = await run(argv, {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    watched: false,
    signal,
  });
  return { code, ...said };
};

type Json = Record<string, unknown>;

/** A copy of the demo studio to spoil. */
export interface Bench {
  readonly folder: string;
  readonly path: (file: string) => string;
  /** Writes a changed copy of a file beside it; gives its path. */
  readonly spoil: (file: string, change: (value: Json) => Json) => Promise<string>;
  readonly clear: () => Promise<void>;
}

export const bench = async (): Promise<Bench> => {
  const folder = await mkdtemp(join(tmpdir(), 'afterfire-cli-'));
  await cp(demoFolder(), folder, { recursive: true });
  const path = (file: string): string => join(folder, file);
  return {
    folder,
    path,
    spoil: async (file, change) => {
      const value = JSON.parse(await readFile(path(file), 'utf8')) as Json;
      const spoilt = path(`spoilt-${file}`);
      await writeFile(spoilt, JSON.stringify(change(value), null, 2));
      return spoilt;
    },
    clear: () => rm(folder, { recursive: true, force: true }),
  };
};
