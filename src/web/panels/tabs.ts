import { h } from 'preact';

interface Props<Key extends string> {
  readonly tabs: readonly (readonly [key: Key, name: string])[];
  readonly chosen: Key;
  /** The id of the panel they all show their contents in. */
  readonly panel: string;
  readonly label: string;
  readonly choose: (key: Key) => void;
}

/** Which tab a key leads to from the one at `i`; ends meet, as the pattern has it. */
export const tabAfter = (key: string, i: number, count: number): number | undefined => {
  if (key === 'ArrowRight') return (i + 1) % count;
  if (key === 'ArrowLeft') return (i + count - 1) % count;
  if (key === 'Home') return 0;
  return key === 'End' ? count - 1 : undefined;
};

/** One tab stop for all of them, arrow keys between them (ARIA Authoring Practices Guide, tabs pattern). */
export const Tabs = <Key extends string>({ tabs, chosen, panel, label, choose }: Props<Key>) => {
  const press = (event: KeyboardEvent): void => {
    const now = tabs.findIndex(([key]) => key === chosen);
    const next = tabAfter(event.key, now, tabs.length);
    if (next === undefined || event.ctrlKey || event.altKey || event.metaKey) return;
    event.preventDefault();
    choose(tabs[next]![0]);
    ((event.currentTarget as Element).children[next] as HTMLElement).focus();
  };
  return h(
    'div',
    { role: 'tablist', class: 'tabs', 'aria-label': label, onKeyDown: press },
    tabs.map(([key, name]) =>
      h(
        'button',
        {
          key,
          type: 'button',
          role: 'tab',
          id: `tab-${key}`,
          tabIndex: key === chosen ? 0 : -1,
          'aria-selected': key === chosen,
          'aria-controls': panel,
          onClick: () => choose(key),
        },
        name,
      ),
    ),
  );
};
