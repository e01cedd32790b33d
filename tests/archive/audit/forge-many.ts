/** Many forgeries of reports and of their log, each audited: how many were caught, by kind. */
import { createHash } from 'node:crypto';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { audit, isSound } from '../../../src/archive/audit/audit.js';
import { comparePages } from '../../../src/archive/audit/pages/compare-pages.js';
import { readPages } from '../../../src/archive/audit/pages/read-pages.js';
import { readIssued } from '../../../src/archive/issued-report.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { makeDeliverables } from '../../../src/pipeline.js';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import type { PrintJob } from '../../../src/pages/report/print-job.js';
import { reportForgeries, type Files, type ReportForgery } from '../../support/forge-report.js';
import { sample, temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';

export interface Tally {
  tried: number;
  caught: number;
  harmless: number;
  readonly missed: string[];
}

const where = { job: null, tolerances: null };

/** Prints each page once: the same print job gives the same bytes. */
function remembering(printer: Printer): Printer {
  const printed = new Map<string, Promise<Uint8Array>>();
  const keyOf = (job: PrintJob) => {
    const hash = createHash('sha256').update(JSON.stringify({ ...job, attachments: null }));
    for (const { name, bytes } of job.attachments ?? []) hash.update(name).update(bytes);
    return hash.digest('hex');
  };
  return {
    ...printer,
    print(job) {
      const key = keyOf(job);
      const known = printed.get(key) ?? printer.print(job);
      // What a forger changed is printed once; only what was issued is asked for again.
      if (printed.size < 100) printed.set(key, known);
      return known;
    },
    close: () => printer.close(),
  };
}

async function issued(id: string, printer: Printer): Promise<Files> {
  const loaded = await loadJob(sample(id));
  if (!loaded.ok) throw new Error('refused');
  return (await makeDeliverables(sample(id), loaded.value, loaded.diagnostics, Promise.resolve(printer)))
    .files;
}

async function lie(files: Files, place: string): Promise<void> {
  await rm(place, { recursive: true, force: true });
  for (const [path, bytes] of files) {
    await mkdir(dirname(join(place, path)), { recursive: true });
    await writeFile(join(place, path), bytes);
  }
}

/**
 * That a reader finds nothing else in the PDF: every page drawn alike, and the same files inside. It is not the audit's
 * word that is taken for it, but what is on the pages.
 */
async function isTheSame(one: Uint8Array, other: Uint8Array, place: string): Promise<boolean> {
  const pages = await Promise.all([one, other].map(readPages)).catch(() => null);
  if (pages === null || comparePages(pages[0]!, pages[1]!, 'same-print').length > 0) return false;
  const carried: string[] = [];
  for (const bytes of [one, other]) {
    await writeFile(`${place}.pdf`, bytes);
    const { attachments } = await readIssued(`${place}.pdf`);
    carried.push(
      JSON.stringify(
        attachments.map(({ name, bytes: data }) => [name, Buffer.from(data).toString('base64')]),
      ),
    );
  }
  return carried[0] === carried[1];
}

/**
 * @param count Forgeries, of all kinds in turn. @param samples That are forged. @param told After each.
 * @returns By kind.
 */
export async function forgeMany(
  count: number,
  seed: number,
  samples: readonly string[],
  told: (done: number, of: number) => void = () => undefined,
): Promise<Map<string, Tally>> {
  const printer = remembering(await openPrinter());
  const print = () => Promise.resolve(printer);
  const tallies = new Map<string, Tally>();
  const next = seeded(seed);
  const place = join(await temporary(), 'R');
  try {
    const sound = await Promise.all(samples.map((id) => issued(id, printer)));
    const one = async (kind: ReportForgery, files: Files): Promise<void> => {
      const forged = await kind.forge(files, next);
      if (forged === null) return;
      const isAlone = kind.ofPdf === true && next() < 0.4;
      await lie(forged, place);
      const path = isAlone ? join(place, 'report.pdf') : place;
      const name = `${kind.name}${isAlone ? ', alone' : ''}`;
      const tally = tallies.get(name) ?? { tried: 0, caught: 0, harmless: 0, missed: [] };
      tallies.set(name, tally);
      tally.tried++;
      // Refused is caught as well: it says why.
      const finding = await audit(path, where, print).catch(() => null);
      if (finding === null || !isSound(finding)) tally.caught++;
      else if (
        kind.mayBeHarmless === true &&
        (await isTheSame(files.get('report.pdf')!, forged.get('report.pdf')!, place))
      )
        tally.harmless++;
      else if (kind.told?.test(finding.note) === true) tally.harmless++;
      else tally.missed.push(`${finding.job}: compared by ${finding.pagesCompared}`);
    };
    for (let k = 0; k < count; k++) {
      const kind = reportForgeries[k % reportForgeries.length]!;
      await one(kind, sound[Math.floor(next() * sound.length)]!);
      told(k + 1, count);
    }
  } finally {
    await printer.close();
    await rm(dirname(place), { recursive: true, force: true });
  }
  return tallies;
}
