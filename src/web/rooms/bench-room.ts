import { h } from 'preact';
import { AlterationCards } from '../panels/alteration-cards.ts';
import { BesideTwin } from '../panels/beside-twin.ts';
import { CarvingCards } from '../panels/carving-cards.ts';
import { ClayPanel } from '../panels/clay-panel.ts';
import { FilmStrip } from '../panels/film-strip.ts';
import { FullRun } from '../panels/full-run.ts';
import { Ends } from '../panels/line/ends.ts';
import { LineDrawing } from '../panels/line/line-drawing.ts';
import { MeasuresTable } from '../panels/measures-table.ts';
import { PieceView } from '../panels/piece-view.ts';
import { PrintSheet } from '../panels/print-sheet.ts';
import { ScheduleTable } from '../panels/schedule-table.ts';
import { SettingPanel } from '../panels/setting-panel.ts';
import { SettingsStrip } from '../panels/settings-strip.ts';
import { Tabs } from '../panels/tabs.ts';
import { Verdict } from '../panels/verdict.ts';
import { WallPanel } from '../panels/wall-panel.ts';
import type { Session } from '../session.ts';
import { type Drawer, onBench, shownOf, type Work, workOf } from '../state/page.ts';
import type { RoomProps } from './rooms.ts';

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

/** The form on the bench and its firing. */
export const BenchRoom = ({ session, play }: RoomProps) => {
  const page = session.page();
  const { clay, schedule } = workOf(page);
  const film = shownOf(page)?.film;
  return h(
    'main',
    { class: 'at-bench' },
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
  );
};
