import { Argument, Command } from 'commander';
import { z } from 'zod';
import { ReducedProblem } from '../../kernel/shell/reduced.ts';
import { Clay } from '../../making/clay/clay.ts';
import { Form } from '../../making/form/form.ts';
import { Schedule } from '../../making/kiln/schedule.ts';
import { LearningLog } from '../../making/learning/learning-log.ts';
import { Unloading } from '../../making/learning/unloading.ts';
import { SettingFile } from '../../making/setting-file.ts';
import { StudioFile } from '../../making/studio-file.ts';
import { TestPiecesFile } from '../../making/test-pieces-file.ts';
import type { Io } from '../io.ts';

/** Every kind of file a person may write. */
export const SCHEMAS: Readonly<Record<string, z.ZodType>> = {
  form: Form,
  clay: Clay,
  schedule: Schedule,
  setting: SettingFile,
  studio: StudioFile,
  unloading: Unloading,
  'test-pieces': TestPiecesFile,
  learning: LearningLog,
  reduced: ReducedProblem,
};

/** The published JSON Schema (draft 2020-12) of one kind of file: what may be written, defaults left out. */
export const jsonSchema = (name: string): object => ({
  title: `Afterfire ${name}`,
  ...z.toJSONSchema(SCHEMAS[name], { io: 'input' }),
});

export const schemaCommand = (io: Io): Command =>
  new Command('schema')
    .description('print the JSON schema of a kind of file')
    .addArgument(new Argument('<name>', 'which kind').choices(Object.keys(SCHEMAS)))
    .action((name: string) => io.out(`${JSON.stringify(jsonSchema(name), null, 2)}\n`));
