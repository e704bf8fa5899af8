import { mkdtemp, open, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { MAX_TEXT_BYTES, readText } from './read-text.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'afterfire-read-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test('a file comes back as it was written', async () => {
  const path = join(folder, 'a.json');
  await writeFile(path, '{"name": "Œuvre"}');
  expect(await readText(path)).toBe('{"name": "Œuvre"}');
});

test('200 MB are refused before they are read', async () => {
  const path = join(folder, 'huge.json');
  const file = await open(path, 'w');
  await file.truncate(200_000_000); // a hole: the disk holds nothing, the size is real
  await file.close();
  const before = process.memoryUsage().rss;
  await expect(readText(path)).rejects.toMatchObject({
    code: 'too-large',
    message: /200 MB; at most 2.0 MB/,
  });
  expect(process.memoryUsage().rss - before).toBeLessThan(50_000_000);
});

test('the limit itself is still read, one byte more is not', async () => {
  const path = join(folder, 'edge.json');
  await writeFile(path, ' '.repeat(MAX_TEXT_BYTES));
  expect(await readText(path)).toHaveLength(MAX_TEXT_BYTES);
  await writeFile(path, ' '.repeat(MAX_TEXT_BYTES + 1));
  await expect(readText(path)).rejects.toMatchObject({ code: 'too-large' });
});

test('no file, and a folder in its place', async () => {
  await expect(readText(join(folder, 'none.json'))).rejects.toMatchObject({ code: 'not-found' });
  await expect(readText(folder)).rejects.toMatchObject({
    code: 'bad-input',
    message: /a folder; expected a file|EISDIR/,
  });
});
