/** Many forgeries of reports, each audited: how many were caught, by kind. */
import { rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { openPrinter } from '../../../src/pages/report/pdf.js';
import { reportForgeries, type Files, type ReportForgery } from '../../support/forge-report.js';
import { temporary } from '../../support/folders.js';
import { seeded } from '../../support/jobs.js';
import { answer, lie, made, remembering } from './kit.js';

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
