import PDFDocument from 'pdfkit';
import {
  greyColour,
  type Page,
  type PageElement,
  type PageLine,
  sizeOfPaper,
} from '../../making/paper/page.ts';
import { fontFile } from './fonts.ts';

/** A point is 1/72 in. */
const PER_mm = 72 / 25.4;
/** The same pages give the same file whenever they are written. */
const NO_DATE = new Date(0);

type Document = InstanceType<typeof PDFDocument>;

const trace = (doc: Document, points: PageLine['points_mm'], closed?: boolean): void => {
  points.forEach(([x, y], i) => {
    if (i === 0) doc.moveTo(x, y);
    else doc.lineTo(x, y);
  });
  if (closed) doc.closePath();
};

const draw = (doc: Document, e: PageElement): void => {
  if (e.kind === 'text') {
    doc
      .font(e.bold ? 'bold' : 'plain')
      .fontSize(e.size_mm)
      .fillColor('#000')
      .text(e.text, e.x_mm, e.y_mm, { lineBreak: false, baseline: 'alphabetic' });
    return;
  }
  if (e.kind === 'image') {
    const fit: [number, number] = [e.width_mm, e.height_mm];
    doc.image(e.href, e.x_mm, e.y_mm, { fit, align: 'center', valign: 'center' });
    return;
  }
  if (e.kind === 'fill') {
    for (const ring of e.rings_mm) trace(doc, ring, true);
    doc.fill(greyColour(e.grey), 'even-odd');
    return;
  }
  trace(doc, e.points_mm, e.closed);
  doc.lineWidth(e.width_mm).strokeColor('#000');
  if (e.dashed) doc.dash(2, { space: 1.5 });
  else doc.undash();
  doc.stroke();
};

/** Pages at true size as one PDF, with its letters in it. */
export const pdfOf = async (pages: readonly Page[], title: string): Promise<Uint8Array> => {
  const [plain, bold] = await Promise.all([fontFile(false), fontFile(true)]);
  const doc = new PDFDocument({
    autoFirstPage: false,
    margin: 0,
    info: { Title: title, Creator: 'Afterfire', Producer: 'Afterfire', CreationDate: NO_DATE },
  });
  const parts: Uint8Array[] = [];
  doc.on('data', (part: Uint8Array) => parts.push(part));
  const ended = new Promise<void>((resolve, reject) => {
    doc.on('end', () => resolve());
    doc.on('error', reject);
  });
  doc.registerFont('plain', plain as never);
  doc.registerFont('bold', bold as never);
  for (const { paper, elements } of pages) {
    const { width_mm, height_mm } = sizeOfPaper(paper);
    doc.addPage({ size: [width_mm * PER_mm, height_mm * PER_mm], margin: 0 });
    // All that follows is in mm.
    doc.scale(PER_mm);
    for (const e of elements) draw(doc, e);
  }
  doc.end();
  await ended;
  return Buffer.concat(parts);
};
