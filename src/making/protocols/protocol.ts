import { type Block, layOut } from '../paper/lay-out.ts';
import { type Page, type Paper, pageSvg } from '../paper/page.ts';
import { conesBlocks } from './cone-sheet.ts';
import { holdsBlocks, sagBlocks } from './sag-sheets.ts';
import { type ProtocolKind, type ProtocolOptions, TITLES } from './sheet-parts.ts';
import { absorptionBlocks, shrinkageBlocks } from './size-sheets.ts';

/** Guided test pieces to print: what to make, how to fire it, where to write what was measured. */

export interface Protocol {
  readonly kind: ProtocolKind;
  readonly title: string;
  readonly blocks: readonly Block[];
}

const BLOCKS: Readonly<Record<ProtocolKind, (o: ProtocolOptions) => Block[]>> = {
  'sag-bar': sagBlocks,
  'shrinkage-bar': shrinkageBlocks,
  absorption: absorptionBlocks,
  'bars-at-holds': holdsBlocks,
  'witness-cones': conesBlocks,
};

/**
 * A protocol as blocks of text, drawings at true size and tables to fill in by hand.
 * @throws AfterfireError `bad-input` for sizes that make no bar, or no such cone
 */
export const protocolOf = (kind: ProtocolKind, options: ProtocolOptions = {}): Protocol => ({
  kind,
  title: TITLES[kind],
  blocks: BLOCKS[kind](options),
});

/** Its pages on a paper, nothing in the margins. */
export const protocolPages = (protocol: Protocol, paper: Paper): Page[] =>
  layOut(
    protocol.blocks,
    paper,
    `Afterfire: ${protocol.title}. Advice, not a rule: makers' and local rules come first.`,
  );

/** Its pages as SVG at true size, one each. */
export const protocolSvg = (protocol: Protocol, paper: Paper): string[] =>
  protocolPages(protocol, paper).map(pageSvg);
