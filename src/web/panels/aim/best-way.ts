import { h } from 'preact';
import type { Session } from '../../session.ts';
import type { AimDesk } from '../../state/aim-desk.ts';
import { sameWork, type Work, workOf } from '../../state/page.ts';
import { inDegrees, inLengths, type Lengths } from '../../words.ts';
import type { Tried } from '../../worker/aim-jobs.ts';
import { silhouette } from '../unloading/silhouette.ts';
import { AimRun } from './aim-run.ts';
import { smallLength } from './aim-words.ts';

const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** Of the whole sentence only what its tile does not say already. */
const withoutName = ({ name, text }: Tried): string =>
  upperFirst(text.toLowerCase().startsWith(`${name}: `) ? text.slice(name.length + 2) : text);

/** What remains for four clays in five, or with the clay as it is taken where a softer one does not come through. */
const remaining = ({ likely_m, max_m, soft_m, stiff_m }: Tried, lengths: Lengths) => {
  const size = (m: number): string => `${smallLength(m, lengths)} ${lengths}`;
  const sure = Number.isFinite(likely_m);
  return [
    h(
      'p',
      { key: 'b', class: 'remains-size' },
      h('b', null, size(sure ? likely_m : max_m)),
      sure ? ' off at most, four clays in five' : ' off, if the clay is as taken',
    ),
    h(
      'p',
      { key: 's', class: 'hint' },
      sure
        ? `Clay as taken ${size(max_m)}, softer ${size(soft_m)}, stiffer ${size(stiff_m)}.`
        : 'A softer clay, as it may well be, does not come through.',
    ),
  ];
};

const tile = (session: Session, of: Work, tried: Tried, best: boolean) => {
  const { lengths, degrees } = session.page();
  const work = workOf(session.page());
  const stands = Number.isFinite(tried.max_m);
  const now = JSON.stringify(work.setting) === JSON.stringify(tried.setting);
  const told = (text: string): string => inDegrees(inLengths(text, lengths), degrees);
  return h(
    'li',
    { key: tried.name, class: best ? 'best' : '', 'data-way': tried.name, 'data-best': best },
    silhouette(of.form, tried.setting),
    h(
      'div',
      null,
      h('h3', null, upperFirst(tried.name), best && h('em', null, 'best')),
      stands
        ? remaining(tried, lengths)
        : [
            h('p', { key: 'b', class: 'remains-size' }, h('b', null, 'Not so')),
            h('p', { key: 's', class: 'hint' }, told(withoutName(tried))),
          ],
      tried.place !== undefined && h('p', { class: 'hint' }, told(tried.place)),
      stands &&
        h(
          'button',
          {
            type: 'button',
            'data-do': 'set-so',
            disabled: now,
            onClick: () => session.replace({ ...work, setting: tried.setting }),
          },
          now ? 'Stands so' : 'Set it so',
        ),
    ),
  );
};

const wallAdvice = (session: Session, desk: AimDesk) => {
  const page = session.page();
  const { wall } = desk.now();
  const work = workOf(page);
  const fresh = wall && sameWork(wall.of, work);
  const { form } = fresh ? wall.told : {};
  return h(
    'div',
    { class: 'wall-advice' },
    h('h3', null, 'Another wall?'),
    fresh
      ? [
          h(
            'p',
            { key: 't', 'data-wall': 'told' },
            inDegrees(inLengths(wall.told.text, page.lengths), page.degrees),
          ),
          form &&
            wall.told.found !== wall.told.asWanted &&
            wall.told.found?.factor !== 1 &&
            h(
              'button',
              {
                key: 'b',
                type: 'button',
                'data-do': 'take-wall',
                onClick: () => session.replace({ ...work, form }),
              },
              'Want it with that wall',
            ),
        ]
      : h(AimRun, {
          desk,
          kind: 'wall',
          name: 'Which wall would do?',
          lengths: page.lengths,
          begin: () => void desk.wall(),
        }),
  );
};

/** The settings side by side: what would remain in each, and how sure that is. */
export const BestWay = ({ session, desk }: { readonly session: Session; readonly desk: AimDesk }) => {
  const page = session.page();
  const { settings } = desk.now();
  const work = workOf(page);
  // Another setting on the bench is no other question: the tiles are about all of them.
  const fresh = settings && sameWork({ ...settings.of, setting: work.setting }, work);
  return h(
    'section',
    { class: 'best-way', 'aria-label': 'Which way is best?' },
    h('h2', null, 'Which way is best?'),
    !fresh &&
      h(
        'p',
        { class: 'hint' },
        'Upright, rim down and on its side are each tried on a coarse mesh, with the clay as taken, softer and stiffer. This takes a while.',
      ),
    fresh && [
      h(
        'p',
        { key: 's', class: 'said', 'data-ways': settings.ranked.ranked.length },
        inDegrees(inLengths(settings.ranked.text, page.lengths), page.degrees),
      ),
      h(
        'ul',
        { key: 't', class: 'ways-tried' },
        settings.ranked.ranked.map((tried, i) =>
          tile(session, settings.of, tried, i === 0 && Number.isFinite(tried.max_m)),
        ),
      ),
    ],
    !fresh &&
      h(AimRun, {
        desk,
        kind: 'settings',
        name: 'Compare the settings',
        lengths: page.lengths,
        begin: () => void desk.settings(),
      }),
    wallAdvice(session, desk),
  );
};
