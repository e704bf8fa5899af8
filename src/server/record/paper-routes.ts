import { Hono } from 'hono';
import { z } from 'zod';
import { AfterfireError, badInput } from '../../error.ts';
import { LABEL_SHEETS, labelSheetNamed, USUAL_LABELS } from '../../making/record-paper/label-sheet.ts';
import { parseShape } from '../../shape.ts';
import type { Db } from '../../store/db.ts';
import { pieceById } from '../../store/pieces.ts';
import { readSettings } from '../../store/settings.ts';
import { asFile, fileName, notForOthers } from './file-answer.ts';
import { oneAtATime } from './one-at-a-time.ts';
import { PAPER_KINDS, type PaperKind, type Printer } from './printer.ts';
import type { RecordSource } from './source.ts';

/** So many pieces at once; each sheet may want its form fired for the picture. */
const MOST: Readonly<Record<PaperKind, number>> = { labels: 500, tags: 500, cards: 500, sheet: 12 };

const Asked = z.strictObject({
  pieces: z.string().regex(/^[1-9]\d{0,14}(,[1-9]\d{0,14})*$/, 'ids of pieces with commas between them'),
  paper: z.enum(['a4', 'letter']).optional(),
  labels: z.enum(Object.keys(LABEL_SHEETS) as [string, ...string[]]).optional(),
  first: z
    .string()
    .regex(/^[1-9]\d{0,3}$/, 'the first free label, a whole number from 1')
    .default('1'),
  price: z.literal('yes').optional(),
});

const numbersOf = (db: Db, ids: string, most: number): string[] => {
  const asked = [...new Set(ids.split(','))];
  if (asked.length > most) throw badInput('pieces', `${asked.length} pieces`, `at most ${most} at once`);
  return asked.map((id) => {
    const { state } = pieceById(db, Number(id)) ?? {};
    if (state?.number === undefined || state.stage === 'not begun')
      throw new AfterfireError('not-found', `piece ${id}: there is no such piece in the record`);
    return state.number;
  });
};

const NO_PRINTER = new AfterfireError('cannot-do', 'This server prints nothing; the command line does');

/** Papers of pieces as PDF at true size. What could not be put on one is said in a header, as a JSON list of lines. */
export const paperRoutes = (source: RecordSource, printer: Printer | undefined): Hono => {
  const alone = oneAtATime('Another paper');
  const site = new Hono();
  site.use(notForOthers);
  return site.get('/:kind', async (c) => {
    const kind = PAPER_KINDS.find((one) => one === c.req.param('kind'));
    if (!kind) throw new AfterfireError('not-found', `papers: ${PAPER_KINDS.join(', ')}`);
    const asked = parseShape(Asked, c.req.query(), 'paper');
    if (!printer) throw NO_PRINTER;
    const record = await source();
    const settings = readSettings(record.db);
    const paper = asked.paper ?? (settings.paper === 'A4' ? 'a4' : 'letter');
    const numbers = numbersOf(record.db, asked.pieces, MOST[kind]);
    const labels = labelSheetNamed(asked.labels ?? USUAL_LABELS[paper]);
    const first = Number(asked.first);
    const price = asked.price && (true as const);
    const { pdf, said } = await alone(() => printer(record, { kind, numbers, paper, labels, first, price }));
    const what = numbers.length === 1 ? numbers[0]! : `${numbers.length}-pieces`;
    asFile(c, 'application/pdf', fileName(kind, what, '.pdf'));
    if (said.length > 0) c.header('Afterfire-Said', encodeURIComponent(JSON.stringify(said.slice(0, 20))));
    return c.body(new Uint8Array(pdf));
  });
};
