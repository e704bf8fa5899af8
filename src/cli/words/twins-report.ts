import type { Twins } from '../../making/firing/compare-twins.ts';
import type { HandlingCompared } from '../../making/handling/tell-handling.ts';
import { table } from '../table.ts';
import { list } from './firing-report.ts';
import { quantityOf } from './quantity.ts';
import { SAFETY_IN_BRIEF } from './safety.ts';

const ROWS = ['height_m', 'lipDrop_m', 'topDrop_m', 'greatestSag_m', 'weight_kg'];

const told = (key: string, { value, low, high }: { value: number; low: number; high: number }): string => {
  const { told: said } = quantityOf(key);
  return Number.isFinite(low) && Number.isFinite(high)
    ? `${said(value)} (${said(low)} to ${said(high)})`
    : said(value);
};

/** A piece against its plain twin, to be read in a terminal. */
export const twinsReport = (
  called: string,
  { piece, plain, comparison }: Twins,
  inHand: { readonly dry: HandlingCompared; readonly fired: HandlingCompared },
): string => {
  const head = `${piece.input.form.name} and its plain twin, ${called}`;
  const rows = ROWS.filter((key) => key in piece.estimates && key in plain.estimates).map((key) => {
    const { label, unit } = quantityOf(key);
    return [`${label}, ${unit}`, told(key, piece.estimates[key]), told(key, plain.estimates[key])];
  });
  return [
    `${head}\n${'='.repeat(head.length)}\n${comparison.text}\n\n`,
    table(['fired', `with its ${comparison.without}`, 'plain'], rows),
    list('Verdicts', [
      `With its ${comparison.without}: ${piece.verdict.text}`,
      `Plain: ${plain.verdict.text}`,
    ]),
    list('In the hand', [`Bone dry. ${inHand.dry.text}`, `Fired. ${inHand.fired.text}`]),
    list('How sure', [...new Set([...piece.provenance, ...plain.provenance])]),
    `\n${SAFETY_IN_BRIEF}\n`,
  ].join('');
};
