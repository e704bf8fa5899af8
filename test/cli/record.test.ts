import { existsSync, readdirSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { inFolder } from '../record-kit.ts';
import { afterfire } from './terminal.ts';

const record = (...words: string[]) => afterfire(['record', ...words]);

test('a record made, filled from a table, looked at, backed up, taken elsewhere and restored', () =>
  inFolder(async (folder) => {
    const at = (name: string) => join(folder, name);
    expect((await record('new', at('s.sqlite'), '--zone', 'Europe/Berlin', '--name', 'Trial')).code).toBe(0);
    expect((await record('new', at('s.sqlite'))).err).toMatch(/it was not touched/);
    writeFileSync(
      at('in.csv'),
      'number,begun,stage,stands,place\r\nA-1,2026-03-02,finished,shown,Spring show\r\n',
    );
    expect((await record('import', at('in.csv'), at('s.sqlite'))).out).toMatch(/1 pieces came in/);
    expect((await record('show', at('s.sqlite'), '--find', 'march 2026 spring')).out).toMatch(
      /A-1 +finished +shown +Spring show/,
    );
    expect((await record('show', at('s.sqlite'))).out).toMatch(/Without a price \(1\)/);
    expect(JSON.parse((await record('show', at('s.sqlite'), '--json')).out).unpriced.count).toBe(1);
    expect((await record('check', at('s.sqlite'))).out).toMatch(/is whole: 1 pieces, 1 firings/);
    const { out: backup } = await record('backup', at('s.sqlite'));
    expect((await record('check', backup.trim())).out).toMatch(/is whole/);
    expect((await record('backup', at('s.sqlite'), '--if-due')).out).toMatch(/There is a backup of today/);
    expect((await record('export', at('s.sqlite'), at('out.csv'))).code).toBe(0);
    expect((await record('export', at('s.sqlite'), at('out.zip'))).code).toBe(0);
    expect((await record('import', at('out.zip'), at('again.sqlite'))).code).toBe(0);
    expect((await record('check', at('again.sqlite'))).out).toMatch(/1 pieces/);
    const restored = await record('restore', backup.trim(), at('s.sqlite'));
    expect(restored.out).toMatch(/What was there is now .*before-/);
    truncateSync(backup.trim(), 50_000);
    const torn = await record('check', backup.trim());
    expect(torn).toMatchObject({ code: 2, err: expect.stringMatching(/differs from what was backed up/) });
  }));

test('mistakes on the command line: what is wrong, and the exit code for it', () =>
  inFolder(async (folder) => {
    const at = (name: string) => join(folder, name);
    expect(await record('show', at('none.sqlite'))).toMatchObject({ code: 3 });
    expect((await record('new', at('s.sqlite'), '--zone', 'Mars/Olympus')).err).toMatch(
      /settings.zone: .*IANA/,
    );
    expect(existsSync(at('s.sqlite'))).toBe(false);
    writeFileSync(at('text.sqlite'), 'no record at all '.repeat(100));
    expect(await record('show', at('text.sqlite'))).toMatchObject({
      code: 2,
      err: expect.stringMatching(/damaged, or not a record/),
    });
    expect(await record('export', at('s.sqlite'), at('out.pdf'))).toMatchObject({ code: 2 });
    expect((await record('nonsense')).err).toMatch(/afterfire record --help/);
    expect((await record('new')).err).toMatch(/afterfire record new --help/);
  }));

test('the invented studio is marked as such, can be made anew, and a real one is never taken for it', () =>
  inFolder(async (folder) => {
    const at = (name: string) => join(folder, name);
    expect((await record('demo', at('demo.sqlite'))).out).toMatch(/All in it is invented/);
    const { out } = await record('show', at('demo.sqlite'));
    expect(out).toMatch(/^All in this record is invented/);
    expect(out).toMatch(/can be carved now/);
    expect(out).toMatch(/Firing 14: lit/);
    expect((await record('demo', at('demo.sqlite'))).code).not.toBe(0);
    expect((await record('demo', at('demo.sqlite'), '--again')).code).toBe(0);
    expect(readdirSync(folder).filter((name) => /before.*\.sqlite$/.test(name))).toHaveLength(1);
    await record('new', at('real.sqlite'));
    expect((await record('demo', at('real.sqlite'), '--again')).err).toMatch(/real and was not touched/);
    expect(existsSync(at('real.sqlite'))).toBe(true);
  }));
