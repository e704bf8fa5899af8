import type { Setting } from '../../making/firing/setting.ts';
import {
  type LOSS_CAUSES,
  type Measured,
  parseUnloading,
  type Unloading,
} from '../../making/learning/unloading.ts';
import { measuredOf, type Values, valuesOf } from './measure-rows.ts';
import type { Studio } from './page.ts';

/** An unloading while it is written down: whatever is still missing may be missing. */

export type LossCause = (typeof LOSS_CAUSES)[number];

export interface DraftPiece {
  readonly number: string;
  /** Key of a form of the studio. */
  readonly form: string;
  readonly setting: Setting;
  readonly loss?: { readonly cause: LossCause; readonly note?: string | undefined } | undefined;
  readonly values: Values;
  readonly plusMinus_mm: number;
  readonly outline?: Measured['outline'];
  readonly note?: string | undefined;
}

export interface DraftUnloading {
  readonly kiln: string;
  readonly date: string;
  /** Keys of the studio. */
  readonly clay: string;
  readonly schedule: string;
  readonly offset?: Unloading['offset'];
  readonly note?: string | undefined;
  readonly pieces: readonly DraftPiece[];
}

/** How well a rule and a wet hand do: four readings in five no further off (a guess). */
const PLUS_MINUS_mm = 0.5;
const UPRIGHT: Setting = { attitude: 'upright', turn_deg: 0, shelf: 'slides', lean_deg: 0, props: [] };

const keyOf = (file: string, kind: string): string => file.slice(0, -`.${kind}.json`.length);

/** How a piece of this form usually stands. */
export const usualSetting = (studio: Studio, form: string): Setting => studio.settings[form] ?? UPRIGHT;

const numbersIn = (unloading: { readonly pieces: readonly { readonly number: string }[] }): number[] =>
  unloading.pieces.map(({ number }) => Number(number)).filter(Number.isInteger);

/** One more than the highest number so far. */
const nextNumber = (used: readonly number[]): string => String(Math.max(0, ...used) + 1);

export const newPiece = (
  studio: Studio,
  draft: Pick<DraftUnloading, 'pieces'>,
  kept: Readonly<Record<string, Unloading>>,
): DraftPiece => {
  const form = draft.pieces.at(-1)?.form ?? studio.studio.form;
  return {
    number: nextNumber([...numbersIn(draft), ...Object.values(kept).flatMap(numbersIn)]),
    form,
    setting: draft.pieces.at(-1)?.setting ?? usualSetting(studio, form),
    values: {},
    plusMinus_mm: PLUS_MINUS_mm,
  };
};

export const newDraft = (
  studio: Studio,
  kept: Readonly<Record<string, Unloading>>,
  today: string,
): DraftUnloading => {
  const last = Object.values(kept).sort((a, b) => (a.date < b.date ? 1 : -1))[0];
  const { clay, schedule } = studio.studio;
  const empty = { kiln: last?.kiln ?? '', date: today, clay, schedule, pieces: [] };
  return { ...empty, pieces: [newPiece(studio, empty, kept)] };
};

/** Whether anything was written that would be a pity to lose. */
export const isTouched = ({ pieces }: DraftUnloading): boolean =>
  pieces.some((p) => p.loss || p.outline || Object.keys(p.values).length > 0);

/**
 * The unloading as its file has it.
 * @throws AfterfireError `bad-input`, one fault per bad field
 */
export const unloadingOf = (draft: DraftUnloading): Unloading =>
  parseUnloading({
    afterfire: 'unloading/1',
    name: `${draft.kiln}, ${draft.date}`.slice(0, 80),
    ...(draft.note && { note: draft.note }),
    kiln: draft.kiln.trim(),
    date: draft.date,
    clay: `${draft.clay}.clay.json`,
    schedule: `${draft.schedule}.schedule.json`,
    ...(draft.offset && { offset: draft.offset }),
    pieces: draft.pieces.map(({ form, values, plusMinus_mm, outline, loss, ...piece }) => {
      const measured = measuredOf(values, plusMinus_mm, outline);
      return {
        ...piece,
        form: `${form}.form.json`,
        ...(loss && { loss: { cause: loss.cause, ...(loss.note && { note: loss.note }) } }),
        ...(measured && { measured }),
      };
    }),
  });

/** One that was kept, to be looked at. */
export const draftOf = (unloading: Unloading, studio: Studio): DraftUnloading => ({
  kiln: unloading.kiln,
  date: unloading.date,
  clay: keyOf(unloading.clay, 'clay'),
  schedule: keyOf(unloading.schedule, 'schedule'),
  ...(unloading.offset && { offset: unloading.offset }),
  note: unloading.note,
  pieces: unloading.pieces.map(({ number, form, setting, loss, measured, note }) => ({
    number,
    form: keyOf(form, 'form'),
    setting: typeof setting === 'string' ? usualSetting(studio, keyOf(form, 'form')) : setting,
    loss,
    values: valuesOf(measured),
    plusMinus_mm: measured?.plusMinus_mm ?? PLUS_MINUS_mm,
    outline: measured?.outline,
    note,
  })),
});

const KEY = 'afterfire/unloading/1';

/** Kept by the browser between taps: a tablet in a wet hand falls asleep. */
export const keepDraftUnloading = (draft: DraftUnloading | undefined): void => {
  try {
    if (draft) localStorage.setItem(KEY, JSON.stringify(draft));
    else localStorage.removeItem(KEY);
  } catch {
    // A browser that keeps nothing is no trouble: the page works on without.
  }
};

/** What was kept, if clay, schedule and forms of it are still there. */
export const keptDraftUnloading = (studio: Studio): DraftUnloading | undefined => {
  try {
    const draft = JSON.parse(localStorage.getItem(KEY) ?? 'null') as DraftUnloading | null;
    if (!draft?.pieces || !studio.clays[draft.clay] || !studio.schedules[draft.schedule]) return undefined;
    const pieces = draft.pieces.filter((p) => studio.forms[p.form] && p.setting && p.values);
    return pieces.length > 0 ? { ...draft, pieces } : undefined;
  } catch {
    return undefined;
  }
};
