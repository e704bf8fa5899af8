import { createServer, type Server } from 'node:http';
import { getRequestListener } from '@hono/node-server';
import type { Hono } from 'hono';
import { badInput } from '../error.ts';

/** Loopback only: what happens in the studio stays on this machine. */
const HOST = '127.0.0.1';
export const DEFAULT_PORT = 4620;

export interface Listening {
  readonly address: string;
  readonly close: () => Promise<void>;
}

/** Binds a server to one address of this machine. */
export const bindTo = (server: Server, port: number, host = HOST): Promise<void> =>
  new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, () => {
      server.off('error', reject);
      resolve();
    });
  });

/** Opens the one socket of the program; when the port is taken, any free one. */
export const listen = async (site: Hono, port = DEFAULT_PORT): Promise<Listening> => {
  const server = createServer(getRequestListener(site.fetch));
  await bindTo(server, port).catch(async (error: NodeJS.ErrnoException) => {
    if (error.code === 'EACCES')
      throw badInput('port', port, 'one this account may open, usually 1024 or above');
    if (error.code !== 'EADDRINUSE') throw error;
    await bindTo(server, 0);
  });
  const bound = server.address();
  const used = typeof bound === 'object' && bound !== null ? bound.port : port;
  return listeningOn(server, `http://${HOST}:${used}/`);
};

export const listeningOn = (server: Server, address: string): Listening => ({
  address,
  close: () =>
    new Promise((resolve) => {
      server.close(() => resolve());
      server.closeAllConnections();
    }),
});
