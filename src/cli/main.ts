import { Command, CommanderError } from 'commander';
import { AfterfireError } from '../error.ts';
import { aimCommand } from './commands/aim.ts';
import { fireCommand } from './commands/fire.ts';
import { heatWorkCommand } from './commands/heat-work.ts';
import { howRightCommand } from './commands/how-right.ts';
import { learnCommand } from './commands/learn.ts';
import { measuresCommand } from './commands/measures.ts';
import { outlineCommand } from './commands/outline.ts';
import { paperCommand } from './commands/paper.ts';
import { protocolCommand } from './commands/protocol.ts';
import { recordCommand } from './commands/record.ts';
import { reducedCommand } from './commands/reduced.ts';
import { schemaCommand } from './commands/schema.ts';
import { serveCommand } from './commands/serve.ts';
import { testPiecesCommand } from './commands/test-pieces.ts';
import { twinsCommand } from './commands/twins.ts';
import { EXIT, EXIT_MEANINGS } from './exit-codes.ts';
import { version } from './home.ts';
import { type Io, terminal } from './io.ts';
import { SAFETY } from './words/safety.ts';

const ABOUT =
  'See a porcelain piece after the fire before you make it: how it shrinks, sags and stands at the end.';

const COMMANDS = [
  fireCommand,
  aimCommand,
  twinsCommand,
  measuresCommand,
  heatWorkCommand,
  protocolCommand,
  testPiecesCommand,
  outlineCommand,
  learnCommand,
  howRightCommand,
  reducedCommand,
  recordCommand,
  paperCommand,
  schemaCommand,
  serveCommand,
];

const withParts = (command: Command): Command[] => [command, ...command.commands.flatMap(withParts)];

/** `afterfire record new` */
const called = (command: Command): string =>
  command.parent ? `${called(command.parent)} ${command.name()}` : command.name();

/** Every command, ready to read a command line. */
export const program = (io: Io): Command => {
  const whole = new Command('afterfire')
    .description(ABOUT)
    .version(version(), '--version', 'say which version this is')
    .configureHelp({ showGlobalOptions: false })
    .addHelpText('after', `\n${EXIT_MEANINGS}\n\n${SAFETY}`);
  for (const command of COMMANDS) whole.addCommand(command(io));
  for (const one of withParts(whole))
    one
      .exitOverride()
      .showHelpAfterError(`(${called(one)} --help says more)`)
      .configureOutput({ writeOut: io.out, writeErr: io.err });
  return whole;
};

/** One command line to its exit code; never throws and never ends the process. */
export const run = async (argv: readonly string[], io: Io = terminal()): Promise<number> => {
  try {
    await program(io).parseAsync([...argv], { from: 'user' });
    return 0;
  } catch (error) {
    // commander has said what was wrong already; its own code is 0 for help asked for.
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : EXIT['bad-input'];
    if (error instanceof AfterfireError) {
      io.err(`${error.message}\n`);
      return EXIT[error.code];
    }
    io.err(
      `Something in the program broke. What it said last:\n${(error as Error)?.stack ?? String(error)}\n`,
    );
    return EXIT.broken;
  }
};
