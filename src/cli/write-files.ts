import { access, constants, mkdir, stat, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { badInput } from '../error.ts';
import { solidOf } from '../kernel/mesh/solid.ts';
import type { Firing } from '../making/firing/firing.ts';
import { firedWall, picturesOf } from './drawing/pictures.ts';
import { pngOf } from './drawing/png.ts';
import { drawSheet } from './drawing/sheet.ts';
import { glbOf } from './export/gltf.ts';
import { stlOf } from './export/stl.ts';
import { asTyped } from './options.ts';
import { notesOf, sentencesOf } from './words/firing-report.ts';

/** Which files are wanted, and where. */
export interface Wanted {
  readonly svg?: true;
  readonly png?: true;
  readonly gltf?: true;
  readonly stl?: true;
  readonly out: string;
}

/** Eight dots a millimetre, about 200 an inch: enough for print. */
const DOTS_PER_MM = 8;

/** The drawing of one form in each of its settings, side by side. */
export const sheetOf = (firings: readonly Firing[]): string => {
  const [{ input, heatWork }] = firings;
  return drawSheet({
    title: input.form.name,
    subtitle: `Clay: ${input.clay.name}. Schedule: ${input.schedule.name}. Heat-work: ${heatWork.text}.`,
    pictures: firings.flatMap((firing) => picturesOf(firing, sentencesOf(firing))),
    notes: notesOf(firings),
  });
};

const glb = (firing: Firing): Promise<Uint8Array> =>
  glbOf([
    { name: 'before', mesh: solidOf(firing.dry), colour: [0.45, 0.4, 0.34, 0.3] },
    { name: 'after', mesh: solidOf(firedWall(firing)), colour: [0.88, 0.86, 0.82, 1] },
  ]);

/** The folder itself, or the nearest one above it that is there already. */
const nearest = async (path: string): Promise<string> => {
  const there = await stat(path).then(
    () => true,
    () => false,
  );
  return there || dirname(path) === path ? path : nearest(dirname(path));
};

/** Looks before the long work whether files can be written there, and writes nothing. Throws `bad-input` naming `--out`. */
export const checkFolder = async ({ svg, png, gltf, stl, out }: Wanted): Promise<void> => {
  if (!(svg || png || gltf || stl)) return;
  const above = await nearest(resolve(out));
  const writable = await access(above, constants.W_OK).then(
    () => true,
    () => false,
  );
  if (!writable || !(await stat(above)).isDirectory())
    throw badInput('--out', out, 'a folder that can be written to, or made');
};

/** Writes what is wanted; gives the paths written. */
export const writeFiles = async (
  name: string,
  firings: readonly Firing[],
  wanted: Wanted,
): Promise<string[]> => {
  const written: string[] = [];
  const write = async (file: string, content: string | Uint8Array): Promise<void> => {
    await mkdir(wanted.out, { recursive: true });
    const path = join(wanted.out, file);
    await writeFile(path, content);
    written.push(path);
  };
  if (wanted.svg || wanted.png) {
    const svg = sheetOf(firings);
    if (wanted.svg) await write(`${name}.svg`, svg);
    if (wanted.png) await write(`${name}.png`, await pngOf(svg, DOTS_PER_MM));
  }
  for (const firing of firings) {
    const file = `${name}-${asTyped(firing.input.setting.attitude)}`;
    if (wanted.gltf) await write(`${file}.glb`, await glb(firing));
    if (wanted.stl) await write(`${file}.stl`, stlOf(solidOf(firedWall(firing)), firing.input.form.name));
  }
  return written;
};
