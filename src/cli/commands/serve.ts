import { Command } from 'commander';
import { badInput } from '../../error.ts';
import { app } from '../../server/app.ts';
import { DEFAULT_PORT, listen } from '../../server/listen.ts';
import { readStudio } from '../../store/studio-folder.ts';
import { demoFolder, pageFolder } from '../home.ts';
import type { Io } from '../io.ts';

const portOf = (text: string): number => {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65535)
    throw badInput('--port', text, 'a whole number from 0 (any free port) to 65535');
  return port;
};

const untilStopped = (signal: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    signal.addEventListener('abort', () => resolve(), { once: true });
  });

export const serveCommand = (io: Io): Command =>
  new Command('serve')
    .description('open the studio in a browser: serves the page on this machine only, and says where')
    .option('--port <number>', 'the port; when it is taken, any free one', String(DEFAULT_PORT))
    .option('--studio <folder>', 'the studio to open (default: the demo studio)')
    .action(async (options: { port: string; studio?: string }) => {
      const folder = options.studio ?? demoFolder();
      await readStudio(folder); // a broken file is named now, not at the first click
      const site = app({ page: pageFolder(), studio: () => readStudio(folder) });
      const listening = await listen(site, portOf(options.port));
      io.out(`Afterfire is open at ${listening.address}\nCtrl-C closes it.\n`);
      await untilStopped(io.signal);
      await listening.close();
    });
