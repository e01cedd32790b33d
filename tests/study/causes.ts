/**
 * `npm run study -- causes [surveys a cell] [part]`: what the front door finds of planted mistakes, and how often it finds something in
 * honest surveys. Each part rewrites its own section of tests/study/causes.md. `CAUSES_SEED`: the first seed. With `CAUSES_ADD=1` the
 * counts are added to those of the last run, so that a long study can be made in pieces.
 */
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import {
  add,
  summed,
  honestCells,
  honestTable,
  rateCells,
  rateTable,
  sumOf,
  type Cells,
} from '../solution/causes/rates.js';
import { frontCells, frontTable } from './front-door.js';

const file = `${process.cwd()}/tests/study/causes.md`;
const counts = `${process.cwd()}/out/causes`;

const INTRODUCTION = `# Causes: rates

Made by \`npm run study -- causes\`. Planted mistakes and honest surveys of the simulator in tests/solution/causes, each written as a job folder and put
through the front door. The kinds of mistake and the hypotheses have one author; the simulator works on planes, targets and the typed sheet.
With a trace: the misfit of the whole changes by more than 25 with the mistake; else the readings do not show it (monuments, or rails that are read from
one side only: common practice). Caught: stopped, or told with the right cause among those named. Then, in percent of the surveys of a cell: found; right cause
among those named; right cause first; a wrong set; of these one wrong name alone; "no single change"; missed. Then the number of names, mean and most.
`;

interface Piece<T> {
  readonly seed: number;
  readonly count: number;
  readonly cells: Cells<T>;
}

interface Part<T> {
  readonly title: string;
  readonly cells: (count: number, seed: number) => Promise<Cells<T>>;
  readonly plus: (a: T, b: T) => T;
  readonly table: (cells: Cells<T>) => string;
}

/** The part with the counts of one more run. @returns Its section. */
async function run<T>(name: string, { title, cells, plus, table }: Part<T>): Promise<void> {
  mkdirSync(counts, { recursive: true });
  const kept = `${counts}/${name}.json`;
  const isAdded = process.env['CAUSES_ADD'] !== undefined;
  const before = isAdded ? (JSON.parse(readFileSync(kept, 'utf8')) as Piece<T>[]) : [];
  const pieces = [...before, { seed: FIRST, count: COUNT, cells: await cells(COUNT, FIRST) }];
  writeFileSync(kept, JSON.stringify(pieces));
  const sum = sumOf(
    pieces.map((piece) => piece.cells),
    plus,
  );
  const seeds = pieces.map((piece) => `${piece.seed} (${piece.count})`).join(', ');
  section(title, `First seeds, and surveys of each: ${seeds}.\n\n${table(sum)}`);
}

const parts: Readonly<Record<string, () => Promise<void>>> = {
  full: () => run('full', sized('## Full size', 1)),
  small: () => run('small', sized('## Small: 0.3 of that size', 0.3)),
  tiny: () => run('tiny', sized('## Very small: 0.15 of that size', 0.15)),
  honest: () =>
    run('honest', {
      title: '## Honest surveys',
      cells: honestCells,
      plus: summed,
      table: honestTable,
    }),
  front: () =>
    run('front', {
      title: '## The front door: one mistake of any kind, and honest surveys',
      cells: (count, seed) => frontCells(25 * count, seed),
      plus: summed,
      table: frontTable,
    }),
};

function sized(title: string, size: number): Part<Parameters<typeof add>[0]> {
  return {
    title,
    cells: (count, seed) => rateCells(size, count, seed),
    plus: add,
    table: rateTable,
  };
}

function section(title: string, text: string): void {
  let old = INTRODUCTION;
  try {
    old = readFileSync(file, 'utf8');
  } catch {
    // The first part makes the file.
  }
  const [, ...sections] = old.split(/^(?=## )/m).map((s) => s.trimEnd());
  const made = `${title}\n\n${text}`;
  const place = sections.findIndex((s) => s.startsWith(`${title}\n`));
  if (place < 0) sections.push(made);
  else sections[place] = made;
  writeFileSync(file, `${INTRODUCTION}\n${sections.join('\n\n')}\n`);
}

const COUNT = Number(process.argv[2] ?? 20);
const FIRST = Number(process.env['CAUSES_SEED'] ?? 31_000);
const only = process.argv[3];
for (const [name, part] of Object.entries(parts)) if (only === undefined || only === name) await part();
