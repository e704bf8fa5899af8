import { chmodSync, existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { parseShape } from '../shape.ts';
import { parseFile } from './json-text.ts';

/**
 * What this machine remembers of sharing: its certificate and the devices let in. It belongs to the machine, not to the
 * studio: a studio's file that is copied or restored elsewhere must let nobody in there. Readable by its owner alone.
 */
const ShareFile = z.strictObject({
  afterfire: z.literal('share/1'),
  certificate: z
    .strictObject({
      authority: z.string(),
      certificate: z.string(),
      key: z.string(),
      hosts: z.array(z.string()).min(1),
      until_ms: z.number(),
    })
    .optional(),
  devices: z.array(
    z.strictObject({
      id: z.string(),
      name: z.string(),
      tokenHash: z.string(),
      since_ms: z.number(),
      seen_ms: z.number(),
    }),
  ),
});
export type ShareFile = z.infer<typeof ShareFile>;

const NONE: ShareFile = { afterfire: 'share/1', devices: [] };

/** Where it lies: the folder for settings of this account. */
export const sharePath = (env: NodeJS.ProcessEnv = process.env): string =>
  join(env.XDG_CONFIG_HOME ?? join(homedir(), '.config'), 'afterfire', 'share.json');

/** Nothing remembered where there is no file yet. Throws `bad-input` where it is not ours. */
export const readShareFile = (path: string): ShareFile =>
  existsSync(path)
    ? parseFile(path, readFileSync(path, 'utf8'), (json) => parseShape(ShareFile, json, 'share'))
    : NONE;

/** Whole or not at all, and never readable by others, not even for a moment. */
export const writeShareFile = (path: string, file: ShareFile): void => {
  mkdirSync(dirname(path), { recursive: true, mode: 0o700 });
  const beside = `${path}.new`;
  writeFileSync(beside, JSON.stringify(file, undefined, 2), { mode: 0o600, flush: true });
  chmodSync(beside, 0o600);
  renameSync(beside, path);
};
