import { h } from 'preact';
import { useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import { propTrouble } from '../../making/firing/standing-trouble.ts';
import { temperatureHistory } from '../../making/kiln/schedule.ts';
import { placeAt, temperatureAt_K } from '../heat.ts';
import type { Session } from '../session.ts';
import { type Page, type Refusal, shownOf, workOf } from '../state/page.ts';
import { openView, type View, type Wrong } from '../view/view.ts';
import { inLengths } from '../words.ts';
import type { Film, Seen } from '../worker/film.ts';
import { SectionView } from './section-view.ts';

const TURN_rad = 0.12;
/** A line each centimetre or half inch. */
const SHELF_LINES = { mm: { line_m: 0.01, said: '10 mm' }, in: { line_m: 0.0127, said: '½ in' } } as const;

/** What makes a film another piece and not the same one redrawn: then the picture is framed afresh. */
const subject = (seen: Seen | undefined, opened: string | undefined): string =>
  seen ? `${opened} ${seen.setting.attitude}` : '';

/** In red what pierces; where nothing does, the piece that does not stand. */
const wrongIn = (refused: Refusal | undefined): Wrong => {
  if (!refused?.stood) return { props: [], piece: false };
  const props = propTrouble(refused.faults);
  return { props, piece: props.length === 0 };
};

/** Outlines are drawn while one carves, while something of them does not hold, and where the mesh leaves them out. */
const outlinesOf = ({ drawer, trial, outlines }: Page, film: Film | undefined) => {
  if (!outlines) return NO_LINES;
  if (drawer === 'wall') return outlines.readings;
  return drawer === 'carving' || trial || film?.care === 'quick' ? outlines.lines : NO_LINES;
};
const NO_LINES: readonly never[] = [];

const press = (view: View | undefined, event: KeyboardEvent): void => {
  const round = event.key === 'ArrowLeft' ? -1 : event.key === 'ArrowRight' ? 1 : 0;
  const up = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0;
  if (round === 0 && up === 0) return;
  event.preventDefault();
  view?.turn(round * TURN_rad, up * TURN_rad);
};

const toggles = (session: Session) => {
  const { ghost, movement, cut, lengths } = session.page();
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
    h(
      'button',
      {
        type: 'button',
        class: 'cut-key',
        'aria-pressed': cut,
        'data-do': 'cut',
        onClick: () => session.update((p) => ({ ...p, cut: !p.cut })),
      },
      'Cut open',
    ),
  );
};

/** How much of the picture's right the cut takes up, as the style sheet has it. */
const CUT = { share: 0.36, most_px: 250 } as const;

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
  const refused = page.refused[workOf(page).setting.attitude];
  const seen = refused?.stood ?? film;
  const lines = outlinesOf(page, film);
  const isCut = page.cut && !refused && film !== undefined && film.pictures.length > 0;
  const time_s = page.moment * history.time_s.at(-1)!;
  const place = film ? placeAt(film.pictures, time_s) : 0;
  useLayoutEffect(() => {
    if (!seen) return;
    const now = subject(seen, page.opened);
    view.current?.show(seen, now !== last.current, wrongIn(refused));
    last.current = now;
  }, [seen]);
  useLayoutEffect(() => view.current?.outline(lines), [lines]);
  useLayoutEffect(() => view.current?.leaveFree(isCut ? CUT.share : 0, CUT.most_px), [isCut]);
  useLayoutEffect(
    () => view.current?.at(place, temperatureAt_K(history, time_s)),
    [seen, place, time_s, history],
  );
  useLayoutEffect(() => view.current?.ruled(SHELF_LINES[page.lengths].line_m), [page.lengths]);
  useLayoutEffect(() => view.current?.ghost(page.ghost && !refused?.stood), [page.ghost, seen]);
  useLayoutEffect(() => view.current?.movement(page.movement), [page.movement, seen]);

  return h(
    'section',
    {
      class: seen ? 'piece' : 'piece none',
      'aria-label': 'The piece',
      'data-care': film?.care ?? '',
      'data-triangles': seen ? seen.triangles.length / 3 : 0,
      'data-took-ms': fired?.took_ms.toFixed(0) ?? '',
      'data-picture': place.toFixed(3),
      'data-outlines': lines.length,
      'data-bad-outlines': lines.filter((l) => l.bad).length,
      'data-red': wrongIn(refused).piece ? 'piece' : wrongIn(refused).props.join(' '),
    },
    h('canvas', {
      ref: canvas,
      tabIndex: 0,
      role: 'img',
      'aria-label': `The piece ${film ? `${film.setting.attitude} in the kiln. ${inLengths(film.verdict.text, page.lengths)}` : ''} Arrow keys turn it.`,
      onKeyDown: (event: KeyboardEvent) => press(view.current, event),
    }),
    isCut && film && h(SectionView, { film, place }),
    h('span', { class: 'shelf-said' }, `Shelf lines: ${SHELF_LINES[page.lengths].said}`),
    toggles(session),
  );
};
