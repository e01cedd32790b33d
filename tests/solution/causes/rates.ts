/** How often planted mistakes are found and named, and how often something is found where nothing is wrong. */
import { findCauses, type FoundCauses } from '../../../src/solution/causes/find-causes.js';
import { buildNetwork } from '../../../src/solution/solve/network.js';
import { designs, faults, simulate, type DesignName, type Fault, type Simulated } from './simulate.js';

export const designNames = Object.keys(designs) as DesignName[];

const look = ({ job, readings }: Simulated): FoundCauses | null =>
  findCauses(job, 'as-left', readings, buildNetwork(job, readings));

export interface Rates {
  of: number;
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
export function ratesOf(
  design: DesignName,
  fault: Fault,
  size: number,
  count: number,
  seed: number,
): Rates | null {
  const r: Rates = { of: 0, found: 0, right: 0, first: 0, wrong: 0, alone: 0, none: 0, names: 0, most: 0 };
  for (let k = 0; k < count; k++) {
    const survey = simulate(design, fault, size, seed + k);
    if (survey === null) continue;
    r.of++;
    const found = look(survey);
    if (found === null) continue;
    r.found++;
    const { named } = found.identified;
    const isRight = named.map((alike) =>
      alike.some(({ hypothesis }) => survey.truth.some((truth) => truth.test(hypothesis.id))),
    );
    r.names += named.length;
    r.most = Math.max(r.most, named.length);
    if (named.length === 0) r.none++;
    else if (isRight.includes(true)) r.right++;
    else {
      r.wrong++;
      if (named.length === 1) r.alone++;
    }
    if (isRight[0] === true) r.first++;
  }
  return r.of === 0 ? null : r;
}

export const add = (a: Rates, b: Rates): Rates => ({
  of: a.of + b.of,
  found: a.found + b.found,
  right: a.right + b.right,
  first: a.first + b.first,
  wrong: a.wrong + b.wrong,
  alone: a.alone + b.alone,
  none: a.none + b.none,
  names: a.names + b.names,
  most: Math.max(a.most, b.most),
});

const HEAD =
  '| planted | design | surveys | found | right named | right first | wrong set | one wrong alone | no single change | missed | names: mean, most |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |';

function line(name: string, design: string, r: Rates): string {
  const percent = (n: number) => String(Math.round((100 * n) / r.of));
  const named = r.found - r.none;
  const names = named === 0 ? '–' : `${(r.names / named).toFixed(1)}, ${r.most}`;
  const cells = [r.found, r.right, r.first, r.wrong, r.alone, r.none, r.of - r.found].map(percent);
  return `| ${[name, design, r.of, ...cells, names].join(' | ')} |`;
}

/** Every kind in every design that can have it. */
export function rateTable(size: number, count: number, seed: number): string {
  const lines: string[] = [];
  let total: Rates | null = null;
  let two: Rates | null = null;
  for (const fault of faults) {
    if (size !== 1 && !fault.isSized) continue;
    for (const design of designNames) {
      const r = ratesOf(design, fault, size, count, seed);
      if (r === null) continue;
      lines.push(line(fault.name, design, r));
      if (design === 'one pass') continue;
      if (fault.name.startsWith('two at once')) two = two === null ? r : add(two, r);
      else total = total === null ? r : add(total, r);
    }
  }
  return `${summary(total!, two)}\n\n${HEAD}\n${lines.join('\n')}`;
}

function summary(r: Rates, two: Rates | null): string {
  const of = (n: number) => `${((100 * n) / r.found).toFixed(1)} %`;
  const one = `One mistake, without the design of one pass: ${r.of} surveys, ${r.found} found. Of those found: right cause named ${of(r.right)}, first ${of(r.first)}, a wrong set ${of(r.wrong)}, one wrong name alone ${of(r.alone)}, no single change ${of(r.none)}; ${(r.names / Math.max(1, r.found - r.none)).toFixed(2)} names on average.`;
  if (two === null) return one;
  return `${one}\nTwo mistakes at once: "no single change" in ${two.none} of ${two.found} found.`;
}

/** What is told, and what is asked, of surveys in which nothing is wrong. */
export function honestTable(count: number, seed: number): string {
  const lines = designNames.map((design) => {
    let [told, asked] = [0, 0];
    for (let k = 0; k < count; k++) {
      const found = look(simulate(design, null, 1, seed + k)!);
      if (found !== null) told++;
      if (found?.isAsked === true) asked++;
    }
    return { text: `| ${design} | ${count} | ${told} | ${asked} |`, told, asked };
  });
  const sum = (of: 'told' | 'asked') => lines.reduce((n, l) => n + l[of], 0);
  return `| design | surveys | told | asked |\n| --- | --- | --- | --- |\n${lines.map(({ text }) => text).join('\n')}\n| all | ${count * designNames.length} | ${sum('told')} | ${sum('asked')} |`;
}
