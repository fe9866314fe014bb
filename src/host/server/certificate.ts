/** A certificate for localhost that lasts for this run and is never stored. */
import {generate} from 'selfsigned';

export interface Certificate {
  readonly key: string;
  readonly cert: string;
}

const DAY = 24 * 60 * 60 * 1000;

/** Nobody has confirmed it, so a browser asks before it shows the page. */
export async function makeCertificate(): Promise<Certificate> {
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
  return {key: made.private, cert: made.cert};
}
