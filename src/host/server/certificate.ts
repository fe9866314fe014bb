/** A certificate for localhost: one that a person has already, or one that lasts for this run and is never stored. */
import {X509Certificate} from 'node:crypto';
import {existsSync, readFileSync} from 'node:fs';
import {homedir} from 'node:os';
import path from 'node:path';
import {generate} from 'selfsigned';

export interface Certificate {
  readonly key: string;
  readonly cert: string;
  /** Made earlier, by an authority that the person has on this machine. */
  readonly trusted: boolean;
}

const DAY = 24 * 60 * 60 * 1000;

/** Where the usual tool for developing add-ins, office-addin-dev-certs, keeps the certificates that it has made. */
const OF_DEVELOPER = path.join(homedir(), '.office-addin-dev-certs');

/** Nothing is installed and nothing asked: certificates that are there and still hold are used, or else one is made. */
export const certificate = async (folder = OF_DEVELOPER): Promise<Certificate> =>
  existingCertificate(folder) ?? (await makeCertificate());

function existingCertificate(folder: string): Certificate | undefined {
  const [cert, key, authority] = ['localhost.crt', 'localhost.key', 'ca.crt'].map((name) => path.join(folder, name));
  if (![cert, key, authority].every((file) => existsSync(file))) return undefined;
  try {
    const read = {cert: readFileSync(cert, 'utf8'), key: readFileSync(key, 'utf8')};
    const own = new X509Certificate(read.cert);
    const issuer = new X509Certificate(readFileSync(authority));
    const now = Date.now();
    const holds = Date.parse(own.validFrom) <= now && now < Date.parse(own.validTo);
    return holds && own.verify(issuer.publicKey) ? {...read, trusted: true} : undefined;
  } catch {
    // Unreadable ones are as good as none.
    return undefined;
  }
}

/** Nobody has confirmed it, so a browser asks before it shows the page. */
async function makeCertificate(): Promise<Certificate> {
  const now = Date.now();
  const made = await generate([{name: 'commonName', value: 'localhost'}], {
    keyType: 'ec',
    algorithm: 'sha256',
    notBeforeDate: new Date(now - DAY),
    notAfterDate: new Date(now + 7 * DAY),
    extensions: [
      {name: 'basicConstraints', cA: false},
      {name: 'keyUsage', digitalSignature: true},
      {name: 'extKeyUsage', serverAuth: true},
      {
        name: 'subjectAltName',
        altNames: [
          {type: 2, value: 'localhost'},
          {type: 7, ip: '127.0.0.1'},
        ],
      },
    ],
  });
  return {key: made.private, cert: made.cert, trusted: false};
}
