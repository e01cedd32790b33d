/** `waysheet check JOB…`: validation alone. What each folder holds, and every problem of it at once. */
import type { Diagnostic } from '../diagnostics/diagnostic.js';
import { countWords, diagnosticsToJson, formatDiagnostics } from '../diagnostics/format.js';
import { visible } from '../diagnostics/messages.js';
import { soundOnes } from '../job/declared.js';
import { positionMm } from '../job/job.js';
import type { Rail } from '../job/job.js';
import type { Frame } from '../job/settle-job.js';
import { fromMm } from '../job/units.js';
import type { LengthUnit } from '../job/units.js';
import { inspectJob } from '../readings/load-job.js';
import type { Inspection } from '../readings/load-job.js';

interface Sink {
  write(text: string): unknown;
}

export interface CheckOptions {
  readonly json: boolean;
  /** What was found and every problem: they are what the command is asked for. */
  readonly stdout: Sink;
  readonly stderr: Sink;
}

/** Exit status: 0 done, warnings or not; 3 at least one job's input is refused. */
const DONE = 0;
const REFUSED = 3;

/** @returns The exit status. */
export async function runCheck(folders: readonly string[], { json, stdout }: CheckOptions): Promise<number> {
  let refused = false;
  const reports: object[] = [];
  for (const folder of folders) {
    const inspection = await inspectJob(folder);
    if (inspection.loaded === null) refused = true;
    if (json) reports.push(jsonReport(folder, inspection));
    else stdout.write(textReport(folder, inspection));
  }
  if (json) stdout.write(`${JSON.stringify(reports, null, 2)}\n`);
  return refused ? REFUSED : DONE;
}

function jsonReport(folder: string, inspection: Inspection): object {
  const { loaded, frame, inputs, diagnostics } = inspection;
  return {
    folder,
    job: inspection.id,
    ok: loaded !== null,
    rails:
      frame === null ? [] : soundOnes(frame.rails).map((r) => ({ id: r.id, stations: r.stations.length })),
    phases: phasesOf(inspection),
    files: inputs.map(({ path, bytes, sha256, read }) => ({ path, bytes, sha256, read })),
    diagnostics: diagnosticsToJson(diagnostics),
  };
}

/** Readings that are used and rows that were left out, by phase. */
function phasesOf({ readings }: Inspection): { phase: string; readings: number; excluded: number }[] {
  if (readings === null) return [];
  return [...readings.phases].map(([phase, list]) => ({
    phase,
    readings: list.length,
    excluded: readings.excluded.filter((row) => row.phase === phase).length,
  }));
}

function textReport(folder: string, inspection: Inspection): string {
  const { frame, inputs, diagnostics } = inspection;
  const found = [
    ...(frame === null ? [] : declaredLines(frame)),
    ...phasesOf(inspection).map(
      ({ phase, readings, excluded }) =>
        `${phase}: ${count(readings, 'reading')} used${excluded === 0 ? '' : `, ${count(excluded, 'row')} left out`}`,
    ),
    ...inputs.map(({ path, read }) => `${path}: ${read}`),
  ];
  const lines = [`${folder}: ${inspection.id ?? 'no job id'}, ${verdict(inspection, diagnostics)}`];
  for (const line of found) lines.push(`  ${line}`);
  const problems = formatDiagnostics(diagnostics, { root: folder });
  return `${lines.map(visible).join('\n')}\n${problems === '' ? '' : `\n${problems}`}\n`;
}

const verdict = ({ loaded }: Inspection, diagnostics: readonly Diagnostic[]): string =>
  `${loaded === null ? 'refused' : 'accepted'}: ${countWords(diagnostics)}`;

function declaredLines(frame: Frame): string[] {
  const rails = soundOnes(frame.rails).map((rail) => railLine(rail, frame.lengthUnit));
  const ids = (list: Iterable<string>) => [...list].join(', ');
  const some = (word: string, map: ReadonlyMap<string, unknown>) =>
    map.size === 0 ? [] : [`${word}: ${ids(map.keys())}`];
  return [
    ...rails,
    ...some('set-ups', frame.setups),
    ...some('monuments', frame.monuments),
    ...some('instruments', frame.instruments),
  ];
}

function railLine(rail: Rail, unit: LengthUnit): string {
  const kind = rail.datum ? ' (datum)' : rail.direction === 'across' ? ' (cross rail)' : '';
  const { stations } = rail;
  const at = (i: number) => Number(fromMm(positionMm(rail, stations[i]!), unit).toPrecision(9));
  const reach = stations.length === 1 ? `at ${at(0)}` : `from ${at(0)} to ${at(stations.length - 1)}`;
  return `rail ${rail.id}${kind}: ${count(stations.length, 'station')} ${reach} ${unit}`;
}

const count = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`;
