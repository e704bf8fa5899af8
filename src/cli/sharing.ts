import type { Doors } from '../server/app.ts';
import { app } from '../server/app.ts';
import type { Listening } from '../server/listen.ts';
import { admitDevices } from '../server/share/admit.ts';
import { makeCertificate, type StudioCertificate } from '../server/share/certificate.ts';
import type { DeviceBook } from '../server/share/devices.ts';
import { NO_NETWORK, openShare, placesOf } from '../server/share/open-share.ts';
import { makeShare, type Share, type Sharing } from '../server/share/share.ts';
import { readShareFile, type ShareFile, writeShareFile } from '../store/share-file.ts';

/** A certificate is made anew this long before it ends. */
const AHEAD_ms = 30 * 86_400_000;

const sameHosts = (a: readonly string[], b: readonly string[]): boolean => a.join() === b.join();

/** The certificate kept from last time, while it is good and this machine's addresses are the same; else a new one. */
const certificateFrom = (path: string, hosts: readonly string[], now_ms: number): StudioCertificate => {
  const file = readShareFile(path);
  const kept = file.certificate;
  if (kept && sameHosts(kept.hosts, hosts) && kept.until_ms > now_ms + AHEAD_ms) return kept;
  const made = makeCertificate(hosts, now_ms);
  writeShareFile(path, { ...file, certificate: { ...made, hosts: [...made.hosts] } });
  return made;
};

/** Read once: every request of a device asks it, and while it is open nobody else writes the file (the ports are taken). */
const bookIn = (path: string): DeviceBook => {
  let devices = readShareFile(path).devices;
  const change = (next: ShareFile['devices']): void => {
    writeShareFile(path, { ...readShareFile(path), devices: next });
    devices = next;
  };
  return {
    all: () => devices,
    put: (device) => change([...devices.filter((d) => d.id !== device.id), device]),
    remove: (id) => change(devices.filter((d) => d.id !== id)),
  };
};

/**
 * The switch that opens the studio to devices on the same network, which are then let in by a code.
 * @param hosts addresses of this machine there, asked for when it is opened
 */
export const sharingOf = (path: string, doors: Doors, hosts: () => readonly string[]): Sharing => {
  let open: { readonly share: Share; readonly listening: Listening } | undefined;
  return {
    now: () => open?.share,
    start: async () => {
      const found = hosts();
      if (found.length === 0) throw NO_NETWORK;
      const made = certificateFrom(path, found, Date.now());
      const places = placesOf(made);
      const share = makeShare(bookIn(path), places, () => Date.now());
      const site = app({ ...doors, admit: admitDevices(share, found) });
      open = { share, listening: await openShare(site, made, places) };
      return share;
    },
    stop: async () => {
      await open?.listening.close();
      open = undefined;
    },
  };
};
