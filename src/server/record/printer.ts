import type { Paper } from '../../making/paper/page.ts';
import type { LabelSheet } from '../../making/record-paper/label-sheet.ts';
import type { StudioRecord } from '../../store/record.ts';

/** The papers that a piece has. */
export const PAPER_KINDS = ['labels', 'tags', 'cards', 'sheet'] as const;
export type PaperKind = (typeof PAPER_KINDS)[number];

export interface PaperAsked {
  readonly kind: PaperKind;
  /** Numbers of pieces that are in the record. */
  readonly numbers: readonly string[];
  readonly paper: Paper;
  readonly labels: LabelSheet;
  /** Labels: the first free one of the first sheet, from 1, along the rows. */
  readonly first: number;
  /** Tags: with the price. */
  readonly price?: true | undefined;
}

export interface Printed {
  readonly pdf: Uint8Array;
  /** What is not on it, and why; a line each. */
  readonly said: readonly string[];
}

/** Makes a PDF; who starts the server hands it in, for letters, codes and foreseen pictures are made there. */
export type Printer = (record: StudioRecord, asked: PaperAsked) => Promise<Printed>;
