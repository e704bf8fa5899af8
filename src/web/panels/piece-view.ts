import { h } from 'preact';
import { useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import { temperatureHistory } from '../../making/kiln/schedule.ts';
import { placeAt, temperatureAt_K } from '../heat.ts';
import type { Session } from '../session.ts';
import { type Fired, shownOf, workOf } from '../state/page.ts';
import { openView, type View } from '../view/view.ts';
import { inLengths } from '../words.ts';

const TURN_rad = 0.12;
/** A line each centimetre or half inch. */
const SHELF_LINES = { mm: { line_m: 0.01, said: '10 mm' }, in: { line_m: 0.0127, said: '½ in' } } as const;

/** What makes a film another piece and not the same one redrawn: then the picture is framed afresh. */
const subject = (fired: Fired | undefined, opened: string | undefined): string =>
  fired ? `${opened} ${fired.film.setting.attitude}` : '';

const press = (view: View | undefined, event: KeyboardEvent): void => {
  const round = event.key === 'ArrowLeft' ? -1 : event.key === 'ArrowRight' ? 1 : 0;
  const up = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0;
  if (round === 0 && up === 0) return;
  event.preventDefault();
  view?.turn(round * TURN_rad, up * TURN_rad);
};

const toggles = (session: Session) => {
  const { ghost, movement, lengths } = session.page();
  return h(
    'div',
    { class: 'toggles' },
    h(
      'button',
      {
        type: 'button',
        class: 'ghost-key',
        'aria-pressed': ghost,
        onClick: () => session.update((p) => ({ ...p, ghost: !p.ghost })),
      },
      'Before the fire',
    ),
    h(
      'button',
      {
        type: 'button',
        class: 'moved-key',
        'aria-pressed': movement,
        onClick: () => session.update((p) => ({ ...p, movement: !p.movement })),
      },
      movement ? inLengths('Red: 8 mm or more', lengths) : 'Where it moves',
    ),
    h('span', null, `Shelf lines: ${SHELF_LINES[lengths].said}`),
  );
};

/** The piece: before as a ghost, now as clay, on a ruled shelf. */
export const PieceView = ({ session }: { readonly session: Session }) => {
  const page = session.page();
  const { schedule } = workOf(page);
  const fired = shownOf(page);
  const canvas = useRef<HTMLCanvasElement>(null);
  const view = useRef<View | undefined>(undefined);
  const last = useRef('');
  const history = useMemo(() => temperatureHistory(schedule), [schedule]);

  useLayoutEffect(() => {
    view.current = openView(canvas.current!);
    const watch = new ResizeObserver(() => view.current?.resize());
    watch.observe(canvas.current!);
    return () => watch.disconnect();
  }, []);

  const film = fired?.film;
  const time_s = page.moment * history.time_s.at(-1)!;
  const place = film ? placeAt(film.pictures, time_s) : 0;
  useLayoutEffect(() => {
    if (!film) return;
    const now = subject(fired, page.opened);
    view.current?.show(film, now !== last.current);
    last.current = now;
  }, [film]);
  useLayoutEffect(
    () => view.current?.at(place, temperatureAt_K(history, time_s)),
    [film, place, time_s, history],
  );
  useLayoutEffect(() => view.current?.ruled(SHELF_LINES[page.lengths].line_m), [page.lengths]);
  useLayoutEffect(() => view.current?.ghost(page.ghost), [page.ghost]);
  useLayoutEffect(() => view.current?.movement(page.movement), [page.movement, film]);

  return h(
    'section',
    {
      class: film ? 'piece' : 'piece none',
      'aria-label': 'The piece',
      'data-care': film?.care ?? '',
      'data-triangles': film ? film.triangles.length / 3 : 0,
      'data-took-ms': fired?.took_ms.toFixed(0) ?? '',
      'data-picture': place.toFixed(3),
    },
    h('canvas', {
      ref: canvas,
      tabIndex: 0,
      role: 'img',
      'aria-label': `The piece ${film ? `${film.setting.attitude} in the kiln. ${inLengths(film.verdict.text, page.lengths)}` : ''} Arrow keys turn it.`,
      onKeyDown: (event: KeyboardEvent) => press(view.current, event),
    }),
    toggles(session),
  );
};
