import { h } from 'preact';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import type { Paper } from '../../../making/paper/page.ts';
import { protocolOf, protocolSvg } from '../../../making/protocols/protocol.ts';
import { type ProtocolKind, TITLES } from '../../../making/protocols/sheet-parts.ts';

const PAPER_NAMES: Readonly<Record<Paper, string>> = { a4: 'A4', letter: 'Letter' };

interface Props {
  readonly kind: ProtocolKind;
  readonly paper: Paper;
  readonly clay: string;
  readonly close: () => void;
}

/** The pages of a protocol at true size, each a sheet of its own when printed. */
export const Sheets = ({ kind, paper, clay, close }: Props) => {
  const pages = useMemo(() => protocolSvg(protocolOf(kind, { clay }), paper), [kind, paper, clay]);
  const first = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    const before = document.activeElement as HTMLElement | null;
    first.current?.focus();
    const press = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') close();
    };
    // What lies under the sheets is not to be reached while they are open.
    const stay = ({ target }: FocusEvent): void => {
      if (!(target as Element).closest('.sheets')) first.current?.focus();
    };
    addEventListener('keydown', press);
    document.addEventListener('focusin', stay);
    return () => {
      removeEventListener('keydown', press);
      document.removeEventListener('focusin', stay);
      before?.focus();
    };
  }, []);
  const name = `${TITLES[kind]}, ${pages.length} ${pages.length === 1 ? 'sheet' : 'sheets'} of ${PAPER_NAMES[paper]}`;
  return h(
    'section',
    { class: 'sheets', role: 'dialog', 'aria-modal': true, 'aria-label': name },
    h(
      'div',
      { class: 'sheets-bar' },
      h('b', null, name),
      h('span', { class: 'hint' }, 'Print at 100 %, not fitted to the page, then check the printed ruler.'),
      h('span', { class: 'spring' }),
      h(
        'button',
        { type: 'button', class: 'main', ref: first, 'data-do': 'print', onClick: () => window.print() },
        'Print',
      ),
      h('button', { type: 'button', 'data-do': 'close-sheets', onClick: close }, 'Close'),
    ),
    pages.map((svg, i) =>
      h('div', {
        key: i,
        class: `sheet ${paper}`,
        'data-sheet': i + 1,
        // Drawn here from the protocol's own words; the clay's name in it is escaped.
        dangerouslySetInnerHTML: { __html: svg },
      }),
    ),
  );
};
