import { ASCENT, DESCENT, textWidth_mm } from './letters.ts';
import { escaped, mm } from './svg-text.ts';

/** A printed page at true size: everything in mm from the top left corner of the paper. */

/** ISO 216 A4, and US Letter (8.5 × 11 in). */
export const PAPERS = {
  a4: { width_mm: 210, height_mm: 297 },
  letter: { width_mm: 215.9, height_mm: 279.4 },
} as const;
export type Paper = keyof typeof PAPERS;
export interface PaperSize {
  readonly width_mm: number;
  readonly height_mm: number;
}
export const sizeOfPaper = (paper: Paper | PaperSize): PaperSize =>
  typeof paper === 'string' ? PAPERS[paper] : paper;
/** Most printers leave at least this much free (common practice, no source). */
export const MARGIN_mm = 12;

export interface PageText {
  readonly kind: 'text';
  readonly x_mm: number;
  /** Of the line the letters stand on. */
  readonly y_mm: number;
  readonly size_mm: number;
  readonly text: string;
  readonly bold?: boolean;
}

export interface PageLine {
  readonly kind: 'line';
  readonly points_mm: readonly (readonly [number, number])[];
  readonly closed?: boolean;
  readonly width_mm: number;
  readonly dashed?: boolean;
}

/** A surface of one grey; where its rings lie in one another, the inner is a hole. */
export interface PageFill {
  readonly kind: 'fill';
  readonly rings_mm: readonly (readonly (readonly [number, number])[])[];
  /** 0 black, 1 white; left out: black. */
  readonly grey?: number;
}

/** A picture in the middle of its place, as large as it fits there. */
export interface PageImage {
  readonly kind: 'image';
  readonly x_mm: number;
  readonly y_mm: number;
  readonly width_mm: number;
  readonly height_mm: number;
  /** A JPEG or PNG as a `data:` address. */
  readonly href: string;
}

export type PageElement = PageText | PageLine | PageFill | PageImage;

export interface Page {
  readonly paper: Paper | PaperSize;
  readonly elements: readonly PageElement[];
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** What an element may leave ink on. */
export const boxOf = (e: PageElement): Box => {
  if (e.kind === 'text')
    return {
      left: e.x_mm,
      right: e.x_mm + textWidth_mm(e.text, e.size_mm, e.bold),
      top: e.y_mm - ASCENT * e.size_mm,
      bottom: e.y_mm + DESCENT * e.size_mm,
    };
  if (e.kind === 'image')
    return { left: e.x_mm, top: e.y_mm, right: e.x_mm + e.width_mm, bottom: e.y_mm + e.height_mm };
  const half = e.kind === 'line' ? e.width_mm / 2 : 0;
  const points = e.kind === 'line' ? e.points_mm : e.rings_mm.flat();
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return {
    left: Math.min(...xs) - half,
    right: Math.max(...xs) + half,
    top: Math.min(...ys) - half,
    bottom: Math.max(...ys) + half,
  };
};

/** An element moved as a whole. */
export const moved = (e: PageElement, x: number, y: number): PageElement => {
  const all = (points: PageLine['points_mm']) => points.map(([px, py]) => [px + x, py + y] as const);
  switch (e.kind) {
    case 'text':
    case 'image':
      return { ...e, x_mm: e.x_mm + x, y_mm: e.y_mm + y };
    case 'line':
      return { ...e, points_mm: all(e.points_mm) };
    case 'fill':
      return { ...e, rings_mm: e.rings_mm.map(all) };
  }
};

/** `#000` to `#fff` */
export const greyColour = (share = 0): string =>
  `#${Math.round(255 * share)
    .toString(16)
    .padStart(2, '0')
    .repeat(3)}`;

const pathOf = (points: PageLine['points_mm'], closed?: boolean): string =>
  `M${points.map(([x, y]) => `${mm(x)} ${mm(y)}`).join('L')}${closed ? 'Z' : ''}`;

const elementSvg = (e: PageElement): string => {
  if (e.kind === 'text') {
    const weight = e.bold ? ' font-weight="bold"' : '';
    return `<text x="${mm(e.x_mm)}" y="${mm(e.y_mm)}" font-size="${mm(e.size_mm)}"${weight}>${escaped(e.text)}</text>`;
  }
  if (e.kind === 'image')
    return `<image x="${mm(e.x_mm)}" y="${mm(e.y_mm)}" width="${mm(e.width_mm)}" height="${mm(e.height_mm)}" href="${escaped(e.href)}"/>`;
  if (e.kind === 'fill')
    return `<path d="${e.rings_mm.map((ring) => pathOf(ring, true)).join('')}" fill="${greyColour(e.grey)}" fill-rule="evenodd"/>`;
  const path = pathOf(e.points_mm, e.closed);
  const dash = e.dashed ? ' stroke-dasharray="2 1.5"' : '';
  return `<path d="${path}" fill="none" stroke="#000" stroke-width="${mm(e.width_mm)}"${dash}/>`;
};

/** A page as SVG at true size. */
export const pageSvg = ({ paper, elements }: Page): string => {
  const { width_mm, height_mm } = sizeOfPaper(paper);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width_mm}mm" height="${height_mm}mm" viewBox="0 0 ${width_mm} ${height_mm}" font-family="DejaVu Sans, sans-serif">\n<rect width="${width_mm}" height="${height_mm}" fill="#fff"/>\n${elements.map(elementSvg).join('\n')}\n</svg>\n`;
};
