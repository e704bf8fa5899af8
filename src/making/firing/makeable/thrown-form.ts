import type { Clay } from '../../clay/clay.ts';
import { scaleBetween } from '../../clay/shrinkage.ts';
import type { Form } from '../../form/form.ts';

const scaled = (value: unknown, factor: number, field = ''): unknown => {
  if (typeof value === 'number') return field.endsWith('_mm') ? value * factor : value;
  if (Array.isArray(value)) return value.map((v) => scaled(v, factor));
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, scaled(v, factor, k)]));
};

/** The same form with every millimetre of the wet piece; nothing is rounded. */
export const thrownForm = (form: Form, clay: Clay): Form =>
  form.sizes === 'thrown'
    ? form
    : { ...(scaled(form, scaleBetween(clay, 'fired', 'wet')) as Form), sizes: 'thrown' };

/** To a tenth of a millimetre, what was not fitted included. */
export const tenths = (form: Form): Form => {
  const round = (value: unknown, field = ''): unknown => {
    if (typeof value === 'number') return field.endsWith('_mm') ? Math.round(value * 10) / 10 : value;
    if (Array.isArray(value)) return value.map((v) => round(v));
    if (value === null || typeof value !== 'object') return value;
    return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, round(v, k)]));
  };
  return round(form) as Form;
};
