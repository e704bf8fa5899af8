import { Hono } from 'hono';
import { html } from 'hono/html';
import { secureHeaders } from 'hono/secure-headers';
import { derOf } from './certificate.ts';

/**
 * The one page served without encryption: how to trust the studio's certificate, and the certificate. It holds nothing of
 * the studio. Because anybody on the network might stand in for it, the fingerprint is to be compared with the laptop's.
 */
export const trustSite = (
  authority: string,
  fingerprint: string,
  secure: string,
  hosts: readonly string[],
): Hono => {
  const known = new Set(hosts);
  const site = new Hono();
  site.use(
    secureHeaders({
      contentSecurityPolicy: {
        defaultSrc: ["'none'"],
        styleSrc: ["'unsafe-inline'"],
        frameAncestors: ["'none'"],
      },
      strictTransportSecurity: false,
    }),
  );
  site.use(async (c, next) =>
    known.has((c.req.header('host') ?? '').replace(/:\d+$/, '')) ? next() : c.text('Not here.', 403),
  );
  site.get('/studio.crt', (c) => {
    c.header('Content-Type', 'application/x-x509-ca-cert');
    c.header('Content-Disposition', 'attachment; filename="afterfire-studio.crt"');
    return c.body(new Uint8Array(derOf(authority)));
  });
  site.get('/', (c) =>
    c.html(html`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Trust the studio's laptop</title>
<style>body{font:18px/1.5 system-ui,sans-serif;max-width:34em;margin:0 auto;padding:24px;background:#f7f1e6;color:#2a2521}a.go{display:inline-block;padding:14px 20px;border-radius:8px;background:#b23a1e;color:#fff8ee;text-decoration:none;font-weight:600}code{word-break:break-all;font-size:15px}li{margin:.8em 0}</style>
<h1>Trust the studio's laptop</h1>
<p>Once for each phone or tablet. It lets this device keep Afterfire for when the network is away, and nobody else on the network read along.</p>
<ol>
<li><a class="go" href="/studio.crt">Get the certificate</a></li>
<li>Install it as a certificate authority. <b>iPhone, iPad:</b> Settings, Profile Downloaded, Install; then General, About, Certificate Trust Settings, switch it on. <b>Android:</b> Settings, Security, Encryption and credentials, Install a certificate, CA certificate. Names differ between versions. <b>A computer:</b> the browser's settings, certificates, authorities, import.</li>
<li>Compare what the device shows as SHA-256 fingerprint with the laptop's screen. If they differ, remove it again: somebody else answered.<br><code>${fingerprint}</code></li>
<li>Then open <a href="${secure}">${secure}</a> and type the code the laptop shows.</li>
</ol>
<p>This certificate can vouch for the laptop's own address and nothing else, and the key that made it no longer exists. To take the trust back, remove it where you installed it.</p>
</html>`),
  );
  return site;
};
