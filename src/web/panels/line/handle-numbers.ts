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

const WIDTH_px = 176;
const HEIGHT_px = 156;
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

const clamp = (value: number, most: number): number => Math.min(Math.max(4, value), Math.max(4, most));

/** To the right of the handle if there is room, else above it on the inside, where a line that leans out leaves room. */
const placeFor = ({ x, y }: Handle, width: number, height: number): readonly [left: number, top: number] => {
  const lowest = height - HEIGHT_px - 4;
  if (x + AWAY_px + WIDTH_px <= width) return [x + AWAY_px, clamp(y - HEIGHT_px / 2, lowest)];
  if (y > HEIGHT_px + AWAY_px) return [clamp(x - WIDTH_px, width - WIDTH_px - 4), y - AWAY_px - HEIGHT_px];
  return [clamp(x - AWAY_px - WIDTH_px, width), clamp(y - HEIGHT_px / 2, lowest)];
};

/** The numbers of the chosen handle, to type, beside it and clear of the line. */
export const HandleNumbers = ({ session, handle, width, height, choose }: Props) => {
  const page = session.page();
  const [left, top] = placeFor(handle, width, height);
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
