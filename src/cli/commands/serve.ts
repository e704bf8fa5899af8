import { Command } from 'commander';
import { app } from '../../server/app.ts';
import { DEFAULT_PORT, listen } from '../../server/listen.ts';
import { readStudio } from '../../store/studio-folder.ts';
import { demoFolder, pageFolder } from '../home.ts';
import type { Io } from '../io.ts';
import { numberFrom } from '../options.ts';

const untilStopped = (signal: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    signal.addEventListener('abort', () => resolve(), { once: true });
  });

export const serveCommand = (io: Io): Command =>
  new Command('serve')
    .description('open the studio in a browser: serves the page on this machine only, and says where')
    .option('--port <number>', 'the port; when it is taken, or for 0, any free one', String(DEFAULT_PORT))
    .option('--studio <folder>', 'the studio to open (default: the demo studio)')
    .action(async (options: { port: string; studio?: string }) => {
      const port = numberFrom('--port', options.port, 0, 65535, true);
      const folder = options.studio ?? demoFolder();
      await readStudio(folder); // a broken file is named now, not at the first click
      const site = app({ page: pageFolder(), studio: () => readStudio(folder) });
      const listening = await listen(site, port);
      io.out(`Afterfire is open at ${listening.address}\nCtrl-C closes it.\n`);
      await untilStopped(io.signal);
      await listening.close();
    });
