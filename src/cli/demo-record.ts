import { join } from 'node:path';
import { fillDemo } from '../store/fill-demo.ts';
import { closeRecord, newRecord, type StudioRecord } from '../store/record.ts';
import { readForm, readStudio } from '../store/studio-folder.ts';
import { silhouette } from './drawing/silhouette.ts';
import { demoFolder } from './home.ts';

export const DEMO_SEED = 7;

/** Makes a record of the invented studio from a seed, as of now. Throws as `newRecord` does. */
export const demoRecord = async (file: string, seed = DEMO_SEED): Promise<StudioRecord> => {
  const { studio, forms, clays, schedules } = await readStudio(demoFolder());
  const cup = await readForm(join(demoFolder(), 'oval-faceted-cup.form.json'));
  const made = newRecord(file);
  try {
    await fillDemo(made, seed, new Date().toISOString(), {
      name: studio.name,
      forms: { ...forms, 'oval-faceted-cup': cup },
      clay: clays[studio.clay],
      schedule: schedules[studio.schedule],
      picture: silhouette,
    });
  } catch (error) {
    closeRecord(made);
    throw error;
  }
  return made;
};
