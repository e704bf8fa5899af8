import type { Setting } from '../../making/firing/setting.ts';
import type { Form } from '../../making/form/form.ts';
import type { SettingFile } from '../../making/setting-file.ts';
import { fileNameOf } from './form-file.ts';

export const settingFileName = (form: Form): string =>
  fileNameOf(form).replace(/\.form\.json$/, '.setting.json');

export const settingText = (setting: Setting, form: Form): string => {
  const file: SettingFile = {
    afterfire: 'setting/1',
    name: `${form.name}, ${setting.attitude}`.slice(0, 80),
    ...setting,
  };
  return `${JSON.stringify(file, null, 2)}\n`;
};
