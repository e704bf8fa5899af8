import { h } from 'preact';
import type { Bias } from '../../../making/learning/how-right.ts';
import type { Lengths } from '../../words.ts';
import { mark } from './marks.ts';
import { biasText } from './words-of-right.ts';

const grouped = (list: readonly Bias[]): Map<string, Bias[]> => {
  const groups = new Map<string, Bias[]>();
  for (const bias of list) groups.set(bias.group, [...(groups.get(bias.group) ?? []), bias]);
  return groups;
};

/** Bias in a sentence for each way of standing, or each kiln. */
export const Biases = ({
  title,
  list,
  lengths,
  marked,
}: {
  readonly title: string;
  readonly list: readonly Bias[];
  readonly lengths: Lengths;
  /** Groups are ways of standing: each with its mark, which makes this the key to the picture. */
  readonly marked: boolean;
}) =>
  h(
    'section',
    { class: 'biases', 'aria-label': title },
    h('h2', null, title),
    h(
      'ul',
      null,
      [...grouped(list)].map(([group, own]) =>
        h(
          'li',
          { key: group },
          marked && h('svg', { viewBox: '-10 -10 20 20', 'aria-hidden': true }, mark(group, 0, 0, 'inside')),
          h('span', null, h('b', null, group), `: ${own.map((bias) => biasText(bias, lengths)).join('; ')}.`),
        ),
      ),
    ),
  );
