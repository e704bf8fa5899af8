import { mkdtemp, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { changeFile, diskTrouble, writeNew } from './write-file.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'afterfire-write-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const more = (path: string, word: string) =>
  changeFile(path, async () => {
    const before = await readFile(path, 'utf8').catch(() => '');
    return { text: before + word, value: before };
  });

test('a new file is written whole, and never over another', async () => {
  const path = join(folder, 'new.txt');
  await writeNew(path, 'first');
  await expect(writeNew(path, 'second')).rejects.toMatchObject({
    code: 'bad-input',
    faults: [{ field: path }],
  });
  expect(await readFile(path, 'utf8')).toBe('first');
  expect(await readdir(folder)).toEqual(['new.txt']);
});

test('of writers at once each sees what the one before wrote', async () => {
  const path = join(folder, 'many.txt');
  await Promise.all([...'abcdefghijkl'].map((letter) => more(path, letter)));
  expect([...(await readFile(path, 'utf8'))].sort().join('')).toBe('abcdefghijkl');
});

test('work that fails half way leaves the file as it was, and nothing beside it', async () => {
  const path = join(folder, 'half.txt');
  await writeNew(path, 'as it was');
  const broken = changeFile(path, async () => {
    throw new Error('half way');
  });
  await expect(broken).rejects.toThrow('half way');
  expect(await readFile(path, 'utf8')).toBe('as it was');
  expect(await readdir(folder)).not.toContain('half.txt.new');
});

test('what a killed program left beside it does not stand in the way for ever', async () => {
  const path = join(folder, 'left.txt');
  await writeFile(`${path}.new`, 'hal');
  const old = new Date(Date.now() - 60_000);
  await utimes(`${path}.new`, old, old);
  await more(path, 'whole');
  expect(await readFile(path, 'utf8')).toBe('whole');
});

test('a folder that is gone, or is a file, is said in words', async () => {
  await expect(writeNew(join(folder, 'none', 'x.txt'), '')).rejects.toMatchObject({ code: 'cannot-do' });
  await writeNew(join(folder, 'file'), '');
  await expect(writeNew(join(folder, 'file', 'x.txt'), '')).rejects.toThrow(
    /what should be its folder is a file/,
  );
});

// errno names: POSIX.1-2017, <errno.h>.
test.each([
  ['ENOSPC', /full; make room/],
  ['EIO', /look at the disk/],
  ['EROFS', /cannot be written to/],
  ['EACCES', /may not be written to/],
])('%s is told, with what was kept', (code, words) => {
  const told = diskTrouble(Object.assign(new Error('x'), { code }), 'a.learning.json') as Error;
  expect(told).toMatchObject({ code: 'cannot-do' });
  expect(told.message).toMatch(words);
  expect(told.message).toMatch(/^a\.learning\.json: .*nothing before it is lost/);
});
