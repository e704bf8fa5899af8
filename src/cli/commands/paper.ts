import { stat, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { Argument, Command, Option } from 'commander';
import { badInput } from '../../error.ts';
import { moved, PAPERS, type Page, type Paper } from '../../making/paper/page.ts';
import { calibratePage } from '../../making/record-paper/calibrate.ts';
import {
  LABEL_SHEETS,
  type LabelSheet,
  labelSheetNamed,
  parseLabelSheet,
  USUAL_LABELS,
} from '../../making/record-paper/label-sheet.ts';
import { pickPieces } from '../../making/record-paper/pick-pieces.ts';
import { PAPER_KINDS, type PaperKind } from '../../server/record/printer.ts';
import { parseFile } from '../../store/json-text.ts';
import { pieceByNumber } from '../../store/pieces.ts';
import { readText } from '../../store/read-text.ts';
import { closeRecord, openRecord, type StudioRecord } from '../../store/record.ts';
import { readSettings } from '../../store/settings.ts';
import type { Io } from '../io.ts';
import { numberFrom } from '../options.ts';
import { paperPages } from '../paper/paper-pages.ts';
import { pdfOf } from '../paper/pdf.ts';

interface Options {
  readonly record?: string;
  readonly pieces?: string;
  readonly paper?: Paper;
  readonly pdf: string;
  readonly labels?: string;
  readonly first: string;
  readonly size?: string;
  readonly price?: true;
  readonly page?: string;
  readonly picture: boolean;
  readonly shift?: string;
  readonly calibrate?: true;
}

const labelsFrom = async (given: string | undefined, paper: Paper): Promise<LabelSheet> =>
  given?.endsWith('.json')
    ? parseFile(given, await readText(given), parseLabelSheet)
    : labelSheetNamed(given ?? USUAL_LABELS[paper]);

/** `40x75` */
const sizeFrom = (text: string) => {
  const [, width, height] = /^([\d.]+)x([\d.]+)$/.exec(text) ?? [];
  if (width === undefined) throw badInput('--size', text, 'width and height in mm, such as 45x80');
  return {
    width_mm: numberFrom('--size', width, 25, 190),
    height_mm: numberFrom('--size', height, 50, 270),
  };
};

/** The address of the page: a code with anything else in it would lead nobody anywhere. */
const pageFrom = (given: string | undefined): string | undefined => {
  if (given === undefined) return undefined;
  const url = URL.canParse(given) ? new URL(given) : undefined;
  if (!url || !/^https?:$/.test(url.protocol) || url.username || url.password)
    throw badInput(
      '--page',
      given,
      'where the page of the studio is found, such as https://192.168.1.20:8443',
    );
  return given;
};

const shifted = (pages: readonly Page[], text: string | undefined): readonly Page[] => {
  if (text === undefined) return pages;
  const [x, y, ...more] = text.split(',');
  if (y === undefined || more.length > 0)
    throw badInput('--shift', text, 'mm to the right and down, such as -1,0.5');
  const [right, down] = [x, y].map((mm) => numberFrom('--shift', mm, -5, 5));
  return pages.map(({ paper, elements }) => ({
    paper,
    elements: elements.map((e) => moved(e, right, down)),
  }));
};

const pagesOf = async (
  kind: PaperKind,
  options: Options,
  record: StudioRecord,
  io: Io,
): Promise<readonly Page[]> => {
  const { db } = record;
  const paper = options.paper ?? (readSettings(db).paper === 'A4' ? 'a4' : 'letter');
  const labels = await labelsFrom(options.labels, paper);
  const { numbers, missing } = pickPieces(options.pieces ?? '', (n) => pieceByNumber(db, n) !== undefined);
  if (missing.length > 0) io.err(`no such pieces: ${missing.join(', ')}\n`);
  const wanted = {
    kind,
    numbers,
    paper,
    labels,
    first:
      kind === 'labels' ? numberFrom('--first', options.first, 1, labels.columns * labels.rows, true) : 1,
    price: options.price,
    size: options.size === undefined ? undefined : sizeFrom(options.size),
    page: pageFrom(options.page),
    picture: options.picture,
  };
  return paperPages(record, wanted, io);
};

const rulerPages = async (kind: PaperKind, { paper = 'a4', labels }: Options): Promise<readonly Page[]> => {
  const sheet = kind === 'labels' ? await labelsFrom(labels, paper) : undefined;
  return [calibratePage(sheet ?? PAPERS[paper], sheet)];
};

/** Looks before the work whether the file can be there. */
const checkFile = async (file: string): Promise<void> => {
  const folder = await stat(dirname(file)).catch(() => undefined);
  if (!file.endsWith('.pdf') || !folder?.isDirectory())
    throw badInput('--pdf', file, 'a file ending in .pdf, in a folder that is there');
};

const print = async (kind: PaperKind, options: Options, io: Io): Promise<void> => {
  await checkFile(options.pdf);
  const made = async (): Promise<readonly Page[]> => {
    if (options.calibrate) return rulerPages(kind, options);
    if (options.record === undefined)
      throw badInput('--record', 'nothing', 'the record, a file ending in .sqlite');
    const record = openRecord(options.record);
    try {
      return await pagesOf(kind, options, record, io);
    } finally {
      closeRecord(record);
    }
  };
  const pages = shifted(await made(), options.shift);
  const title = options.calibrate ? 'Ruler' : `${kind[0].toUpperCase()}${kind.slice(1)}: ${options.pieces}`;
  const pdf = await pdfOf(pages, title);
  await writeFile(options.pdf, pdf).catch((error: NodeJS.ErrnoException) => {
    throw badInput('--pdf', `${options.pdf} (${error.code})`, 'a file that can be written');
  });
  io.err(`wrote ${options.pdf}\n`);
  io.out(
    `${pages.length} ${pages.length === 1 ? 'page' : 'pages'}. Print at full size (100 %); --calibrate gives a page to check it with.\n`,
  );
};

export const paperCommand = (io: Io): Command =>
  new Command('paper')
    .description(
      'print labels, tags to hang on, cards for the shelf, or the sheet of a piece, with a code to scan',
    )
    .addArgument(new Argument('<what>', 'which paper').choices(PAPER_KINDS))
    .option('--record <file.sqlite>', 'the record')
    .option('--pieces <numbers>', 'which: 7, 101-120 or R-101-R-120, several with commas')
    .addOption(
      new Option('--paper <size>', 'the paper (default: as the studio is set)').choices(Object.keys(PAPERS)),
    )
    .requiredOption('--pdf <file>', 'where the PDF goes')
    .option(
      '--labels <sheet>',
      `labels: ${Object.keys(LABEL_SHEETS).join(', ')}, or a .json file of lengths in mm`,
    )
    .option('--first <place>', 'labels: the first free one of the first sheet, counted along the rows', '1')
    .option('--size <width x height>', 'tags: their size in mm (default: 45x80)')
    .option('--price', 'tags: with the price')
    .option(
      '--page <address>',
      'the code leads to the page of the piece there (default: studio and number as text)',
    )
    .option('--no-picture', 'sheet: without photographs, and without firing the form for its picture')
    .option('--shift <right,down>', 'mm, to set right a printer that prints off its place')
    .option(
      '--calibrate',
      'only a page with rulers, and the corners of the labels, to check the printer with',
    )
    .action((kind: PaperKind, options: Options) => print(kind, options, io));
