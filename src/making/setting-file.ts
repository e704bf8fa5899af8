import { z } from 'zod';
import { parseShape } from '../shape.ts';
import { Setting } from './firing/setting.ts';

/** A setting as a file of its own, so that a set of props worked out once serves many pieces. */
export const SettingFile = z
  .strictObject({
    afterfire: z.literal('setting/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().optional(),
    ...Setting.shape,
  })
  .meta({ title: 'Afterfire setting', description: 'How a piece stands in the kiln, and on what' });
export type SettingFile = z.infer<typeof SettingFile>;

/** A setting by the name its file gives it. */
export interface NamedSetting {
  readonly name: string;
  readonly setting: Setting;
}

/** @throws AfterfireError `bad-input`, one fault per bad field */
export const parseSetting = (json: unknown): NamedSetting => {
  const { afterfire: _, name, note: __, ...setting } = parseShape(SettingFile, json, 'setting');
  return { name, setting };
};
