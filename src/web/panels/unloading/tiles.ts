import { type ComponentChild, h } from 'preact';

export interface Tile {
  readonly key: string;
  readonly name: string;
  readonly picture?: ComponentChild;
}

/** A few pictures of which one is chosen; arrow keys go between them (ARIA Authoring Practices Guide, radio group). */
export const Tiles = ({
  label,
  tiles,
  chosen,
  choose,
  fixed = false,
  field,
}: {
  readonly label: string;
  readonly tiles: readonly Tile[];
  readonly chosen: string | undefined;
  readonly choose: (key: string) => void;
  /** Only to be looked at. */
  readonly fixed?: boolean;
  readonly field: string;
}) => {
  const shown = fixed ? tiles.filter(({ key }) => key === chosen) : tiles;
  const press = (event: KeyboardEvent): void => {
    const way = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
    if (!way) return;
    event.preventDefault();
    const now = shown.findIndex(({ key }) => key === chosen);
    const next = (now + way + shown.length) % shown.length;
    choose(shown[next].key);
    ((event.currentTarget as Element).children[next] as HTMLElement).focus();
  };
  return h(
    'div',
    { class: 'tiles', role: 'radiogroup', 'aria-label': label, 'data-field': field, onKeyDown: press },
    shown.map(({ key, name, picture }, i) =>
      h(
        'button',
        {
          key,
          type: 'button',
          role: 'radio',
          'aria-checked': key === chosen,
          'aria-disabled': fixed ? true : undefined,
          tabIndex: key === chosen || (chosen === undefined && i === 0) ? 0 : -1,
          'data-tile': key,
          onClick: () => {
            if (!fixed) choose(key);
          },
        },
        picture,
        h('span', null, name),
      ),
    ),
  );
};
