/**
 * The front door on 1,000 surveys with one mistake each, of every kind and design of the two simulators, and on as many honest ones:
 * stopped, or told with the right cause among those named; whether a wrong fix is offered; whether each fix that is printed works.
 */
import { rm } from 'node:fs/promises';
import { describe } from '../../src/base/diagnostics/messages.js';
import { createGenerator } from '../../src/base/statistics/random.js';
import { applyFix } from '../../src/solution/causes/fix.js';
import { inspectJob, type Inspection } from '../../src/solution/intake/load-job.js';
import { filesOf } from '../support/job-files.js';
import { folderOf } from '../survey/job/made-up-job.js';
import { designNames, hasTrace, namedRight, summed, type Cells } from '../solution/causes/rates.js';
import { faults, simulate } from '../solution/causes/simulate.js';
import * as gross from '../solution/intake/gross-mistakes.js';
import { honestSurvey as honestFiles } from '../solution/intake/honest-surveys.js';

export interface Front {
  of: number;
  /** Stopped, or told with the right cause among those named. */
  caught: number;
  right: number;
  /** A fix is printed, and the right cause is not among those named. */
  wrongFix: number;
  fixes: number;
  /** Of the fixes, changes of job.json, which were made, … */
  made: number;
  /** … and after which something is refused again. */
  refused: number;
}

type Files = Record<string, string>;
interface Planted {
  readonly name: string;
  readonly files: Files;
  readonly isNamed: (inspection: Inspection) => boolean;
}

const isProblem = ({ severity }: { severity: string }) => severity !== 'warning';

/** null: this survey cannot have the mistake, or its readings hold no trace of it. */
export function planted(seed: number): Planted | null {
  const random = createGenerator(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(list.length * random.nextUniform())]!;
  if (random.nextUniform() < 0.4) {
    const { name, plant, named } = pick(gross.mistakes);
    const survey = plant(gross.honestSurvey(seed), random);
    if (survey === null) return null;
    const isNamed = ({ diagnostics }: Inspection) =>
      diagnostics.some((d) => named.test(`${d.code} ${describe(d)}`));
    return { name, files: filesOf(survey.job, survey.phases), isNamed };
  }
  const fault = pick(faults.filter(({ name }) => !name.startsWith('two at once')));
  const design = pick(designNames);
  const survey = simulate(design, fault, 1, seed);
  if (survey === null || !hasTrace(survey, simulate(design, null, 1, seed)!)) return null;
  return {
    name: fault.name,
    files: filesOf(survey.job, new Map([['as-left', survey.readings]])),
    isNamed: (inspection) => namedRight(survey, inspection).includes(true),
  };
}

async function inFolder<T>(files: Files, work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await folderOf(files);
  try {
    return await work(folder);
  } finally {
    await rm(folder, { recursive: true });
  }
}

const lookAt = ({ files, isNamed, name }: Planted, seed: number): Promise<Front> =>
  inFolder(files, async (folder) => {
    const inspection = await inspectJob(folder);
    const { diagnostics, causeFixes } = inspection;
    const isRight = isNamed(inspection);
    const isCaught = isRight || diagnostics.some(isProblem);
    const isWrongFix = !isRight && causeFixes.length > 0;
    let [made, refused] = [0, 0];
    for (const { fix } of causeFixes) {
      if (fix.kind !== 'job') continue;
      made++;
      const jobText = applyFix(files['job.json']!, fix);
      if ((await inspectJob(folder, null, { jobText })).diagnostics.some(isProblem)) refused++;
    }
    if (isCaught === (name === HONEST) || isWrongFix || refused > 0)
      console.log(
        `${seed} ${name}: caught ${isCaught}, right ${isRight}, a wrong fix ${isWrongFix}, refused again ${refused}\n  ${diagnostics.map((d) => `${d.severity} ${d.code} ${describe(d)}`).join('\n  ')}\n  ${causeFixes.map(({ cause, fix }) => `${cause}: ${fix.text}`).join('\n  ')}`,
      );
    return {
      of: 1,
      caught: Number(isCaught),
      right: Number(isRight),
      wrongFix: Number(isWrongFix),
      fixes: causeFixes.length,
      made,
      refused,
    };
  });

/** @param count Surveys with a mistake, and as many honest ones. */
export async function frontCells(count: number, first: number): Promise<Cells<Front>> {
  const cells: Record<string, Front> = {};
  const put = (name: string, one: Front) =>
    (cells[name] = cells[name] === undefined ? one : summed(cells[name], one));
  for (let seed = first, done = 0; done < count; seed++) {
    const one = planted(seed);
    if (one === null) continue;
    done++;
    put(one.name, await lookAt(one, seed));
  }
  for (let seed = first; seed < first + count; seed++) {
    const files = honestOf(seed);
    put(HONEST, await lookAt({ name: HONEST, files, isNamed: () => false }, seed));
  }
  return cells;
}

const HONEST = 'honest';

/** Of all three simulators in turn. */
function honestOf(seed: number): Files {
  if (seed % 3 === 0) return honestFiles(seed).files;
  if (seed % 3 === 1) {
    const { job, phases } = gross.honestSurvey(seed);
    return filesOf(job, phases);
  }
  const { job, readings } = simulate(designNames[Math.floor(seed / 3) % designNames.length]!, null, 1, seed)!;
  return filesOf(job, new Map([['as-left', readings]]));
}

export function frontTable(cells: Cells<Front>): string {
  const { [HONEST]: honest, ...mistakes } = cells;
  const all = Object.values(mistakes).reduce((a, b) => summed(a, b));
  const row = (name: string, f: Front) =>
    `| ${[name, f.of, f.caught, f.right, f.wrongFix, f.fixes, f.made, f.refused].join(' | ')} |`;
  const lines = [...Object.entries(mistakes).sort(([a], [b]) => (a < b ? -1 : 1)), ['all', all] as const];
  return `Of ${honest!.of} honest surveys ${honest!.caught} asked.\n\n| planted | surveys | stopped, or told with the right cause | right cause named | a fix, without the right cause | fixes | made in job.json | refused again |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n${lines.map(([name, f]) => row(name, f)).join('\n')}`;
}
