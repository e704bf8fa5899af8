import { ASCENT, brokenInto, DESCENT, textWidth_mm } from './letters.ts';
import { boxOf, MARGIN_mm, moved, PAPERS, type Page, type PageElement, type Paper } from './page.ts';

/** Blocks one under another, on as many pages as they need. What should stay together does. */
export type Block =
  | { readonly kind: 'title'; readonly text: string }
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'paragraph'; readonly text: string }
  | { readonly kind: 'list'; readonly numbered: boolean; readonly items: readonly string[] }
  | {
      readonly kind: 'table';
      readonly columns: readonly Column[];
      readonly rows: readonly (readonly string[])[];
    }
  | { readonly kind: 'drawing'; readonly caption: string; readonly elements: readonly PageElement[] };

export interface Column {
  readonly title: string;
  /** Against the other columns. */
  readonly share: number;
}

const TEXT = 3;
const LINE = 4.2;
const SIZES = { title: 5.6, heading: 3.8 } as const;
const GAP = 2.4;
const ROW = 8;
const INDENT = 6;
const CELL_TEXT = 2.5;
const CELL_LINE = 3.3;
const FOOT = 6;
/** Frames are drawn on their middle, and half of the line must stay out of the margin. */
const EDGE = 0.2;

/** One thing that is not torn apart: elements from its own top left corner, and how much room it takes. */
interface Chunk {
  readonly elements: readonly PageElement[];
  readonly height: number;
  /** Never last on a page: a heading. */
  readonly withNext?: boolean;
  /** Repeated where the table goes on overleaf. */
  readonly head?: Chunk;
}

const lines = (text: string, width: number, size: number, step: number, bold: boolean, x = 0): Chunk => {
  const broken = brokenInto(text, width - x, size, bold);
  const elements = broken.map(
    (line, i): PageElement => ({
      kind: 'text',
      x_mm: x,
      y_mm: ASCENT * size + i * step,
      size_mm: size,
      text: line,
      bold,
    }),
  );
  return { elements, height: (broken.length - 1) * step + (ASCENT + DESCENT) * size };
};

const listChunks = (items: readonly string[], numbered: boolean, width: number): Chunk[] =>
  items.map((item, i) => {
    const body = lines(item, width, TEXT, LINE, false, INDENT);
    const mark: PageElement = {
      kind: 'text',
      x_mm: 0,
      y_mm: ASCENT * TEXT,
      size_mm: TEXT,
      text: numbered ? `${i + 1}.` : '–',
    };
    return { elements: [mark, ...body.elements], height: body.height + 0.8 };
  });

const frame = (x: number, y: number, w: number, h: number): PageElement => ({
  kind: 'line',
  points_mm: [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ],
  closed: true,
  width_mm: 0.2,
});

const rowChunk = (
  cells: readonly string[],
  widths: readonly number[],
  bold: boolean,
  least: number,
): Chunk => {
  const pad = 0.8;
  const cell = cells.map((text, i) => lines(text, widths[i] - 2 * pad, CELL_TEXT, CELL_LINE, bold));
  const height = Math.max(least, ...cell.map((c) => c.height + 2 * pad));
  let x = EDGE;
  const elements: PageElement[] = [];
  cell.forEach((c, i) => {
    elements.push(frame(x, 0, widths[i], height));
    if (cells[i] !== '') elements.push(...c.elements.map((e) => moved(e, x + pad, pad)));
    x += widths[i];
  });
  return { elements, height };
};

const tableChunks = (
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  width: number,
): Chunk[] => {
  const whole = columns.reduce((s, c) => s + c.share, 0);
  const widths = columns.map((c) => ((width - 2 * EDGE) * c.share) / whole);
  const head = {
    ...rowChunk(
      columns.map((c) => c.title),
      widths,
      true,
      0,
    ),
    withNext: true,
  };
  return [head, ...rows.map((r): Chunk => ({ ...rowChunk(r, widths, false, ROW), head }))];
};

const drawingChunk = (caption: string, elements: readonly PageElement[], width: number): Chunk => {
  const boxes = elements.map(boxOf);
  const left = Math.min(...boxes.map((b) => b.left));
  const top = Math.min(...boxes.map((b) => b.top));
  const bottom = Math.max(...boxes.map((b) => b.bottom));
  const words = lines(caption, width, TEXT, LINE, false);
  const drawn = elements.map((e) => moved(e, -left, -top));
  const under = bottom - top + 1.6;
  return {
    elements: [...drawn, ...words.elements.map((e) => moved(e, 0, under))],
    height: under + words.height,
  };
};

const gap: Chunk = { elements: [], height: GAP };

const chunksOf = (block: Block, width: number): Chunk[] => {
  switch (block.kind) {
    case 'title':
      return [lines(block.text, width, SIZES.title, 7, true), gap];
    case 'heading':
      return [
        { ...lines(block.text, width, SIZES.heading, 5, true), withNext: true },
        { ...gap, height: 0.6, withNext: true },
      ];
    case 'paragraph':
      return [lines(block.text, width, TEXT, LINE, false), gap];
    case 'list':
      return [...listChunks(block.items, block.numbered, width), gap];
    case 'table':
      return [...tableChunks(block.columns, block.rows, width), gap];
    case 'drawing':
      return [drawingChunk(block.caption, block.elements, width), gap];
  }
};

const footed = (pages: readonly PageElement[][], paper: Paper, foot: string): Page[] =>
  pages.map((elements, i) => {
    const { width_mm, height_mm } = PAPERS[paper];
    const y_mm = height_mm - MARGIN_mm - DESCENT * CELL_TEXT;
    const number = `${i + 1} of ${pages.length}`;
    const x = width_mm - MARGIN_mm - textWidth_mm(number, CELL_TEXT);
    const text = (x_mm: number, said: string): PageElement => ({
      kind: 'text',
      x_mm,
      y_mm,
      size_mm: CELL_TEXT,
      text: said,
    });
    return { paper, elements: [...elements, text(MARGIN_mm, foot), text(x, number)] };
  });

/** Blocks on pages of this paper, margins kept. */
export const layOut = (blocks: readonly Block[], paper: Paper, foot: string): Page[] => {
  const { width_mm, height_mm } = PAPERS[paper];
  const width = width_mm - 2 * MARGIN_mm;
  const end = height_mm - MARGIN_mm - FOOT;
  const pages: PageElement[][] = [[]];
  let y = MARGIN_mm + EDGE;
  const put = (chunk: Chunk): void => {
    pages.at(-1)?.push(...chunk.elements.map((e) => moved(e, MARGIN_mm, y)));
    y += chunk.height;
  };
  const chunks = blocks.flatMap((b) => chunksOf(b, width));
  chunks.forEach((chunk, i) => {
    // A heading goes over with what it heads.
    let needs = chunk.height;
    for (let k = i; chunks[k]?.withNext && k + 1 < chunks.length; k++) needs += chunks[k + 1].height;
    if (y + needs > end && y > MARGIN_mm + EDGE) {
      if (chunk.elements.length === 0) return;
      pages.push([]);
      y = MARGIN_mm + EDGE;
      if (chunk.head) put(chunk.head);
    }
    put(chunk);
  });
  return footed(pages, paper, foot);
};
