import { h } from 'preact';
import { useState } from 'preact/hooks';
import type { Paper } from '../../making/paper/page.ts';
import { CUTTING, MEASURING_HOT } from '../../making/protocols/cautions.ts';
import type { ProtocolKind } from '../../making/protocols/sheet-parts.ts';
import { caution } from '../panels/cautions.ts';
import { saveText } from '../panels/save.ts';
import { FiringCards } from '../panels/test-pieces/firing-cards.ts';
import { pick } from '../panels/test-pieces/measure-box.ts';
import { PieceRows } from '../panels/test-pieces/piece-rows.ts';
import { ProtocolTiles } from '../panels/test-pieces/protocol-tiles.ts';
import { Sheets } from '../panels/test-pieces/sheets.ts';
import { TestsTold } from '../panels/test-pieces/tests-told.ts';
import type { Studio } from '../state/page.ts';
import { draftFrom, newTests, readTestsFile, sentOf, testsFileName } from '../state/test-pieces-draft.ts';
import { type TestsDesk, useTestsDesk } from '../state/tests-desk.ts';
import type { RoomProps } from './rooms.ts';

interface FilesProps {
  readonly studio: Studio;
  readonly desk: TestsDesk;
}

/** Opening puts what was entered aside, and one may go back to it; what is kept in files is never touched. */
const Files = ({ studio, desk }: FilesProps) => {
  const [wrong, setWrong] = useState<string>();
  const { draft, aside } = desk.now();
  const kept = Object.entries(studio.testPieces ?? {});
  const open = async (input: HTMLInputElement): Promise<void> => {
    const file = input.files?.[0];
    input.value = '';
    if (!file) return;
    try {
      desk.open(await readTestsFile(file, studio));
      setWrong(undefined);
    } catch (error) {
      setWrong(error instanceof Error ? error.message : String(error));
    }
  };
  return h(
    'div',
    { class: 'tests-files' },
    kept.map(([key, file]) =>
      h(
        'button',
        { key, type: 'button', 'data-open': key, onClick: () => desk.open(draftFrom(file)) },
        `Open “${file.name}”`,
      ),
    ),
    h(
      'label',
      { class: 'button' },
      'Open a file…',
      h('input', {
        type: 'file',
        accept: '.json,application/json',
        class: 'unseen',
        'aria-label': 'Open a file of test pieces',
        onChange: (event: Event) => void open(event.target as HTMLInputElement),
      }),
    ),
    h(
      'button',
      {
        type: 'button',
        'data-do': 'save-tests',
        onClick: () => saveText(`${JSON.stringify(sentOf(draft).json, null, 2)}\n`, testsFileName(draft)),
      },
      'Save as a file',
    ),
    h(
      'button',
      { type: 'button', 'data-do': 'new-tests', onClick: () => desk.open(newTests(studio)) },
      'Begin anew',
    ),
    aside &&
      h(
        'button',
        { type: 'button', 'data-do': 'tests-back', onClick: () => desk.open(aside) },
        'Back to what was entered before',
      ),
    wrong !== undefined &&
      h(
        'div',
        { class: 'fault', role: 'alert' },
        h('b', null, 'That file was not opened; what is entered is as it was.'),
        h('p', null, wrong),
      ),
  );
};

/** Protocols to print, results to enter, and what they say of clay and kiln. */
export const TestPiecesRoom = ({ session }: RoomProps) => {
  const { studio, lengths, degrees } = session.page();
  const desk = useTestsDesk(studio);
  const [printing, setPrinting] = useState<{ readonly kind: ProtocolKind; readonly paper: Paper }>();
  const { draft } = desk.now();
  const clays = Object.entries(studio.clays).map(([key, c]) => [key, c.name] as const);
  return h(
    'main',
    { class: 'room test-pieces' },
    h(
      'section',
      { class: 'protocols', 'aria-label': 'Protocols to print' },
      h('h2', null, 'Print a protocol, make the pieces, fire them'),
      h(ProtocolTiles, { print: (kind, paper) => setPrinting({ kind, paper }) }),
      h('div', { class: 'test-cautions' }, caution('Dust', CUTTING), caution('Heat', MEASURING_HOT)),
    ),
    h(
      'section',
      { class: 'entering', 'aria-label': 'What was measured' },
      h('h2', null, `What was measured: ${draft.name}`),
      h(Files, { studio, desk }),
      draft.note !== undefined && h('p', { class: 'hint' }, draft.note),
      clays.length > 1 && pick('Clay', 'tests.clay', draft.clay, clays, (clay) => desk.change({ clay })),
      h(FiringCards, { studio, desk, degrees }),
      (['sagBars', 'shrinkageBars', 'absorption'] as const).map((group) =>
        h(PieceRows, { key: group, desk, group, lengths }),
      ),
    ),
    h(TestsTold, { session, desk, lengths, degrees }),
    printing &&
      h(Sheets, {
        ...printing,
        clay: studio.clays[draft.clay]?.name ?? draft.clay,
        close: () => setPrinting(undefined),
      }),
  );
};
