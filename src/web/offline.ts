/**
 * Kept on the device for when the laptop is out of reach: the page itself, and the studio as last seen. The list of files and
 * their version are put in by the build. Runs as a service worker, only over the secure address of another device.
 */
interface Waits extends Event {
  readonly waitUntil: (done: Promise<unknown>) => void;
}
interface Asked extends Event {
  readonly request: Request;
  readonly respondWith: (answer: Promise<Response>) => void;
}
/** The part of a service worker's surroundings that is used; the types of pages and of workers do not go together. */
interface Surroundings {
  readonly location: Location;
  readonly clients: { readonly claim: () => Promise<void> };
  readonly skipWaiting: () => Promise<void>;
  readonly addEventListener: {
    (kind: 'install' | 'activate', heard: (event: Waits) => void): void;
    (kind: 'fetch', heard: (event: Asked) => void): void;
  };
}
const worker = globalThis as unknown as Surroundings;
declare const KEPT: { readonly version: string; readonly files: readonly string[] };

const CACHE = `afterfire-${KEPT.version}`;
/** Asked of the laptop first; what it said last stands in while it does not answer. Searches and photos would fill the device. */
const LAST_SEEN = /^\/api\/(studio|record(\/(today|forms|places|firings|pieces|numbered)\b.*)?)$/;
/** Says of an answer that it is an old one. */
const OLD = 'afterfire-last-seen';

const lastSeenPath = (url: string): boolean => LAST_SEEN.test(new URL(url).pathname);

const asOld = async (kept: Response): Promise<Response> => {
  const headers = new Headers(kept.headers);
  headers.set(OLD, 'yes');
  return new Response(await kept.blob(), { status: kept.status, headers });
};

worker.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(CACHE)
      .then((cache) => cache.addAll([...KEPT.files]))
      .then(() => worker.skipWaiting()),
  );
});

worker.addEventListener('activate', (event) => {
  event.waitUntil(
    caches
      .keys()
      .then((keys) => Promise.all(keys.filter((key) => key !== CACHE).map((key) => caches.delete(key))))
      .then(() => worker.clients.claim()),
  );
});

const lastSeen = async (request: Request): Promise<Response> => {
  const cache = await caches.open(CACHE);
  try {
    const answer = await fetch(request);
    if (answer.ok) await cache.put(request, answer.clone());
    // Put out on the laptop: nothing of the studio stays here.
    if (answer.status === 401)
      for (const { url } of await cache.keys()) if (lastSeenPath(url)) await cache.delete(url);
    return answer;
  } catch (error) {
    const kept = await cache.match(request);
    if (kept) return asOld(kept);
    throw error;
  }
};

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  const { pathname, origin } = new URL(request.url);
  if (request.method !== 'GET' || origin !== worker.location.origin) return;
  if (lastSeenPath(request.url)) event.respondWith(lastSeen(request));
  else if (!pathname.startsWith('/api/'))
    event.respondWith(caches.match(request, { ignoreSearch: true }).then((kept) => kept ?? fetch(request)));
});
