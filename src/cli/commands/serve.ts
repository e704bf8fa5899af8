import { Command } from 'commander';
import { app } from '../../server/app.ts';
import { DEFAULT_PORT, listen } from '../../server/listen.ts';
import { ownHosts } from '../../server/share/open-share.ts';
import { sharePath } from '../../store/share-file.ts';
import { readStudio } from '../../store/studio-folder.ts';
import { writerOf } from '../../store/studio-writer.ts';
import { demoFolder, pageFolder } from '../home.ts';
import type { Io } from '../io.ts';
import { numberFrom } from '../options.ts';
import { printerFor } from '../paper/paper-pages.ts';
import { servedRecord } from '../served-record.ts';
import { sharingOf } from '../sharing.ts';

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
    .option(
      '--record <file.sqlite>',
      "the record of the studio's pieces, made where there is none yet (default: record.sqlite in the studio's folder; with the demo studio an invented one, made anew each time)",
    )
    .option(
      '--share [address]',
      "let phones and tablets on the studio's own network in, by a code this machine shows; at this address of its own, or the one it finds",
    )
    .action(async (options: { port: string; studio?: string; record?: string; share?: string | true }) => {
      const port = numberFrom('--port', options.port, 0, 65535, true);
      const folder = options.studio ?? demoFolder();
      await readStudio(folder); // a broken file is named now, not at the first click
      const record = servedRecord(options.record, options.studio, io.err);
      const doors = {
        page: pageFolder(),
        studio: () => readStudio(folder),
        ...(record && { record: record.source, printer: printerFor(io.signal) }),
        // The demo belongs to the program: it is shown, and nothing is kept in it.
        ...(options.studio !== undefined && { writer: writerOf(folder) }),
      };
      const { share } = options;
      const sharing = sharingOf(sharePath(), doors, () => (typeof share === 'string' ? [share] : ownHosts()));
      const shared = share ? await sharing.start() : undefined;
      const listening = await listen(app({ ...doors, sharing }), port);
      io.out(`Afterfire is open at ${listening.address}\n`);
      if (shared)
        io.out(
          `Other devices of the studio: ${shared.places.trust} first, once, then ${shared.places.secure}\n`,
        );
      io.out('Ctrl-C closes it.\n');
      await untilStopped(io.signal);
      await sharing.stop();
      await listening.close();
      record?.close();
    });
