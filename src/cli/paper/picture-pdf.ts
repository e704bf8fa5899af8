import PDFDocument from 'pdfkit';
import { pngOf } from '../drawing/png.ts';

const PER_mm = 72 / 25.4;
/** The same picture gives the same file whenever it is written. */
const NO_DATE = new Date(0);
/** 300 dots an inch. */
const DOTS_PER_mm = 300 / 25.4;

/** A drawing in mm as a PDF of one page of its size, at true size. */
export const picturePdf = async (svg: string, title: string): Promise<Uint8Array> => {
  const [, width, height] = (/viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? []).map(Number);
  const size: [number, number] = [width * PER_mm, height * PER_mm];
  const doc = new PDFDocument({
    size,
    margin: 0,
    info: { Title: title, Creator: 'Afterfire', Producer: 'Afterfire', CreationDate: NO_DATE },
  });
  const parts: Uint8Array[] = [];
  doc.on('data', (part: Uint8Array) => parts.push(part));
  const ended = new Promise<void>((resolve, reject) => {
    doc.on('end', () => resolve());
    doc.on('error', reject);
  });
  doc.image(Buffer.from(await pngOf(svg, DOTS_PER_mm)), 0, 0, { width: size[0], height: size[1] });
  doc.end();
  await ended;
  return Buffer.concat(parts);
};
