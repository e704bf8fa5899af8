import { AfterfireError, badInput } from '../../error.ts';
import type { AbsorptionPiece } from '../../making/clay/test-pieces/absorption.ts';
import type { SagBar } from '../../making/clay/test-pieces/sag-bar.ts';
import type { ShrinkageBar } from '../../making/clay/test-pieces/shrinkage-bars.ts';
import { parseTestPieces, type TestFiring, type TestPiecesFile } from '../../making/test-pieces-file.ts';
import type { Studio } from './page.ts';

/** Test pieces while they are measured: numbers still to come are left out. */

export type Group = 'sagBars' | 'shrinkageBars' | 'absorption';
export type DraftSag = Partial<SagBar> & { readonly name: string };
export type DraftShrinkage = Partial<ShrinkageBar> & { readonly name: string };
export type DraftPiece = Partial<AbsorptionPiece> & { readonly name: string };

export interface DraftTests {
  readonly name: string;
  readonly note?: string | undefined;
  /** Key of the clay in the studio. */
  readonly clay: string;
  readonly firings: readonly TestFiring[];
  readonly sagBars: readonly DraftSag[];
  readonly shrinkageBars: readonly DraftShrinkage[];
  readonly absorption: readonly DraftPiece[];
  /** Names of sag bars that are read and do not count. */
  readonly leaveOut: readonly string[];
}

const KEY = 'afterfire/test-pieces/1';
const MAX_BYTES = 2e6;

export const newTests = (studio: Studio): DraftTests => ({
  name: 'Test pieces',
  clay: studio.studio.clay,
  firings: [{ name: 'first firing', kiln: 'the kiln', schedule: `${studio.studio.schedule}.schedule.json` }],
  sagBars: [{ name: 'A1', firing: 'first firing' }],
  shrinkageBars: [],
  absorption: [],
  leaveOut: [],
});

export const draftFrom = ({ clay, ...file }: TestPiecesFile): DraftTests => {
  const { afterfire: _, ...rest } = file;
  return { ...rest, clay: clay.replace(/\.clay\.json$/, ''), leaveOut: [] };
};

/** What of a row is still to be measured; none: it counts. */
export const missing = {
  sagBars: (b: DraftSag): string[] => [
    ...(b.span_mm === undefined ? ['span'] : []),
    ...(b.length_mm === undefined && b.held !== 'by its ends' ? ['length'] : []),
    ...(b.thickness_mm === undefined ? ['thickness'] : []),
    ...(b.sag_mm === undefined && (b.end ?? 'free') === 'free' ? ['sag'] : []),
  ],
  shrinkageBars: (b: DraftShrinkage): string[] => {
    const known = [b.wet_mm, b.dry_mm, b.fired_mm].filter((l) => l !== undefined).length;
    return known >= 2 ? [] : known === 1 ? ['one more length'] : ['two lengths'];
  },
  absorption: (p: DraftPiece): string[] =>
    (['dry', 'soaked', 'hanging'] as const).filter((k) => p[`${k}_g`] === undefined),
} as const;

/** What is measured so far as a file, and where each of its rows stands in the draft. */
export interface Sent {
  readonly json: unknown;
  readonly rows: Readonly<Record<Group, readonly number[]>>;
}

const whole = <T>(rows: readonly T[], missingOf: (row: T) => string[]): number[] =>
  rows.flatMap((row, i) => (missingOf(row).length === 0 ? [i] : []));

export const sentOf = (draft: DraftTests): Sent => {
  const { leaveOut: _, clay, ...rest } = draft;
  const rows = {
    sagBars: whole(draft.sagBars, missing.sagBars),
    shrinkageBars: whole(draft.shrinkageBars, missing.shrinkageBars),
    absorption: whole(draft.absorption, missing.absorption),
  };
  return {
    json: {
      afterfire: 'test-pieces/1',
      ...rest,
      clay: `${clay}.clay.json`,
      sagBars: rows.sagBars.map((i) => draft.sagBars[i]),
      shrinkageBars: rows.shrinkageBars.map((i) => draft.shrinkageBars[i]),
      absorption: rows.absorption.map((i) => draft.absorption[i]),
    },
    rows,
  };
};

export const anyMeasured = ({ rows }: Sent, draft: DraftTests): boolean =>
  rows.sagBars.length + rows.shrinkageBars.length + rows.absorption.length > 0 ||
  draft.firings.some((f) => (f.cones?.length ?? 0) > 0);

/** `test-pieces.sagBars[0].span_mm` of what was sent, as a place in the draft. */
export const placeIn = (sent: Sent, field: string): string =>
  field
    .replace(
      /^(?:test-pieces\.)?(sagBars|shrinkageBars|absorption)\[(\d+)\]/,
      (_, group: Group, i: string) => {
        return `${group}[${sent.rows[group][Number(i)] ?? i}]`;
      },
    )
    .replace(/^test-pieces\./, '');

export const keepTests = (draft: DraftTests): void => {
  try {
    localStorage.setItem(KEY, JSON.stringify(draft));
  } catch {
    // A browser that keeps nothing is no trouble: it can be saved as a file.
  }
};

export const keptTests = (studio: Studio): DraftTests | undefined => {
  try {
    const draft = JSON.parse(localStorage.getItem(KEY) ?? 'null') as DraftTests | null;
    if (!draft || !studio.clays[draft.clay]) return undefined;
    // Only what the page can show: firings and rows as lists.
    const lists = [draft.firings, draft.sagBars, draft.shrinkageBars, draft.absorption, draft.leaveOut];
    return lists.every(Array.isArray) ? draft : undefined;
  } catch {
    return undefined;
  }
};

/** @throws AfterfireError naming field, value and what would be right */
export const readTestsFile = async (
  file: Blob & { readonly name: string },
  studio: Studio,
): Promise<DraftTests> => {
  if (file.size > MAX_BYTES)
    throw new AfterfireError(
      'too-large',
      `${file.name}: a file of test pieces is at most ${MAX_BYTES / 1e6} MB`,
    );
  const text = await file.text();
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw badInput(file.name, text.slice(0, 30), `test pieces in JSON (${(error as Error).message})`);
  }
  const draft = draftFrom(parseTestPieces(json));
  if (!studio.clays[draft.clay])
    throw badInput(
      'test-pieces.clay',
      draft.clay,
      `a clay of this studio: ${Object.keys(studio.clays).join(', ')}`,
    );
  return draft;
};

export const testsFileName = ({ name }: DraftTests): string =>
  `${
    name
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '') || 'test-pieces'
  }.test-pieces.json`;

/** A name the others do not have: A1, A2, ... */
export const nextName = (rows: readonly { readonly name: string }[], first: string): string => {
  const used = new Set(rows.map((r) => r.name));
  for (let n = 1; ; n++) if (!used.has(`${first}${n}`)) return `${first}${n}`;
};
