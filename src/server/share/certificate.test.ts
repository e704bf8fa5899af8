import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { derOf, fingerprintOf, makeCertificate } from './certificate.ts';

/** Judged by OpenSSL, and by Node's own TLS: neither was made here. Rules: RFC 5280. */
const HOSTS = ['192.168.7.20', 'studio-laptop.local'];
const made = makeCertificate(HOSTS, Date.now());
let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'afterfire-certificate-'));
  writeFileSync(join(folder, 'authority.pem'), made.authority);
  writeFileSync(join(folder, 'own.pem'), made.certificate);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const openssl = (...args: string[]): string =>
  execFileSync('openssl', args, { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
const here = (() => {
  try {
    execFileSync('openssl', ['version']);
    return true;
  } catch {
    console.warn('!! OpenSSL is not here: certificates are not judged from outside.');
    return false;
  }
})();

describe.runIf(here)('to OpenSSL', () => {
  test('the authority vouches for the server, for its address and for its name', () => {
    const verify = ['verify', '-x509_strict', '-purpose', 'sslserver', '-CAfile', 'authority.pem'];
    expect(openssl(...verify, '-verify_ip', HOSTS[0], 'own.pem')).toContain('own.pem: OK');
    expect(openssl(...verify, '-verify_hostname', HOSTS[1], 'own.pem')).toContain('own.pem: OK');
    expect(() => openssl(...verify, '-verify_hostname', 'example.org', 'own.pem')).toThrow();
  });

  test('the authority may vouch for nothing else: a certificate of another name under it would be refused', () => {
    const text = openssl('x509', '-in', 'authority.pem', '-noout', '-text');
    expect(text).toMatch(/CA:TRUE, pathlen:0/);
    expect(text).toMatch(
      /Name Constraints: critical\s+Permitted:\s+IP:192\.168\.7\.20\/255\.255\.255\.255\s+DNS:studio-laptop\.local/,
    );
  });

  test('the fingerprint shown is the one a device shows', () => {
    writeFileSync(join(folder, 'authority.der'), derOf(made.authority));
    expect(
      openssl('x509', '-inform', 'der', '-in', 'authority.der', '-noout', '-fingerprint', '-sha256'),
    ).toContain(fingerprintOf(made.authority));
  });
});

test('no two are alike', () => {
  expect(makeCertificate(HOSTS, Date.now()).key).not.toBe(made.key);
});
