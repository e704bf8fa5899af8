import { createServer } from 'node:http';
import { createServer as createSecure } from 'node:https';
import { hostname, networkInterfaces } from 'node:os';
import { getRequestListener } from '@hono/node-server';
import type { Hono } from 'hono';
import { AfterfireError, badInput } from '../../error.ts';
import { bindTo, type Listening, listeningOn } from '../listen.ts';
import { fingerprintOf, type StudioCertificate } from './certificate.ts';
import { trustSite } from './trust-site.ts';

export const SECURE_PORT = 4621;
export const TRUST_PORT = 4622;

/** IPv4 addresses of this machine on networks of its own, and its name there. */
export const ownHosts = (): string[] => {
  const addresses = Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter((a) => a.family === 'IPv4' && !a.internal && isPrivate(a.address))
    .map((a) => a.address);
  const name = hostname().replace(/\.local$/, '');
  return addresses.length > 0 ? [...addresses, `${name}.local`] : [];
};

/** Addresses of home and studio networks (RFC 1918, RFC 3927): never one the whole internet reaches. */
export const isPrivate = (address: string): boolean =>
  /^(10\.|192\.168\.|169\.254\.|172\.(1[6-9]|2\d|3[01])\.)/.test(address);

export const NO_NETWORK = new AfterfireError(
  'cannot-do',
  'This machine is on no home or studio network now, so other devices cannot reach it. Join one, then open again.',
);

export interface SharePlaces {
  readonly secure: string;
  readonly trust: string;
  readonly fingerprint: string;
}

/** Where other devices will find this machine. */
export const placesOf = (
  { authority, hosts }: StudioCertificate,
  ports: { secure: number; trust: number } = { secure: SECURE_PORT, trust: TRUST_PORT },
): SharePlaces => ({
  secure: `https://${hosts[0]}:${ports.secure}/`,
  trust: `http://${hosts[0]}:${ports.trust}/`,
  fingerprint: fingerprintOf(authority),
});

/** Opens both sockets of sharing: the secure one for the studio, the plain one for the certificate alone. */
export const openShare = async (
  site: Hono,
  made: StudioCertificate,
  places: SharePlaces,
): Promise<Listening> => {
  const secure = createSecure(
    { key: made.key, cert: made.certificate, minVersion: 'TLSv1.2' },
    getRequestListener(site.fetch),
  );
  const trust = createServer(
    getRequestListener(trustSite(made.authority, places.fingerprint, places.secure, made.hosts).fetch),
  );
  const [host] = made.hosts;
  for (const [server, place] of [
    [secure, places.secure],
    [trust, places.trust],
  ] as const) {
    const port = Number(new URL(place).port);
    await bindTo(server, port, host).catch((error: NodeJS.ErrnoException) => {
      throw error.code === 'EADDRNOTAVAIL'
        ? badInput('--share', host, 'an address of this machine on its own network')
        : error.code === 'EADDRINUSE'
          ? new AfterfireError(
              'cannot-do',
              `Port ${port} is taken: is Afterfire already open to other devices?`,
            )
          : error;
    });
  }
  const both = [listeningOn(secure, places.secure), listeningOn(trust, places.trust)];
  return {
    address: places.secure,
    close: async () => {
      for (const one of both) await one.close();
    },
  };
};
