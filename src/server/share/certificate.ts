import { generateKeyPairSync, randomBytes, X509Certificate } from 'node:crypto';
import forge from 'node-forge';

/**
 * A browser keeps pages for use without a network, and shares memory between workers, only where the connection is secure;
 * plain HTTP on a home network is not. So the laptop makes a certificate for its own addresses, and the other device is told
 * once to trust it. The signing key is thrown away as soon as it has signed that one certificate, and the authority may only
 * vouch for the addresses named in it (RFC 5280, 4.2.1.10): trusting it can never let anyone pretend to be another site.
 */
export interface StudioCertificate {
  /** What the other device is told to trust, PEM. */
  readonly authority: string;
  /** What the server shows, PEM. */
  readonly certificate: string;
  /** PEM. */
  readonly key: string;
  /** Addresses (IPv4) and names it is good for. */
  readonly hosts: readonly string[];
  readonly until_ms: number;
}

/** Browsers refuse longer ones: 398 days (CA/Browser Forum baseline requirements, from memory). */
const GOOD_FOR_ms = 390 * 86_400_000;
/** A clock on another device may run behind. */
const SLACK_ms = 86_400_000;

const isAddress = (host: string): boolean => /^\d+(\.\d+){3}$/.test(host);

const newKeys = () => {
  const { publicKey, privateKey } = generateKeyPairSync('rsa', {
    modulusLength: 2048,
    publicKeyEncoding: { type: 'spki', format: 'pem' },
    privateKeyEncoding: { type: 'pkcs8', format: 'pem' },
  });
  return {
    public: forge.pki.publicKeyFromPem(publicKey),
    private: forge.pki.privateKeyFromPem(privateKey),
    pem: privateKey,
  };
};

/** Name constraints (RFC 5280, 4.2.1.10): permitted subtrees, an address with the mask of one address, or a DNS name. */
const onlyFor = (hosts: readonly string[]) => {
  const { asn1 } = forge;
  const { CONTEXT_SPECIFIC, UNIVERSAL } = asn1.Class;
  const subtree = (host: string) => {
    const address = String.fromCharCode(...host.split('.').map(Number), 255, 255, 255, 255);
    const name = isAddress(host)
      ? asn1.create(CONTEXT_SPECIFIC, 7 as forge.asn1.Type, false, address)
      : asn1.create(CONTEXT_SPECIFIC, 2 as forge.asn1.Type, false, host);
    return asn1.create(UNIVERSAL, asn1.Type.SEQUENCE, true, [name]);
  };
  const permitted = asn1.create(CONTEXT_SPECIFIC, 0 as forge.asn1.Type, true, hosts.map(subtree));
  return {
    id: '2.5.29.30',
    critical: true,
    value: asn1.create(UNIVERSAL, asn1.Type.SEQUENCE, true, [permitted]),
  };
};

/** Positive and without a leading zero byte. */
const serial = (): string => `4${randomBytes(16).toString('hex').slice(1)}`;

const begin = (publicKey: forge.pki.PublicKey, name: string, now_ms: number) => {
  const made = forge.pki.createCertificate();
  made.publicKey = publicKey;
  made.serialNumber = serial();
  made.validity.notBefore = new Date(now_ms - SLACK_ms);
  made.validity.notAfter = new Date(now_ms + GOOD_FOR_ms);
  made.setSubject([{ name: 'commonName', value: name }]);
  return made;
};

/**
 * A certificate for these addresses and names, and the authority that signed it and nothing else.
 * @param hosts IPv4 addresses and names of this machine, at least one
 */
export const makeCertificate = (hosts: readonly string[], now_ms: number): StudioCertificate => {
  const [signer, own] = [newKeys(), newKeys()];
  const digest = forge.md.sha256.create;
  const authority = begin(
    signer.public,
    `Afterfire studio ${new Date(now_ms).toISOString().slice(0, 10)}`,
    now_ms,
  );
  authority.setIssuer(authority.subject.attributes);
  authority.setExtensions([
    { name: 'basicConstraints', cA: true, pathLenConstraint: 0, critical: true },
    { name: 'keyUsage', keyCertSign: true, critical: true },
    { name: 'subjectKeyIdentifier' },
    onlyFor(hosts),
  ]);
  authority.sign(signer.private, digest());
  const leaf = begin(own.public, hosts[0], now_ms);
  leaf.setIssuer(authority.subject.attributes);
  leaf.setExtensions([
    { name: 'basicConstraints', cA: false, critical: true },
    { name: 'keyUsage', digitalSignature: true, keyEncipherment: true, critical: true },
    { name: 'extKeyUsage', serverAuth: true },
    {
      name: 'subjectAltName',
      altNames: hosts.map((host) => (isAddress(host) ? { type: 7, ip: host } : { type: 2, value: host })),
    },
    { name: 'authorityKeyIdentifier', keyIdentifier: authority.generateSubjectKeyIdentifier().getBytes() },
  ]);
  leaf.sign(signer.private, digest());
  return {
    authority: forge.pki.certificateToPem(authority),
    certificate: forge.pki.certificateToPem(leaf),
    key: own.pem,
    hosts,
    until_ms: now_ms + GOOD_FOR_ms,
  };
};

/** SHA-256 of a certificate, in pairs: to compare by eye on both screens. */
export const fingerprintOf = (pem: string): string => new X509Certificate(pem).fingerprint256;

/** The certificate as a device downloads it (DER). */
export const derOf = (pem: string): Buffer => Buffer.from(new X509Certificate(pem).raw);
