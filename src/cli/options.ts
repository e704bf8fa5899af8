import { badInput } from '../error.ts';
import type { Setting } from '../making/firing/setting.ts';

/** How fine a mesh may be asked for; the usual one carries a dozen flutes. */
export const TRIANGLES = { usual: 6000, least: 100, most: 40_000 };

/** A number given on the command line. Throws `bad-input` naming the flag and what would be right. */
export const numberFrom = (
  flag: string,
  text: string,
  least: number,
  most: number,
  whole = false,
): number => {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  const right =
    Number.isFinite(value) && value >= least && value <= most && (!whole || Number.isInteger(value));
  if (!right) throw badInput(flag, text, `a ${whole ? 'whole ' : ''}number from ${least} to ${most}`);
  return value;
};

/** Attitudes as one types them, without spaces; a leaning piece needs props as well. */
export const ATTITUDES: Readonly<Record<string, Setting['attitude']>> = {
  upright: 'upright',
  'rim-down': 'rim down',
  'on-its-side': 'on its side',
};

/** The same, the other way: for file names. */
export const asTyped = (attitude: Setting['attitude']): string => attitude.replaceAll(' ', '-');

/** One attitude or all of them that need no props. */
export const attitudesFrom = (flag: string, text: string): Setting['attitude'][] => {
  if (text === 'all') return Object.values(ATTITUDES);
  const found = ATTITUDES[text];
  if (found !== undefined) return [found];
  const file = 'a .setting.json file (afterfire schema setting tells what it holds)';
  throw badInput(
    flag,
    text,
    text === 'leaning'
      ? `${file}: a leaning piece needs something to lean on`
      : `${Object.keys(ATTITUDES).join(', ')}, all, or ${file}`,
  );
};
