import { h } from 'preact';
import type { Session } from '../../session.ts';
import { fieldOf } from '../../state/at.ts';
import { workOf } from '../../state/page.ts';
import { faultNote, NumberBox } from '../number-box.ts';
import type { Handle } from './handles.ts';
import { withOneMore } from './moves.ts';

interface Props {
  readonly session: Session;
  readonly handle: Handle;
  readonly width: number;
  readonly height: number;
  readonly choose: (chosen: number | undefined) => void;
}

const WIDTH_px = 138;
const HEIGHT_px = 152;
/** Clear of the finger that holds the handle. */
const AWAY_px = 34;

const boxesFor = (session: Session, handle: Handle) =>
  handle.kind === 'line'
    ? [
        h(NumberBox, {
          session,
          path: [...handle.path, 'radius_mm'],
          label: 'Radius',
          unit: 'mm',
          step: 0.5,
          places: 2,
        }),
        h(NumberBox, {
          session,
          path: [...handle.path, 'height_mm'],
          label: 'Height',
          unit: 'mm',
          step: 0.5,
          places: 2,
        }),
      ]
    : [
        h(NumberBox, {
          session,
          path: [...handle.path, 'thickness_mm'],
          label: 'Wall',
          unit: 'mm',
          step: 0.1,
          places: 2,
        }),
        h(NumberBox, {
          session,
          path: [...handle.path, 'along'],
          label: 'Up the line',
          unit: '%',
          step: 1,
          times: 100,
        }),
      ];

/** The numbers of the chosen handle, to type, beside it and clear of the line. */
export const HandleNumbers = ({ session, handle, width, height, choose }: Props) => {
  const page = session.page();
  const room = handle.x + AWAY_px + WIDTH_px <= width;
  const left = room ? handle.x + AWAY_px : Math.max(4, handle.x - AWAY_px - WIDTH_px);
  const top = Math.min(Math.max(4, handle.y - HEIGHT_px / 2), Math.max(4, height - HEIGHT_px - 4));
  const { form } = workOf(page);
  const least = handle.kind === 'line' ? 2 : 1;
  const count = handle.kind === 'line' ? form.line.length : form.wall.length;
  return h(
    'div',
    { class: 'handle-numbers', style: { left: `${left}px`, top: `${top}px`, width: `${WIDTH_px}px` } },
    boxesFor(session, handle),
    faultNote(page.faults[fieldOf(handle.path)], 'fault-handle'),
    h(
      'div',
      { class: 'row' },
      h(
        'button',
        {
          type: 'button',
          'aria-label': 'One more point after this one',
          onClick: () => session.replace({ ...workOf(session.page()), form: withOneMore(form, handle) }),
        },
        'Add',
      ),
      count > least &&
        h(
          'button',
          {
            type: 'button',
            'aria-label': 'Take this point away',
            onClick: () => {
              if (session.edit(handle.path, undefined)) choose(undefined);
            },
          },
          'Remove',
        ),
    ),
  );
};
