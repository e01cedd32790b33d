/** Requests a time stamp for a signature from a service: RFC 3161 over HTTP (3.4). */
import { isSameDay } from '../signature/check-signature.js';
import { readTimeStamp, timeStampRequest, tokenOf } from '../signature/time-stamp.js';

/** Time limit of the service, s. */
const LIMIT_S = 30;

/** Greatest size of an answer, bytes. A token with all its certificates has a few thousand. */
const MOST_BYTES = 65_536;

export type Stamp =
  | { readonly state: 'stamped'; readonly token: Uint8Array; readonly at: Date }
  /** No answer: the report has no time stamp. */
  | { readonly state: 'unreachable'; readonly why: string }
  /** The answer is not a time stamp of this day for this signature. */
  | { readonly state: 'wrong'; readonly why: string };

/** @param on Day of signing, ISO 8601. */
export async function askTimeStamp(url: URL, signature: Uint8Array, on: string): Promise<Stamp> {
  const { request, nonce } = await timeStampRequest(signature);
  const answer = await post(url, request);
  if (typeof answer === 'string') return { state: 'unreachable', why: answer };
  const token = await tokenOf(answer, signature, nonce);
  if (typeof token === 'string') return { state: 'wrong', why: token };
  const read = await readTimeStamp(token, signature);
  if (typeof read === 'string') return { state: 'wrong', why: read };
  if (!isSameDay(read.at, on))
    return { state: 'wrong', why: `the time stamp says ${read.at.toISOString()}, the day of issue is ${on}` };
  return { state: 'stamped', token, at: read.at };
}

/** @returns The reason why there is no answer, in words. */
async function post(url: URL, request: Uint8Array): Promise<Uint8Array | string> {
  try {
    const response = await fetch(url, {
      method: 'POST',
      headers: { 'content-type': 'application/timestamp-query', accept: 'application/timestamp-reply' },
      body: Uint8Array.from(request),
      redirect: 'error',
      signal: AbortSignal.timeout(1000 * LIMIT_S),
    });
    if (!response.ok || response.body === null) return `it answered with HTTP status ${response.status}`;
    const parts: Uint8Array[] = [];
    let size = 0;
    for await (const part of response.body as unknown as AsyncIterable<Uint8Array>) {
      parts.push(part);
      if ((size += part.length) > MOST_BYTES) return `its answer has more than ${MOST_BYTES} bytes`;
    }
    return new Uint8Array(Buffer.concat(parts));
  } catch (error) {
    const { name, message, cause } = error as Error & { cause?: { message?: string } };
    return name === 'TimeoutError' ? `no answer within ${LIMIT_S} s` : (cause?.message ?? message);
  }
}
