/** Auditing an archive with everything made again but the PDF, beside making it: ratios within one run. */
import { program } from '../support/program.js';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { makeArchive } from './make-archive.js';

const ROUNDS = 3;
const count = Number(process.argv[2] ?? 200);
const place = mkdtempSync(join(tmpdir(), 'waysheet-bench-'));
const [jobs, out] = [join(place, 'jobs'), join(place, 'out')];

function timed(...args: string[]): number {
  const began = performance.now();
  const { status, stderr } = spawnSync(process.execPath, [program(), ...args], {
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(`${args[0]}: status ${status}: ${stderr.slice(-500)}`);
  return (performance.now() - began) / 1000;
}

try {
  makeArchive(jobs, count);
  // A PDF carries the inputs that an audit needs.
  const withPdf = timed('batch', jobs, '--out', out);
  // In turn, and the least of each: a machine is not as fast at one time as at another.
  let [batch, audit] = [Infinity, Infinity];
  for (let k = 0; k < ROUNDS; k++) {
    batch = Math.min(batch, timed('batch', jobs, '--out', join(place, `plain ${k}`), '--no-pdf'));
    audit = Math.min(audit, timed('audit', out, '--no-print'));
  }
  console.log(
    `batch --no-pdf over ${count} jobs ${batch.toFixed(1)} s; with PDFs ${(withPdf / batch).toFixed(2)} of that`,
  );
  console.log(`audit --no-print ${(audit / batch).toFixed(2)} of batch --no-pdf`);
} finally {
  rmSync(place, { recursive: true, force: true });
}
