import { badInputs } from '../../error.ts';
import { parseShape } from '../../shape.ts';
import { carvingFaults } from './carving/judge.ts';
import { bodyFaults, listFaults } from './contradictions.ts';
import { Form } from './form-shape.ts';

export { type Foot, Form, MAX_FORM_BYTES } from './form-shape.ts';

/**
 * Read a form from data.
 * @throws AfterfireError `bad-input`: wrong shape (each bad field by name), or lines, walls and alterations that
 *   no clay could have (which, where, and what would be right)
 */
export const parseForm = (json: unknown): Form => {
  const form = parseShape(Form, json, 'form');
  // A body can only be looked at once its lists are in order.
  for (const look of [listFaults, bodyFaults, carvingFaults]) {
    const faults = look(form);
    if (faults.length > 0) throw badInputs(faults);
  }
  return form;
};
