/** A thread that reads and hashes the files of issued reports (verifiers.ts). Loads nothing that it does not need. */
import { parentPort } from 'node:worker_threads';
import { isAsClaimed, unchangedResults } from './unchanged.js';
import type { Question, Verified } from './verifiers.js';

/** Never rejects for what a file holds; see verifiers.ts. */
export async function answer({ claim, row }: Question): Promise<Verified> {
  if (row === null) return { stands: await isAsClaimed(claim), row: null };
  const results = await unchangedResults(claim);
  if (results === null) return { stands: false, row: null };
  const { registerRow } = await import('../register/register-row.js');
  return { stands: true, row: registerRow(results, row) };
}

parentPort?.on('message', (question: Question) => {
  void answer(question).then((verified) => parentPort!.postMessage(verified));
});
