import type { Clay } from '../../making/clay/clay.ts';
import type { Softness } from '../../making/clay/test-pieces/softness-grid.ts';
import type { Schedule } from '../../making/kiln/schedule.ts';
import type { TestPiecesFinding } from '../../making/read-test-pieces.ts';

export interface TestPiecesAsk {
  /** As it would stand in a file. */
  readonly json: unknown;
  readonly clay: Clay;
  readonly schedules: Readonly<Record<string, Schedule>>;
  readonly leaveOut: readonly string[];
}

export interface TestPiecesTold {
  readonly finding: TestPiecesFinding;
  /** What the clay's file holds of its softness, before the bars. */
  readonly before: Softness;
  /** The clay the bars were counted from. */
  readonly from: Clay;
}
