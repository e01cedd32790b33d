/** `waysheet plan JOB`: what the planned survey will be able to tell. */
import { capPerCode } from '../base/diagnostics/cap.js';
import { Findings, sortDiagnostics, type Diagnostic } from '../base/diagnostics/diagnostic.js';
import { formatDiagnostics } from '../base/diagnostics/format.js';
import { visible } from '../base/diagnostics/messages.js';
import { exitCodes, type ExitCode } from './exit-codes.js';
import type { PhaseName } from '../survey/job/job-schema.js';
import type { Job } from '../survey/job/job.js';
import { readResolved } from '../survey/job/read-job.js';
import { decodeText } from '../base/input/decode.js';
import { readReadingsFile } from '../survey/readings/read-readings.js';
import { parseReadings } from '../survey/readings/parse-readings.js';
import type { Sink } from '../survey/readings/sink.js';
import { fillBlanks } from '../results/planned/fill-blanks.js';
import { planSurvey, type PlannedSurvey } from '../results/planned/planned-survey.js';
import { identityName, namingFor } from '../results/identity.js';
import { plainNumber, reportUnits, unitFor, withUnit } from '../results/words/format-quantity.js';
import type { Console } from './console.js';

export interface PlanOptions {
  readonly phase: PhaseName | null;
  readonly json: boolean;
  readonly console: Console;
}

export async function runPlan(folder: string, { phase, json, console }: PlanOptions): Promise<ExitCode> {
  const planned = await planOf(folder, phase);
  if (!('survey' in planned)) {
    console.err(`${formatDiagnostics(planned.diagnostics, { root: folder })}\n`);
    return exitCodes.refused;
  }
  console.out(json ? `${JSON.stringify(planned.survey, null, 2)}\n` : `${textOf(planned)}\n`);
  return exitCodes.done;
}

interface Planned {
  readonly job: Job;
  readonly survey: PlannedSurvey;
}

async function planOf(
  folder: string,
  wanted: PhaseName | null,
): Promise<Planned | { readonly diagnostics: readonly Diagnostic[] }> {
  const { job, frame, findings } = await readResolved(folder);
  if (job === null || frame === null) return { diagnostics: findings.list };
  const phase = wanted ?? (job.readingsFiles.some((f) => f.phase === 'as-left') ? 'as-left' : 'as-found');
  const sink: Sink = { readings: [], excluded: [], checks: [], setupsSeen: new Set() };
  const found = new Findings();
  let isRead = true;
  for (const entry of frame.files.filter((file) => file.phase === phase)) {
    const file = await readReadingsFile(folder, entry);
    if (!file.ok) {
      found.list.push(...file.diagnostics);
      continue;
    }
    const { bytes } = file.value;
    const text = decodeText(bytes, entry.file);
    const plain = text.ok ? text.value.text : '';
    const filled = text.ok ? fillBlanks(plain, entry, frame) : plain;
    if (filled !== plain) isRead = false;
    parseReadings(filled === plain ? bytes : new TextEncoder().encode(filled), entry, frame, sink, found);
  }
  // Planned rows are all alike; only what keeps them from being read matters here.
  const errors = found.list.filter(({ severity }) => severity === 'error');
  if (errors.length > 0) return { diagnostics: sortDiagnostics(capPerCode(errors).list) };
  if (sink.readings.length === 0)
    return { diagnostics: [{ code: 'NO_READINGS_USED', severity: 'error', data: { phase } }] };
  return { job, survey: planSurvey(job, sink.readings, isRead) };
}

function textOf({ job, survey: { characteristics, helps } }: Planned): string {
  const units = reportUnits(job.style);
  const naming = namingFor(characteristics, { datum: job.datum.id, length: units.length });
  const text = (v: number, base: 'um' | 'um/m') => {
    const unit = unitFor(units, base);
    return withUnit(plainNumber(Number(unit.fromBase(v).toPrecision(3))), unit);
  };
  const limited = characteristics.filter(({ limit }) => limit !== null);
  const lines = (limited.length > 0 ? limited : characteristics).map((c) => {
    const name = identityName(c, naming);
    if (c.u === null) return `  ${name}: not determined${c.why === undefined ? '' : `: ${visible(c.why)}`}`;
    const most = Object.entries(c.budget).sort(([, a], [, b]) => b - a)[0];
    const source = most === undefined ? '' : `; most of it from ${most[0]}`;
    const accepts =
      c.limit === null
        ? ''
        : `, limit ${text(c.limit, c.unit)}: accepts up to ${text(c.acceptsUpTo!, c.unit)}`;
    return `  ${name}: u = ${text(c.u, c.unit)}${accepts}${source}`;
  });
  return [
    `${visible(job.id)}: what the planned survey will be able to tell (u: standard uncertainty)`,
    ...lines,
    ...(helps.length === 0
      ? []
      : [
          '',
          'What would help, best first:',
          ...helps.map(
            (h) => `  ${h.do}: uncertainties ${(100 * h.shrinks).toFixed(0)} % smaller on the mean`,
          ),
        ]),
  ].join('\n');
}
