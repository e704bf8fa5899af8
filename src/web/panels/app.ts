import { h } from 'preact';
import type { Session } from '../session.ts';
import { type Drawer, onBench, shownOf, type Work, workOf } from '../state/page.ts';
import { AlterationCards } from './alteration-cards.ts';
import { BesideTwin } from './beside-twin.ts';
import { CarvingCards } from './carving-cards.ts';
import { ClayPanel } from './clay-panel.ts';
import { FilmStrip } from './film-strip.ts';
import { FullRun } from './full-run.ts';
import { Header } from './header.ts';
import { Ends } from './line/ends.ts';
import { LineDrawing } from './line/line-drawing.ts';
import { MeasuresTable } from './measures-table.ts';
import { PieceView } from './piece-view.ts';
import { PrintSheet } from './print-sheet.ts';
import { ScheduleTable } from './schedule-table.ts';
import { SettingPanel } from './setting-panel.ts';
import { SettingsStrip } from './settings-strip.ts';
import { Tabs } from './tabs.ts';
import { Verdict } from './verdict.ts';
import { WallPanel } from './wall-panel.ts';

const DRAWERS: readonly (readonly [Drawer, string])[] = [
  ['line', 'Line'],
  ['wall', 'Wall'],
  ['alterations', 'Alterations'],
  ['carving', 'Carving'],
  ['setting', 'Setting'],
  ['schedule', 'Schedule'],
  ['clay', 'Clay'],
];

const PANELS = {
  wall: WallPanel,
  alterations: AlterationCards,
  carving: CarvingCards,
  setting: SettingPanel,
  schedule: ScheduleTable,
  clay: ClayPanel,
} as const;

/** How many there are of what a drawer holds, beside its name. */
const countIn = ({ form, setting }: Work, drawer: Drawer): number => {
  if (drawer === 'alterations') return form.alterations.length;
  if (drawer === 'carving') return form.carving.length;
  return drawer === 'setting' ? setting.props.length : 0;
};

const drawerOf = (session: Session, drawer: Drawer) => {
  if (drawer === 'line') return [h(LineDrawing, { key: 'd', session }), h(Ends, { key: 'e', session })];
  return h(PANELS[drawer], { session });
};

const bench = (session: Session) => {
  const page = session.page();
  const { drawer } = page;
  const work = onBench(page);
  return h(
    'section',
    { class: 'bench', 'aria-label': 'The form' },
    h(Tabs<Drawer>, {
      tabs: DRAWERS.map(([key, name]) => {
        const count = countIn(work, key);
        return [key, count > 0 ? `${name} ${count}` : name] as const;
      }),
      chosen: drawer,
      panel: 'drawer',
      label: 'What to work on',
      choose: (key) => session.update((p) => ({ ...p, drawer: key, chosen: undefined })),
    }),
    h(
      'div',
      { role: 'tabpanel', id: 'drawer', 'aria-labelledby': `tab-${drawer}`, class: `drawer ${drawer}` },
      drawerOf(session, drawer),
    ),
  );
};

/** The whole page from the one state. */
export const App = ({ session, play }: { readonly session: Session; readonly play: () => void }) => {
  const page = session.page();
  const { clay, schedule } = workOf(page);
  const film = shownOf(page)?.film;
  return [
    h(Header, { key: 'header', session }),
    h(
      'main',
      { key: 'main' },
      bench(session),
      h(Verdict, {
        film,
        lengths: page.lengths,
        degrees: page.degrees,
        softnessIsGuess: clay.sagViscosity.how === 'guess',
        trouble: page.trouble,
      }),
      h(PieceView, { session }),
      h(FilmStrip, {
        schedule,
        degrees: page.degrees,
        moment: page.moment,
        playing: page.playing,
        scrub: (moment) => session.update((p) => ({ ...p, moment, playing: false })),
        play,
      }),
      h(
        'div',
        { class: 'reading' },
        h(SettingsStrip, { session }),
        h(FullRun, { session }),
        h(MeasuresTable, { session, film }),
        h(BesideTwin, { session }),
      ),
      h(PrintSheet, { session }),
    ),
  ];
};
