import { run } from './main.ts';

/** The command from its sources, through tsx; bin/afterfire.mjs runs what was built. */
process.exitCode = await run(process.argv.slice(2));
