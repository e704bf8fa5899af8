import { h } from 'preact';

/** Cautions where the work meets them; limits and their sources stand with the schedule's. */
const DUST =
  'Carve and trim while the clay is leather-hard. Carving, sanding or brushing it dry makes dust that holds silica and harms the lungs: damp it first, wear a fitted respirator, clean wet, and never sweep it up dry.';

export const caution = (title: string, text: string) =>
  h('aside', { class: 'cautions', 'aria-label': title }, h('b', null, title), h('p', null, text));

export const dustCaution = () => caution('Dust', DUST);
