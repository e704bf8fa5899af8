import { must, runTool } from './tools.ts';

/** Format, lint and the three type-checked halls: everything that reads the code without running it. */
export const check = async (): Promise<void> => {
  await must('format and lint', () => runTool('@biomejs/biome', 'biome', ['check', '.']));
  for (const hall of ['pure', 'node', 'web'])
    await must(`types: ${hall}`, () => runTool('typescript', 'tsc', ['-p', `tsconfig.${hall}.json`]));
};

if (process.argv[1]?.endsWith('check.ts')) await check();
