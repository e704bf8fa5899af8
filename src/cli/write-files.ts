import { access, constants, mkdir, stat, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { badInput } from '../error.ts';
import { solidOf } from '../kernel/mesh/solid.ts';
import type { Firing } from '../making/firing/firing.ts';
import { firedProps, firedWall, picturesOf } from './drawing/pictures.ts';
import { pngOf } from './drawing/png.ts';
import { drawSheet } from './drawing/sheet.ts';
import { glbOf } from './export/gltf.ts';
import { stlOf } from './export/stl.ts';
import type { Shown } from './shown.ts';
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

/**
 * The drawing of several firings through one heat, side by side.
 * @param said of all of them together; it stands before what is said of the first
 */
export const sheetOf = (title: string, shown: readonly Shown[], said: readonly string[] = []): string => {
  const firings = shown.map(({ firing }) => firing);
  const [{ input, heatWork }] = firings;
  return drawSheet({
    title,
    subtitle: `Clay: ${input.clay.name}. Schedule: ${input.schedule.name}. Heat-work: ${heatWork.text}.`,
    what: 'sections before and after the fire',
    legend: {
      kind: 'fired',
      band: firings.some(({ bands }) => bands !== undefined),
      props: firings.some((firing) => firing.input.setting.props.length > 0),
    },
    pictures: shown.flatMap(({ firing, called }, i) =>
      picturesOf(firing, called, [...(i === 0 ? said : []), ...sentencesOf(firing)]),
    ),
    notes: notesOf(firings),
  });
};

const glb = (firing: Firing): Promise<Uint8Array> =>
  glbOf([
    { name: 'before', mesh: solidOf(firing.dry), colour: [0.45, 0.4, 0.34, 0.3] },
    { name: 'after', mesh: solidOf(firedWall(firing)), colour: [0.88, 0.86, 0.82, 1] },
    ...firedProps(firing).map((mesh, i) => ({
      name: `prop ${i + 1}, ${firing.input.setting.props[i].kind}`,
      mesh,
      colour: [0.62, 0.5, 0.36, 1] as const,
    })),
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

/** Writes one file, making the folder; gives its path. */
export const writeInto = async (
  folder: string,
  file: string,
  content: string | Uint8Array,
): Promise<string> => {
  await mkdir(folder, { recursive: true });
  const path = join(folder, file);
  await writeFile(path, content);
  return path;
};

/** Writes a drawing as wanted; gives the paths written. */
export const writeDrawing = async (
  name: string,
  svg: string,
  { out, ...wanted }: Wanted,
): Promise<string[]> => [
  ...(wanted.svg ? [await writeInto(out, `${name}.svg`, svg)] : []),
  ...(wanted.png ? [await writeInto(out, `${name}.png`, await pngOf(svg, DOTS_PER_MM))] : []),
];

/** Writes the shapes that are wanted; gives the paths written. */
export const writeShapes = async (
  name: string,
  shown: readonly Shown[],
  wanted: Wanted,
): Promise<string[]> => {
  const written: string[] = [];
  for (const { firing, file } of shown) {
    if (wanted.gltf) written.push(await writeInto(wanted.out, `${name}-${file}.glb`, await glb(firing)));
    if (wanted.stl) {
      const stl = stlOf(solidOf(firedWall(firing)), firing.input.form.name);
      written.push(await writeInto(wanted.out, `${name}-${file}.stl`, stl));
    }
  }
  return written;
};
