import { AfterfireError, badInput } from '../../error.ts';
import type { Setting } from '../../making/firing/setting.ts';
import { type Form, MAX_FORM_BYTES, parseForm } from '../../making/form/form.ts';
import { parseSetting } from '../../making/setting-file.ts';

/** What a file may hold for the bench: a form, or how one stands in the kiln. */
export type Opened = { readonly form: Form } | { readonly setting: Setting };

const isSetting = (json: unknown): boolean =>
  String((json as { afterfire?: unknown } | null)?.afterfire ?? '').startsWith('setting/');

/**
 * Reads a form or a setting somebody chose from their disk; the file says which it is.
 * @throws AfterfireError `too-large` before a byte is read, `bad-input` naming field, value and what would be right
 */
export const readBenchFile = async (file: Blob & { readonly name: string }): Promise<Opened> => {
  if (file.size > MAX_FORM_BYTES) {
    const size = `${(file.size / 1e6).toFixed(1)} MB`;
    throw new AfterfireError(
      'too-large',
      `${file.name}: ${size}; a form file is at most ${MAX_FORM_BYTES / 1e6} MB`,
    );
  }
  const text = await file.text();
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw badInput(file.name, text.slice(0, 30), `a form in JSON (${(error as Error).message})`);
  }
  return isSetting(json) ? { setting: parseSetting(json).setting } : { form: parseForm(json) };
};

export const fileNameOf = (form: Form): string =>
  `${
    form.name
      .toLowerCase()
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .replace(/^-|-$/g, '') || 'form'
  }.form.json`;

export const formText = (form: Form): string => `${JSON.stringify(form, null, 2)}\n`;
