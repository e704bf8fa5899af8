import { z } from 'zod';
import { parseShape } from '../shape.ts';
import { Setting } from './firing/setting.ts';

const fileOf = (kind: string) =>
  z
    .string()
    .regex(
      new RegExp(`^[\\w-]+\\.${kind}\\.json$`),
      `the name of a file beside this one, ending in .${kind}.json`,
    );

/** A studio as a file: which clay, schedule and forms belong together, and how each form is meant to stand. */
export const StudioFile = z
  .strictObject({
    afterfire: z.literal('studio/1').describe('What this file is, and which version of it'),
    name: z.string().min(1).max(80),
    note: z.string().optional(),
    clay: fileOf('clay'),
    schedule: fileOf('schedule'),
    forms: z
      .array(
        z.strictObject({
          file: fileOf('form'),
          setting: z
            .union([Setting, fileOf('setting')])
            .describe('How the form stands: said here, or the name of a .setting.json file beside this one'),
        }),
      )
      .min(1)
      .max(200),
  })
  .meta({ title: 'Afterfire studio', description: 'A studio' });
export type StudioFile = z.infer<typeof StudioFile>;

/** @throws AfterfireError `bad-input`, one fault per bad field */
export const parseStudio = (json: unknown): StudioFile => parseShape(StudioFile, json, 'studio');
