import { fitted, placedText, printable } from '../paper/fitted.ts';
import { type Block, layOut } from '../paper/lay-out.ts';
import { MARGIN_mm, PAPERS, type Page, type PageElement, type Paper } from '../paper/page.ts';
import { CLAY_STATES } from '../record/kinds.ts';
import type { Sizes } from '../record/piece-state.ts';
import { placeCode } from './code.ts';
import { amountText, type Coder, type PaperPiece } from './paper-piece.ts';
import { type PiecePicture, pictureElements, scaleOf } from './piece-picture.ts';

/** What the sheet of a piece says beyond its labels. */
export interface SheetPiece extends PaperPiece {
  /** Names of the firings it went through or stands in. */
  readonly firings: readonly string[];
  readonly notes: readonly { readonly day: string; readonly what: string; readonly words: string }[];
  readonly picture?: PiecePicture;
  /** Photographs as `data:` addresses of JPEG or PNG. */
  readonly photos?: { readonly before?: string; readonly after?: string };
}

const CODE_mm = 30;
/** How high the picture may be, alone and under photographs: the usual sheet is one page. */
const PICTURE_mm = { alone: 120, under: 80 };
const FACT_mm = 3;
const PHOTO = { width_mm: 90, height_mm: 60 };

const SIZE_WORDS: Readonly<Record<keyof Sizes, string>> = {
  height_mm: 'height, mm',
  widest_mm: 'greatest width, mm',
  lip_mm: 'width of the lip, mm',
  foot_mm: 'width of the foot, mm',
  wall_mm: 'thickness of the wall, mm',
  sag_mm: 'lip came down beyond shrinkage, mm',
};

const cell = (value: number | undefined): string => (value === undefined ? '' : String(value));

/** One row a measure, one column a state of the clay; what was never measured is left out. */
const measuresOf = ({ state: { weights_g, sizes } }: SheetPiece): Block[] => {
  const rows = [
    ['weight, g', ...CLAY_STATES.map((clay) => cell(weights_g[clay]))],
    ...(Object.keys(SIZE_WORDS) as (keyof Sizes)[]).map((key) => [
      SIZE_WORDS[key],
      ...CLAY_STATES.map((clay) => cell(sizes[clay]?.[key])),
    ]),
  ].filter(([, ...values]) => values.some((value) => value !== ''));
  if (rows.length === 0) return [{ kind: 'paragraph', text: 'Nothing was measured yet.' }];
  const columns = ['', ...CLAY_STATES].map((title, i) => ({ title, share: i === 0 ? 2.4 : 1 }));
  return [{ kind: 'table', columns, rows }];
};

const factsOf = ({ form, series, clay, begun, firings, state }: SheetPiece): string[] => {
  const said = (name: string, value: string | number | undefined | false): string[] =>
    value === undefined || value === false || value === '' ? [] : [`${name}: ${value}`];
  const { loss, sale, price, came, hours, place, stands, stage, attitude, clayTaken_g } = state;
  return [
    ...said('Form', form && series ? `${form} (${series})` : form),
    ...said('Clay', [clay, clayTaken_g && `${clayTaken_g} g taken`].filter(Boolean).join(', ')),
    ...said('Begun', begun),
    ...said('Stage', stage),
    ...said('Stands', place === undefined || stands === 'sold' ? stands : `${stands}, ${place}`),
    ...said(firings.length > 1 ? 'Firings' : 'Firing', [...firings, attitude].filter(Boolean).join(', ')),
    ...said('Came out', came),
    ...said('Lost', loss && `${loss.cause} (${loss.at})`),
    ...said('Hours', hours > 0 && hours),
    ...said('Price', sale ? '' : price && amountText(price.minor, price.currency)),
    ...said('Sold for', sale && amountText(sale.minor, sale.currency)),
  ];
};

/** Facts on the left, the code on the right. */
const headElements = (piece: SheetPiece, width: number, coder: Coder): PageElement[] => {
  const label = { left: width - CODE_mm, top: 0, right: width, bottom: CODE_mm };
  const code = placeCode(coder, piece.address, { label, ink: label, most_mm: CODE_mm, down: 0 });
  let y = 0;
  const facts = factsOf(piece).flatMap((text) => {
    const fit = { width_mm: code.light.left, height_mm: 20, most_mm: FACT_mm, least_mm: 2.2, lines: 2 };
    const found = fitted(text, fit);
    if (!found) return [];
    const placed = placedText(found, 0, y);
    y += found.height_mm + 0.8;
    return placed;
  });
  return [...facts, code.element];
};

const pictureBlocks = ({ picture, photos }: SheetPiece, width: number): Block[] => {
  if (!picture) return [];
  const scale = scaleOf(picture, width, PICTURE_mm[photos?.before || photos?.after ? 'under' : 'alone']);
  const size = scale === 1 ? 'True size' : `Drawn 1 : ${scale}`;
  return [
    { kind: 'heading', text: 'Before and after the fire' },
    {
      kind: 'drawing',
      caption: `${size}. Dashed: before the fire, bone dry. Grey: after it. ${printable(picture.said)}`,
      elements: pictureElements(picture, scale),
    },
  ];
};

/** Before on the left, after on the right. */
const photoBlocks = ({ before, after }: NonNullable<SheetPiece['photos']> = {}): Block[] => {
  const shown = [
    ...(before ? [['before the fire', before] as const] : []),
    ...(after ? [['after the fire', after] as const] : []),
  ];
  if (shown.length === 0) return [];
  return [
    {
      kind: 'drawing',
      caption: `Photographed ${shown.map(([when]) => when).join(', and ')}.`,
      elements: shown.map(([, href], i): PageElement => {
        const x_mm = i * (PHOTO.width_mm + 4);
        return { kind: 'image', x_mm, y_mm: 0, ...PHOTO, href };
      }),
    },
  ];
};

const blocksOf = (piece: SheetPiece, width: number, coder: Coder): Block[] => {
  const { number, title, state, notes } = piece;
  const items = notes.map(({ day, what, words }) => `${day}, ${what}: ${printable(words)}`);
  const list = (heading: string, of: readonly string[]): Block[] =>
    of.length === 0
      ? []
      : [
          { kind: 'heading', text: heading },
          { kind: 'list', numbered: false, items: of },
        ];
  return [
    { kind: 'title', text: printable(title ? `${number}  ${title}` : number) },
    {
      kind: 'drawing',
      caption: `The code says ${piece.address}`,
      elements: headElements(piece, width, coder),
    },
    ...photoBlocks(piece.photos),
    ...pictureBlocks(piece, width),
    { kind: 'heading', text: 'Measures' },
    ...measuresOf(piece),
    ...list('Notes', items),
    ...list('To look at', state.doubts),
  ];
};

/** The sheet of one piece: what it is, its picture before and after, its measures as it went, and what was noted. */
export const piecePages = (piece: SheetPiece, paper: Paper, coder: Coder, studio: string): Page[] => {
  const width = PAPERS[paper].width_mm - 2 * MARGIN_mm;
  return layOut(blocksOf(piece, width, coder), paper, printable(`${studio}: ${piece.number}`));
};
