/**
 * An invented office: a certificate authority, the office's certificate and key, a stamping service on the loopback interface.
 * All by openssl, so that what waysheet writes is read by other code, and the other way round.
 */
import { execFileSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { temporary } from './folders.js';

export const openssl = (...args: string[]): Buffer =>
  execFileSync('openssl', args, { stdio: ['ignore', 'pipe', 'pipe'] });

/** Whether a program of this name can be started. */
export function hasProgram(name: string, ...args: string[]): boolean {
  try {
    execFileSync(name, args, { stdio: 'ignore' });
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ENOENT';
  }
}

export const hasOpenssl = hasProgram('openssl', 'version');

/** Names of tests that need a program say so where it is not there. */
export const needs = (name: string, isThere: boolean): string =>
  isThere ? '' : ` (skipped: ${name} is not installed)`;

const EXTENSIONS = {
  ca: 'basicConstraints=critical,CA:TRUE\nkeyUsage=critical,keyCertSign,cRLSign',
  office: 'basicConstraints=CA:FALSE\nkeyUsage=critical,digitalSignature,nonRepudiation',
  stamps:
    'basicConstraints=CA:FALSE\nkeyUsage=critical,digitalSignature\nextendedKeyUsage=critical,timeStamping',
};

export interface Office {
  readonly folder: string;
  /** A file of the folder. */
  readonly at: (name: string) => string;
}

/** ca.crt, office.crt, office.key, stamps.crt, stamps.key; valid for a hundred years from today. */
export async function newOffice(name = 'Alignment office (invented)'): Promise<Office> {
  const folder = await temporary();
  const at = (file: string) => join(folder, file);
  openssl(
    ...['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-days', '36500'],
    ...['-subj', `/CN=Test authority (invented)`, '-keyout', at('ca.key'), '-out', at('ca.crt')],
    ...['-addext', 'keyUsage=critical,keyCertSign,cRLSign'],
  );
  certify(at, 'office', name, EXTENSIONS.office);
  certify(at, 'stamps', 'Stamping service (invented)', EXTENSIONS.stamps);
  return { folder, at };
}

function certify(at: Office['at'], file: string, name: string, extensions: string): void {
  writeFileSync(at(`${file}.ext`), extensions);
  openssl(
    ...['req', '-newkey', 'rsa:2048', '-nodes', '-subj', `/CN=${name}`],
    ...['-keyout', at(`${file}.key`), '-out', at(`${file}.csr`)],
  );
  openssl(
    ...['x509', '-req', '-in', at(`${file}.csr`), '-CA', at('ca.crt'), '-CAkey', at('ca.key')],
    ...['-CAcreateserial', '-days', '36500', '-extfile', at(`${file}.ext`), '-out', at(`${file}.crt`)],
  );
}

export const pem = ({ at }: Office, file: string): string => readFileSync(at(file), 'utf8');

export interface StampingService {
  readonly url: string;
  /** Answers other than openssl's, for services that lie. */
  answer: ((request: Buffer, genuine: Buffer) => Buffer) | null;
  readonly asked: () => number;
  close(): Promise<void>;
}

/** RFC 3161 over HTTP (3.4), answered by `openssl ts`. Listens on the loopback interface only. */
export async function stampingService({ at }: Office): Promise<StampingService> {
  writeFileSync(at('serial'), '01\n');
  writeFileSync(
    at('ts.cnf'),
    [
      ...[
        '[tsa]',
        'default_tsa = one',
        '[one]',
        `serial = ${at('serial')}`,
        `signer_cert = ${at('stamps.crt')}`,
      ],
      ...[`signer_key = ${at('stamps.key')}`, `certs = ${at('ca.crt')}`, 'signer_digest = sha256'],
      ...['default_policy = 1.2.3.4.1', 'digests = sha256', 'ess_cert_id_alg = sha256', ''],
    ].join('\n'),
  );
  let asked = 0;
  const server = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on('data', (part: Buffer) => parts.push(part));
    request.on('end', () => {
      asked++;
      const query = Buffer.concat(parts);
      writeFileSync(at('query.tsq'), query);
      openssl(
        'ts',
        '-reply',
        '-config',
        at('ts.cnf'),
        '-queryfile',
        at('query.tsq'),
        '-out',
        at('answer.tsr'),
      );
      const genuine = readFileSync(at('answer.tsr'));
      response.setHeader('content-type', 'application/timestamp-reply');
      response.end(service.answer?.(query, genuine) ?? genuine);
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const service: StampingService = {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    answer: null,
    asked: () => asked,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
  return service;
}
