/** Many forgeries of reports, each audited: how many were caught, by kind. */
import { rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { openPrinter } from '../../../src/pages/report/pdf.js';
import { reportForgeries, type Files, type ReportForgery } from '../../support/forge-report.js';
import { temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';
import { appendToLog, readLog } from '../../../src/archive/issue-log.js';
import { sha256 } from '../../../src/pages/deliverables/manifest.js';
import { answer, BY, lie, made, newKit, ON, remembering, type Asked } from './kit.js';

export interface Tally {
  tried: number;
  caught: number;
  /** Of a log: another way to write the same. */
  harmless: number;
  readonly missed: string[];
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
  const tallies = new Map<string, Tally>();
  const next = seeded(seed);
  const place = join(await temporary(), 'R');
  try {
    const sound = await Promise.all(samples.map((id) => made(id, printer)));
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
      const { grade, text } = await answer({ printer }, path);
      if (grade !== 'proven') tally.caught++;
      else tally.missed.push(text);
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

/**
 * Reports that nobody touched, audited again and again: drafts, issued ones, unsigned and signed, as folders and as PDFs.
 *
 * @returns How many were audited, and what was said of each that was not proven.
 */
export async function auditHonest(
  count: number,
  samples: readonly string[],
  told: (done: number, of: number) => void = () => undefined,
): Promise<{ readonly audited: number; readonly accused: readonly string[] }> {
  const printer = remembering(await openPrinter());
  const accused: string[] = [];
  try {
    const honest: [path: string, asked: Asked][] = [];
    for (const id of samples) {
      const { draft, out, trust, head } = await newKit(id, printer);
      const drafts = await lie(draft, join(await temporary(), id));
      const plain = await temporary();
      const facts = { number: `${id}-1`, on: ON, by: BY, without: ['approver' as const] };
      const issued = await made(id, printer, { facts, sign: null });
      await lie(issued, join(plain, id));
      const manifest = sha256(issued.get('manifest.json')!);
      await appendToLog(plain, readLog(plain), { act: 'issued', job: id, ...facts, manifest });
      for (const [folder, asked] of [
        [drafts, {}],
        [join(plain, id), {}],
        [join(out, id), { trust, head }],
      ] as const)
        honest.push([folder, asked], [join(folder, 'report.pdf'), asked]);
    }
    for (let k = 0; k < count; k++) {
      const [path, asked] = honest[k % honest.length]!;
      const { grade, text } = await answer({ printer }, path, asked);
      if (grade !== 'proven') accused.push(text);
      told(k + 1, count);
    }
  } finally {
    await printer.close();
  }
  return { audited: count, accused };
}
