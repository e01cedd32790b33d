/**
 * The page of `follow` on this machine: served to this machine alone, and told when it is new. Nothing is written over HTTP:
 * every request but GET and HEAD is refused. The address has a random token; a request from another host or page is refused.
 */
import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

export interface FollowServer {
  /** What to open in a browser. */
  readonly address: string;
  /** Shows a new page to everyone who looks at it. @param page The whole page. */
  readonly show: (page: string) => void;
  readonly close: () => Promise<void>;
}

/** Most pages that may be open at the same time. */
const MOST_OPEN = 20;
/** Time between two lines that keep the connection open, ms. */
const KEEP_ALIVE_MS = 15_000;

/** @param port 0: any that is free. @throws {Error} the port is taken. */
export async function startFollowServer(port = 0): Promise<FollowServer> {
  const token = randomBytes(24).toString('base64url');
  const open = new Set<ServerResponse>();
  let page = WAITING;
  let hosts: readonly string[] = [];
  const server = createServer((request, response) => {
    const refusal = refusalOf(request, token, hosts);
    if (refusal !== null) return end(response, refusal, '');
    const path = pathOf(request).slice(token.length + 2);
    if (path === 'events' && request.method === 'GET') {
      if (open.size >= MOST_OPEN) return end(response, 503, '');
      response.writeHead(200, { ...HEADERS, 'Content-Type': 'text/event-stream; charset=utf-8' });
      open.add(response);
      response.on('close', () => open.delete(response));
      response.write(eventOf(page));
      return;
    }
    if (path !== '') return end(response, 404, '');
    end(response, 200, request.method === 'HEAD' ? '' : page, {
      'Content-Type': 'text/html; charset=utf-8',
      'Content-Security-Policy': policyOf(page),
    });
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
  const { port: own } = server.address() as AddressInfo;
  hosts = [`127.0.0.1:${own}`, `localhost:${own}`];
  const keepAlive = setInterval(() => {
    for (const one of open) one.write(': \n\n');
  }, KEEP_ALIVE_MS);
  return {
    address: `http://127.0.0.1:${own}/${token}/`,
    show: (next) => {
      page = next;
      for (const one of open) one.write(eventOf(page));
    },
    close: () =>
      new Promise((resolve) => {
        clearInterval(keepAlive);
        for (const one of open) one.end();
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/** Until the first look is done. */
const WAITING =
  '<!doctype html><html lang="en"><head><meta charset="utf-8"><meta http-equiv="refresh" content="1"><title>waysheet follow</title></head><body><main id="now"><p>The readings are being read.</p></main></body></html>';

const HEADERS = {
  'Cache-Control': 'no-store',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
  'Cross-Origin-Resource-Policy': 'same-origin',
};

function end(
  response: ServerResponse,
  status: number,
  body: string,
  more: Record<string, string> = {},
): void {
  response.writeHead(status, { ...HEADERS, 'Content-Type': 'text/plain; charset=utf-8', ...more });
  response.end(body);
}

const pathOf = ({ url = '/' }: IncomingMessage): string => url.split('?', 1)[0]!;

/** The status with which a request is refused; null: it may be answered. */
function refusalOf(request: IncomingMessage, token: string, hosts: readonly string[]): number | null {
  const { method, headers } = request;
  if (method !== 'GET' && method !== 'HEAD') return 405;
  if (!hosts.includes(headers.host ?? '')) return 403;
  if (headers.origin !== undefined && !hosts.some((host) => headers.origin === `http://${host}`)) return 403;
  const site = headers['sec-fetch-site'];
  if (site !== undefined && site !== 'same-origin' && site !== 'none') return 403;
  const [, said = ''] = pathOf(request).split('/');
  const hash = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(hash(said), hash(token)) && pathOf(request).startsWith(`/${token}/`) ? null : 404;
}

/** The policy that the page states itself, with the one connection that it needs. */
const policyOf = (page: string): string =>
  /<meta http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(page)?.[1] ?? "default-src 'none'";

/** What changes of the page: its title and what is between the tags of <main>. */
function eventOf(page: string): string {
  const title = /<title>([^]*?)<\/title>/.exec(page)?.[1] ?? '';
  const main = /<main id="now">([^]*?)<\/main>/.exec(page)?.[1] ?? '';
  return `data: ${JSON.stringify({ title, main })}\n\n`;
}
