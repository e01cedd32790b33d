/**
 * How often planted mistakes are found and named, and how often something is found where nothing is wrong: each survey is written as a
 * job folder and goes through the front door.
 */
import { rm } from 'node:fs/promises';
import type { Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import { describe } from '../../../src/base/diagnostics/messages.js';
import { findCauses } from '../../../src/solution/causes/find-causes.js';
import { inspectJob, type Inspection } from '../../../src/solution/intake/load-job.js';
import { adjust } from '../../../src/solution/solve/adjustment.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { filesOf } from '../../support/job-files.js';
import { folderOf } from '../../survey/job/made-up-job.js';
import { designs, faults, simulate, type DesignName, type Fault, type Simulated } from './simulate.js';

export const designNames = Object.keys(designs) as DesignName[];

export interface Look {
  readonly diagnostics: readonly Diagnostic[];
  /** The report is not made without an answer. */
  readonly isStopped: boolean;
  /** Of what is named, the likeliest first: whether it is the planted mistake. Empty: nothing is named. */
  readonly named: readonly boolean[];
}

/** What the front door says of a survey. */
export async function lookAt(survey: Simulated): Promise<Look> {
  const folder = await folderOf(filesOf(survey.job, new Map([['as-left', survey.readings]])));
  const inspection = await inspectJob(folder);
  await rm(folder, { recursive: true });
  const { diagnostics } = inspection;
  const isStopped = diagnostics.some(({ severity }) => severity !== 'warning');
  return { diagnostics, isStopped, named: namedRight(survey, inspection) };
}

/** Of each cause that the front door names, the likeliest first, whether it is the planted mistake. */
export function namedRight({ truth }: Simulated, { diagnostics, usable }: Inspection): readonly boolean[] {
  const text = diagnostics.map((d) => `${d.code} ${describe(d)}`).join('\n');
  if (usable === null || !text.includes('MISFIT_EXPLAINED')) return [];
  // Words of each hypothesis that is the planted mistake, as the front door itself reads the files.
  const read = usable.readings.phases.get('as-left')!;
  const found = findCauses(usable.job, 'as-left', read, buildNetwork(usable.job, read))!;
  return found.causes.map(({ words }, k) => {
    const alike = found.identified.named[k]!;
    const isTrue = alike.some(({ hypothesis }) => truth.some((one) => one.test(hypothesis.id)));
    return isTrue && text.includes(words);
  });
}

/** By so much the misfit of the whole changes with the mistake; without it the readings hold no trace of it that chance would not leave. */
const TRACE = 25;

const misfitOf = ({ job, readings }: Simulated): number =>
  adjust(buildNetwork(job, readings)).chiSquare?.statistic ?? 0;

/** The readings hold a trace of what was planted: with it, the misfit is another than of the same survey without it. */
export const hasTrace = (survey: Simulated, honest: Simulated): boolean =>
  Math.abs(misfitOf(survey) - misfitOf(honest)) > TRACE;

export interface Rates {
  of: number;
  /** Of these the readings hold a trace. */
  traced: number;
  /** Of these, stopped or told with the right cause among those named. */
  caught: number;
  found: number;
  right: number;
  first: number;
  wrong: number;
  alone: number;
  none: number;
  names: number;
  most: number;
}

/** @returns null where the design cannot have the fault. */
export async function ratesOf(
  design: DesignName,
  fault: Fault,
  size: number,
  count: number,
  seed: number,
): Promise<Rates | null> {
  const r: Rates = {
    of: 0,
    traced: 0,
    caught: 0,
    found: 0,
    right: 0,
    first: 0,
    wrong: 0,
    alone: 0,
    none: 0,
    names: 0,
    most: 0,
  };
  for (let k = 0; k < count; k++) {
    const survey = simulate(design, fault, size, seed + k);
    if (survey === null) continue;
    r.of++;
    const isTraced = hasTrace(survey, simulate(design, null, size, seed + k)!);
    if (isTraced) r.traced++;
    const { diagnostics, isStopped, named } = await lookAt(survey);
    const isRight = named.includes(true);
    if (isTraced && (isStopped || isRight)) r.caught++;
    if (!isRight && process.env['CAUSES_SHOW'] !== undefined && isTraced)
      console.log(
        `${fault.name}, ${design}, ${seed + k}: ${diagnostics.map((d) => `${d.severity} ${d.code} ${describe(d)}`).join('\n  ')}`,
      );
    if (named.length === 0 && !isStopped && !diagnostics.some(({ code }) => code === 'MISFIT_UNEXPLAINED'))
      continue;
    r.found++;
    r.names += named.length;
    r.most = Math.max(r.most, named.length);
    if (named.length === 0) r.none++;
    else if (isRight) r.right++;
    else {
      r.wrong++;
      if (named.length === 1) r.alone++;
    }
    if (named[0] === true) r.first++;
  }
  return r.of === 0 ? null : r;
}

/** Count by count. */
export const summed = <T extends Record<keyof T, number>>(a: T, b: T): T =>
  Object.fromEntries((Object.keys(a) as (keyof T)[]).map((name) => [name, a[name] + b[name]])) as T;

export const add = (a: Rates, b: Rates): Rates => ({ ...summed(a, b), most: Math.max(a.most, b.most) });

const HEAD =
  '| planted | design | surveys | with a trace | of these caught | found | right named | right first | wrong set | one wrong alone | no single change | missed | names: mean, most |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |';

function line(name: string, design: string, r: Rates): string {
  const percent = (n: number) => String(Math.round((100 * n) / r.of));
  const named = r.found - r.none;
  const names = named === 0 ? '–' : `${(r.names / named).toFixed(1)}, ${r.most}`;
  const cells = [r.found, r.right, r.first, r.wrong, r.alone, r.none, r.of - r.found].map(percent);
  return `| ${[name, design, r.of, r.traced, r.caught, ...cells, names].join(' | ')} |`;
}

/** Counts of one part of the study, by cell: 'mistake|design'. Those of several runs are added. */
export type Cells<T> = Readonly<Record<string, T>>;

export function sumOf<T>(pieces: readonly Cells<T>[], plus: (a: T, b: T) => T): Cells<T> {
  const sum: Record<string, T> = {};
  for (const piece of pieces)
    for (const [key, r] of Object.entries(piece)) sum[key] = sum[key] === undefined ? r : plus(sum[key], r);
  return sum;
}

/** Every kind in every design that can have it. */
export async function rateCells(size: number, count: number, seed: number): Promise<Cells<Rates>> {
  const cells: Record<string, Rates> = {};
  for (const fault of faults) {
    if (size !== 1 && !fault.isSized) continue;
    for (const design of designNames) {
      const r = await ratesOf(design, fault, size, count, seed);
      if (r !== null) cells[`${fault.name}|${design}`] = r;
    }
  }
  return cells;
}

export function rateTable(cells: Cells<Rates>): string {
  const rows = Object.entries(cells).map(([key, r]) => [...(key.split('|') as [string, string]), r] as const);
  const isTwo = (name: string) => name.startsWith('two at once');
  const most = rows.filter(([, design]) => design !== 'one pass');
  const sum = (list: typeof rows) => list.map(([, , r]) => r).reduce(add);
  const two = most.filter(([name]) => isTwo(name));
  const one = sum(most.filter(([name]) => !isTwo(name)));
  return `${summary(one, two.length === 0 ? null : sum(two))}\n\n${HEAD}\n${rows.map((row) => line(...row)).join('\n')}`;
}

function summary(r: Rates, two: Rates | null): string {
  const of = (n: number) => `${((100 * n) / r.found).toFixed(1)} %`;
  const one = `One mistake, without the design of one pass: ${r.of} surveys, ${r.traced} with a trace in the readings; of these ${r.caught} stopped, or told with the right cause among those named.\nFound: ${r.found}. Of those found: right cause named ${of(r.right)}, first ${of(r.first)}, a wrong set ${of(r.wrong)}, one wrong name alone ${of(r.alone)}, no single change ${of(r.none)}; ${(r.names / Math.max(1, r.found - r.none)).toFixed(2)} names on average.`;
  if (two === null) return one;
  return `${one}\nTwo mistakes at once: "no single change" in ${two.none} of ${two.found} found.`;
}

/** Of surveys in which nothing is wrong. */
export interface Honest {
  of: number;
  told: number;
  asked: number;
}

export async function honestCells(count: number, seed: number): Promise<Cells<Honest>> {
  const cells: Record<string, Honest> = {};
  for (const design of designNames)
    for (let k = 0; k < count; k++) {
      const { diagnostics, isStopped } = await lookAt(simulate(design, null, 1, seed + k)!);
      const isTold = diagnostics.some(({ code }) => code !== 'READINGS_UNCHECKED');
      const one = { of: 1, told: Number(isTold), asked: Number(isStopped) };
      cells[design] = cells[design] === undefined ? one : summed(cells[design], one);
    }
  return cells;
}

export function honestTable(cells: Cells<Honest>): string {
  const rows = [
    ...Object.entries(cells),
    ['all', Object.values(cells).reduce((a, b) => summed(a, b))] as const,
  ];
  const lines = rows.map(([name, { of, told, asked }]) => `| ${[name, of, told, asked].join(' | ')} |`);
  return `| design | surveys | told | asked |\n| --- | --- | --- | --- |\n${lines.join('\n')}`;
}
