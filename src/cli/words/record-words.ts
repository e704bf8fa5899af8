import type { FiringState } from '../../making/record/firing-state.ts';
import type { PieceState } from '../../making/record/piece-state.ts';
import type { StudioSettings } from '../../making/record/studio-settings.ts';
import type { Hit } from '../../store/search.ts';
import type { Some, StartPage } from '../../store/start-page.ts';
import { table } from '../table.ts';

const pieceLine = (state: PieceState): string[] => [
  state.number ?? '',
  state.stage,
  state.stands + (state.loss ? `: ${state.loss.cause}` : ''),
  state.place ?? '',
];

const firingLine = (state: FiringState): string[] => [state.name ?? '', `firing ${state.stage}`, '', ''];

export const hitLines = (hits: readonly Hit[]): string =>
  hits.length === 0
    ? 'Nothing is found.\n'
    : table(
        ['', 'stage', 'stands', 'place'],
        hits.map(({ sort, state }) =>
          sort === 'piece' ? pieceLine(state as PieceState) : firingLine(state as FiringState),
        ),
      );

const part = <T>(title: string, { count, first }: Some<T>, line: (one: T) => string): string =>
  count === 0
    ? ''
    : `${title} (${count})\n${first.map((one) => `  - ${line(one)}\n`).join('')}${
        count > first.length ? `  and ${count - first.length} more\n` : ''
      }\n`;

const WINDOWS = {
  soon: 'the window opens soon',
  open: 'can be carved now',
  over: 'probably too dry to carve',
};

const days = (n: number): string => (n === 0 ? 'today' : n > 0 ? `in ${n} days` : `${-n} days ago`);

/** The start page as lines. */
export const startPageLines = (page: StartPage, settings: StudioSettings): string => {
  const { carveFrom_h, carveUntil_h, invented } = settings;
  const window = `carving window ${carveFrom_h} to ${carveUntil_h} h, as the studio's settings say`;
  const said = [
    part(
      `Drying, ${window}`,
      page.drying,
      (d) => `${d.number}: ${d.hours.toFixed(1)} h, ${WINDOWS[d.window]}`,
    ),
    part(
      'Firings under way',
      { count: page.firings.length, first: page.firings },
      (f) => `${f.state.name}: ${f.state.stage}`,
    ),
    part('Dates', page.due, (d) => `${d.number}: ${d.why} until ${d.day}, ${days(d.days)}`),
    part('Without a price', page.unpriced, (p) => p.number),
    part('Without a photo after the fire', page.unphotographed, (p) => p.number),
  ].join('');
  const counts = Object.entries(page.stages).map(([stage, n]) => `${n} ${stage}`);
  return `${invented ? 'All in this record is invented.\n\n' : ''}${said || 'Nothing needs you now.\n\n'}Pieces: ${counts.join(', ') || 'none yet'}.\n`;
};
