import { createMiddleware } from 'hono/factory';
import { secureHeaders } from 'hono/secure-headers';

const SELF = ["'self'"];
const NONE = ["'none'"];

/**
 * What the page may do: load its own scripts, styles and workers, and nothing else from anywhere.
 * Opener and embedder policy make it cross-origin isolated, which is what lets workers share memory.
 */
export const guardHeaders = secureHeaders({
  contentSecurityPolicy: {
    defaultSrc: NONE,
    // Our own compiled kernels are WebAssembly; this allows that and no code made from text.
    scriptSrc: ["'self'", "'wasm-unsafe-eval'"],
    styleSrc: SELF,
    imgSrc: ["'self'", 'data:', 'blob:'],
    fontSrc: SELF,
    connectSrc: SELF,
    workerSrc: SELF,
    manifestSrc: SELF,
    baseUri: NONE,
    formAction: NONE,
    frameAncestors: NONE,
  },
  crossOriginOpenerPolicy: 'same-origin',
  crossOriginEmbedderPolicy: 'require-corp',
  crossOriginResourcePolicy: 'same-origin',
  referrerPolicy: 'no-referrer',
  // Loopback is plain HTTP: telling a browser to insist on HTTPS would lock it out of every local port.
  strictTransportSecurity: false,
});

const LOOPBACK = new Set(['127.0.0.1', 'localhost', '[::1]']);

/** A page elsewhere can point its own name at this machine; its name then stands in Host, and is refused here. */
export const onlyLoopbackHost = createMiddleware(async (c, next) => {
  const host = c.req.header('host') ?? new URL(c.req.url).host;
  if (!LOOPBACK.has(host.replace(/:\d+$/, '')))
    return c.json({ error: { code: 'bad-input', message: `Host: got ${host}; expected this machine` } }, 403);
  return next();
});
