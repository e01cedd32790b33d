/** The row of a report in the register, from its results. */
import { pick } from '../../base/pick.js';
import { readWords } from '../../survey/readings/what-was-read.js';
import { byUrgency } from '../../results/urgency.js';
import type { CharacteristicResult, Results } from '../../results/results-schema.js';
import { lastPhase, phasesOf } from '../../pages/report/figures.js';
import type { Manifest } from '../../pages/deliverables/manifest.js';
import { placeOf } from '../characteristic-place.js';
import type { ReportedRow, WorstCharacteristic } from './register.js';

/** What a row says of a report next to its results. */
export interface AboutReport {
  /** The job's folder, relative to the folder that was searched. */
  readonly folder: string;
  /** Key of the manifest. */
  readonly key: string;
  readonly hasPdf: boolean;
  /** The report's folder, relative to the output folder. */
  readonly place: string;
}

export const aboutReport = (folder: string, { key = '', outputs }: Manifest, place: string): AboutReport => ({
  ...{ folder, key, place },
  hasPdf: outputs.some(({ path }) => path === 'report.pdf'),
});

export function registerRow(results: Results, { folder, key, hasPdf, place }: AboutReport): ReportedRow {
  const { job, subject, verdict, issue } = results;
  const suspects = phasesOf(results).reduce((sum, { phase }) => sum + phase.adjustment.suspects.length, 0);
  const read = lastPhase(results).phase.read;
  const unread = read === undefined ? [] : readWords(read, true);
  return {
    status: 'reported',
    job,
    folder,
    ...pick(subject, 'title', 'customer', 'site'),
    machine: pick(subject.machine, 'name', 'serial'),
    surveyed: subject.surveyed.on,
    readingsTaken: pick(subject.readingsTaken, 'from', 'to'),
    prepared: subject.prepared.on,
    verdict,
    worst: worstCharacteristic(results),
    suspects,
    warnings: results.warnings.length,
    ...((results.confirmations?.length ?? 0) > 0 && { confirmed: results.confirmations!.length }),
    ...(read !== undefined && { read: [...read.words] }),
    ...(unread.length > 0 && { unread }),
    ...(issue !== undefined && {
      issue: { number: issue.number, on: issue.on, standing: 'issued' as const },
    }),
    toleranceSet: results.toleranceSet.name,
    key,
    links: {
      html: `${place}/report.html`,
      pdf: hasPdf ? `${place}/report.pdf` : null,
      results: `${place}/results.json`,
      stations: `${place}/stations.csv`,
      manifest: `${place}/manifest.json`,
    },
  };
}

/** The characteristic that decides the job's verdict: the worst one, in the order of the report. */
export function worstCharacteristic(results: Results): WorstCharacteristic | null {
  const { name, phase } = lastPhase(results);
  const judged = phase.characteristics.filter(
    (c): c is CharacteristicResult & { limit: number } => c.limit !== null,
  );
  const c = [...judged].sort(byUrgency)[0];
  if (c === undefined) return null;
  return {
    ...placeOf(name, c),
    ...pick(c, 'value', 'u', 'limit'),
    margin: marginOf(c),
    ...pick(c, 'probability', 'verdict'),
  };
}

/** Share of the limit that is left: 1 at zero, 0 at the limit, negative beyond it. */
export const marginOf = ({ value, limit }: { value: number | null; limit: number }): number | null =>
  value === null ? null : (limit - Math.abs(value)) / limit;
