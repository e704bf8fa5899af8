import { basename } from 'node:path';
import { Command } from 'commander';
import { badInput, badInputs } from '../../error.ts';
import { fire } from '../../making/firing/fire.ts';
import { type Camera, type CameraKnown, cameraOf } from '../../making/photo/camera.ts';
import { compareWithFired } from '../../making/photo/compare-with-fired.ts';
import { findOutline, type PhotoRead, type PhotoWish } from '../../making/photo/find-outline.ts';
import { roundBody } from '../../making/photo/round-body.ts';
import { outlineForUnloading, outlinePlusMinus_m } from '../../making/photo/unloading-outline.ts';
import { type PictureFile, readPicture } from '../../store/read-picture.ts';
import { outlineSheet } from '../drawing/outline-sheet.ts';
import { firedWall } from '../drawing/pictures.ts';
import { drive } from '../drive.ts';
import { engineHere } from '../engine.ts';
import { addFiringOptions, type FiringOptions, type Planned, plannedFirings } from '../firing-options.ts';
import type { Io } from '../io.ts';
import { numberFrom } from '../options.ts';
import { type OutlineTold, outlineJson, outlineReport } from '../words/outline-report.ts';
import { checkFolder, type Wanted, writeDrawing } from '../write-files.ts';

interface Options extends FiringOptions, Pick<Wanted, 'svg' | 'png' | 'out'> {
  readonly against?: string;
  readonly from: string;
  readonly camera?: string;
  readonly discs?: string;
  readonly piece?: string;
  readonly level?: true;
  readonly json?: true;
}

/** Two numbers with a comma or ×, such as `120,80`. */
const pairFrom = (flag: string, text: string, most: number): [number, number] => {
  const parts = text.split(/[,x×]/);
  if (parts.length !== 2) throw badInput(flag, text, 'two numbers with a comma between, such as 120,80');
  return [numberFrom(flag, parts[0], 0, most), numberFrom(flag, parts[1], 0, most)];
};

const wishOf = ({ discs, piece }: Options): PhotoWish => {
  const printed = discs === undefined ? undefined : pairFrom('--discs', discs, 1000);
  return {
    ...(printed && { printed: { across_m: printed[0] / 1000, up_m: printed[1] / 1000 } }),
    ...(piece !== undefined && { piece_px: pairFrom('--piece', piece, 1e5) }),
  };
};

const MORE: Readonly<Record<string, string>> = {
  'no-scale': ' (afterfire protocol scale-card prints the card)',
  'no-piece': ' (--piece x,y points to it)',
};

/** What stops the reading is bad input; what does not is told beside the outline. */
const checkFound = (path: string, { troubles }: PhotoRead): void => {
  const stopping = troubles.filter(({ stops }) => stops);
  if (stopping.length === 0) return;
  throw badInputs(
    stopping.map(({ kind, text }) => {
      const [, value, expected] = /^([^:]*): ?(.*)$/.exec(text) ?? [undefined, text, 'a picture with both'];
      return { field: path, value, expected: expected + (MORE[kind] ?? '') };
    }),
  );
};

/** What the command line says of the camera; numbers are looked at before any long work. */
const distanceFrom = ({ camera }: Options): CameraKnown | undefined =>
  camera === undefined ? undefined : { distance_m: numberFrom('--camera', camera, 200, 50_000) / 1000 };

const cameraIn = (
  { picture, lens35_m }: PictureFile,
  { card }: PhotoRead,
  said: CameraKnown | undefined,
): Camera | undefined => {
  const known = said ?? (lens35_m === undefined ? undefined : { lens35_m });
  return card && known && cameraOf(card.toPicture, picture, known);
};

/** The one firing to compare with, if any is asked for. */
const planAgainst = async (options: Options): Promise<Planned | undefined> => {
  if (options.against === undefined) return undefined;
  const planned = await plannedFirings(options.against, options);
  if (planned.length !== 1)
    throw badInput('--setting', options.setting, 'one setting: as the piece stood in the kiln');
  return planned[0];
};

const read = async (path: string, options: Options, io: Io): Promise<OutlineTold> => {
  const from_deg = numberFrom('--from', options.from, -360, 360);
  const wish = wishOf(options);
  const said = distanceFrom(options);
  const plan = await planAgainst(options);
  const file = await readPicture(path);
  const found = findOutline(file.picture, wish);
  checkFound(path, found);
  const outline = found.outline as NonNullable<PhotoRead['outline']>;
  const camera = cameraIn(file, found, said);
  const section = camera && roundBody(outline, camera);
  const plusMinus_m = outlinePlusMinus_m(outline, camera);
  const firing = plan && (await drive(`firing ${plan.called}`, fire(plan.input, engineHere()), io));
  return {
    name: basename(path),
    found,
    outline,
    camera,
    section,
    forUnloading: outlineForUnloading(section ?? outline, from_deg, plusMinus_m),
    firing,
    compared:
      firing &&
      compareWithFired(outline, firedWall(firing), {
        from_deg,
        ...(camera && { camera }),
        turn: options.level !== true,
      }),
  };
};

const tell = async (path: string, options: Options, io: Io): Promise<void> => {
  await checkFolder(options);
  const told = await read(path, options, io);
  io.out(options.json ? `${JSON.stringify(outlineJson(told), null, 2)}\n` : outlineReport(told));
  const name = `${basename(path).replace(/\.[^.]*$/, '')}-outline`;
  for (const written of await writeDrawing(name, outlineSheet(told), options)) io.err(`wrote ${written}\n`);
};

export const outlineCommand = (io: Io): Command =>
  addFiringOptions(
    new Command('outline')
      .description('the outline of a fired piece from a photograph with the scale card beside it, in mm')
      .argument(
        '<photo>',
        'a JPEG or PNG picture, taken as the scale card says (afterfire protocol scale-card)',
      ),
  )
    .option('--against <form.json>', 'fire this form in its setting and compare the outlines')
    .option('--from <degrees>', 'from which side it was seen: degrees from x as it stood in the kiln', '0')
    .option('--camera <mm>', 'from the lens to the card; left out: as the camera noted its lens, if it did')
    .option('--discs <across,up>', 'mm between the middles of the discs, where the printer changed the size')
    .option('--piece <x,y>', 'a place on the piece in pixels, where the wrong thing was found')
    .option('--level', 'card and camera were level: do not turn one outline to lie on the other')
    .option('--json', 'the answer as JSON; `unloading.outline` is what an unloading file takes')
    .option('--svg', 'draw the outline on a millimetre grid, at true size')
    .option('--png', 'the same drawing as a picture')
    .option('--out <folder>', 'where the drawings go', '.')
    .action((path: string, options: Options) => tell(path, options, io));
