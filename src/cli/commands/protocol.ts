import { Argument, Command, Option } from 'commander';
import { badInput } from '../../error.ts';
import { PAPERS, type Paper } from '../../making/paper/page.ts';
import { takePhotograph } from '../../making/photo/photo-protocol.ts';
import { SCALE_CARDS, type ScaleCard } from '../../making/photo/scale-card.ts';
import { scaleCardSvg } from '../../making/photo/scale-card-svg.ts';
import { protocolOf, protocolPages, protocolSvg } from '../../making/protocols/protocol.ts';
import { PROTOCOLS, type ProtocolKind, type ProtocolOptions } from '../../making/protocols/sheet-parts.ts';
import type { Io } from '../io.ts';
import { numberFrom } from '../options.ts';
import { pdfOf } from '../paper/pdf.ts';
import { picturePdf } from '../paper/picture-pdf.ts';
import { checkFolder, writeInto } from '../write-files.ts';

const SCALE_CARD = 'scale-card';
const SCALE_PAPERS = { a4: 'A4', letter: 'Letter' } as const;

interface Options {
  readonly paper: Paper;
  readonly card: ScaleCard['name'];
  readonly clayName?: string;
  readonly kiln?: string;
  readonly rows?: string;
  readonly span?: string;
  readonly thickness?: string;
  readonly hold?: readonly string[];
  readonly cones?: string;
  readonly svg?: true;
  readonly pdf?: true;
  readonly out: string;
}

/** `1250:30` → a peak of 1250 °C held for 30 minutes. */
const holdOf = (text: string): { peak_C: number; minutes: number } => {
  const [, peak, minutes] = /^([\d.]+):([\d.]+)$/.exec(text) ?? [];
  if (peak === undefined) throw badInput('--hold', text, 'peak in °C and minutes, such as 1250:30');
  return {
    peak_C: numberFrom('--hold', peak, 1000, 1400),
    minutes: numberFrom('--hold', minutes, 0, 2000),
  };
};

const wishesOf = (o: Options): ProtocolOptions => ({
  ...(o.clayName !== undefined && { clay: o.clayName }),
  ...(o.kiln !== undefined && { kiln: o.kiln }),
  ...(o.rows !== undefined && { pieces: numberFrom('--rows', o.rows, 1, 60, true) }),
  ...(o.span !== undefined && { span_mm: numberFrom('--span', o.span, 1, 1000) }),
  ...(o.thickness !== undefined && { thickness_mm: numberFrom('--thickness', o.thickness, 1, 100) }),
  ...(o.hold !== undefined && { holds: o.hold.map(holdOf) }),
  ...(o.cones !== undefined && { cones: o.cones.split(',').map((cone) => cone.trim()) }),
});

interface Sheets {
  readonly name: string;
  readonly svg: readonly string[];
  readonly pdf: () => Promise<Uint8Array>;
}

const cardSheets = ({ paper, card }: Options): Sheets => {
  const svg = scaleCardSvg(SCALE_PAPERS[paper], card);
  const title = `Afterfire scale card, ${card}: ${takePhotograph.title}`;
  return { name: `scale-card-${card}-${paper}`, svg: [svg], pdf: () => picturePdf(svg, title) };
};

const protocolSheets = (kind: ProtocolKind, options: Options): Sheets => {
  const protocol = protocolOf(kind, wishesOf(options));
  const { paper } = options;
  return {
    name: `${kind}-${paper}`,
    svg: protocolSvg(protocol, paper),
    pdf: () => pdfOf(protocolPages(protocol, paper), protocol.title),
  };
};

const print = async (kind: string, options: Options, io: Io): Promise<void> => {
  const pdf = options.pdf === true || options.svg !== true;
  await checkFolder({ svg: true, out: options.out });
  const sheets = kind === SCALE_CARD ? cardSheets(options) : protocolSheets(kind as ProtocolKind, options);
  const { name, svg } = sheets;
  const written = pdf ? [await writeInto(options.out, `${name}.pdf`, await sheets.pdf())] : [];
  for (const [i, page] of options.svg ? svg.entries() : [])
    written.push(await writeInto(options.out, svg.length > 1 ? `${name}-${i + 1}.svg` : `${name}.svg`, page));
  for (const path of written) io.err(`wrote ${path}\n`);
  io.out(
    `${svg.length} ${svg.length === 1 ? 'page' : 'pages'}. Print at full size (100 %) and check the ruler on the sheet.\n`,
  );
};

export const protocolCommand = (io: Io): Command =>
  new Command('protocol')
    .description(
      'print how to make, fire and measure test pieces, with tables to fill in; and the scale card for photographs',
    )
    .addArgument(new Argument('<kind>', 'which sheet').choices([...PROTOCOLS, SCALE_CARD]))
    .addOption(new Option('--paper <size>', 'the paper').choices(Object.keys(PAPERS)).default('a4'))
    .addOption(
      new Option('--card <size>', 'scale card: large for pieces over some 15 cm')
        .choices(SCALE_CARDS.map(({ name }) => name))
        .default('small'),
    )
    .option('--clay-name <words>', 'the clay, printed on top; left out: a line to write on')
    .option('--kiln <words>', 'the kiln, likewise')
    .option('--rows <number>', 'rows of the table')
    .option('--span <mm>', 'sag bars: between the edges of the supports')
    .option('--thickness <mm>', 'sag bars: how thick they are cut, wet')
    .option(
      '--hold <peak:minutes>',
      'bars at holds: one of the firings, such as 1250:30; may be given several times',
      (hold: string, before: readonly string[] = []) => [...before, hold],
    )
    .option('--cones <numbers>', 'witness cones, softest first, such as 9,10,11')
    .option('--pdf', 'as PDF (the default)')
    .option('--svg', 'as SVG, one file a page')
    .option('--out <folder>', 'where the files go', '.')
    .action((kind: string, options: Options) => print(kind, options, io));
