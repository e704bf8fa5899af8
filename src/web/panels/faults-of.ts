import { h } from 'preact';
import type { Fault } from '../../error.ts';

/** Fields that have a box of their own, which says what is wrong with them itself. */
const hasBox = (field: string): boolean =>
  /_mm$|_deg$|\.along$|\.count$|\.rows$|alongFrom$|alongTo$/.test(field);

/** What is wrong with the thing at `field` as a whole, in its card. */
export const faultsOf = (faults: Readonly<Record<string, Fault>>, field: string) =>
  Object.values(faults)
    .filter((f) => f.field.startsWith(field) && !hasBox(f.field))
    .map(({ field: at, value, expected }) =>
      h(
        'p',
        { key: at, class: 'fault', role: 'alert', 'data-fault': at },
        `${value.charAt(0).toUpperCase()}${value.slice(1)} will not do: ${expected}.`,
      ),
    );
