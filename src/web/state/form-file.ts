import { AfterfireError, badInput } from '../../error.ts';
import { type Form, MAX_FORM_BYTES, parseForm } from '../../making/form/form.ts';

/**
 * Reads a form somebody chose from their disk.
 * @throws AfterfireError `too-large` before a byte is read, `bad-input` naming field, value and what would be right
 */
export const readFormFile = async (file: Blob & { readonly name: string }): Promise<Form> => {
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
  return parseForm(json);
};

export const fileNameOf = (form: Form): string =>
  `${
    form.name
      .toLowerCase()
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .replace(/^-|-$/g, '') || 'form'
  }.form.json`;

export const formText = (form: Form): string => `${JSON.stringify(form, null, 2)}\n`;
