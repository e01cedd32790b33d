/**
 * `npm run study -- causes [surveys a cell] [part]`: what the front door finds of planted mistakes, and how often it finds something in
 * honest surveys. Each part rewrites its own section of tests/study/causes.md.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { honestTable, rateTable } from '../solution/causes/rates.js';

const file = `${process.cwd()}/tests/study/causes.md`;

const INTRODUCTION = `# Causes: rates

Made by \`npm run study -- causes\`. Planted mistakes and honest surveys of the simulator in tests/solution/causes, each written as a job folder and put
through the front door. The kinds of mistake and the hypotheses have one author; the simulator works on planes, targets and the typed sheet.
With a trace: the misfit of the whole changes by more than 25 with the mistake; else the readings do not show it (monuments, or rails that are read from
one side only: common practice). Caught: stopped, or told with the right cause among those named. Then, in percent of the surveys of a cell: found; right cause
among those named; right cause first; a wrong set; of these one wrong name alone; "no single change"; missed. Then the number of names, mean and most.
`;

const parts = {
  full: { title: '## Full size', make: (n: number) => rateTable(1, n, 31_000 + OTHER) },
  small: { title: '## Small: 0.3 of that size', make: (n: number) => rateTable(0.3, n, 41_000 + OTHER) },
  tiny: {
    title: '## Very small: 0.15 of that size',
    make: (n: number) => rateTable(0.15, n, 51_000 + OTHER),
  },
  honest: { title: '## Honest surveys', make: (n: number) => honestTable(n, 61_000 + OTHER) },
} as const;
const titles: readonly string[] = Object.values(parts).map(({ title }) => title);

function section(title: string, text: string): void {
  let old = INTRODUCTION;
  try {
    old = readFileSync(file, 'utf8');
  } catch {
    // The first part makes the file.
  }
  const sections = new Map(
    old
      .split(/^(?=## )/m)
      .slice(1)
      .map((s) => [s.split('\n', 1)[0]!, s.trimEnd()]),
  );
  sections.set(title, `${title}\n\n${text}`);
  const place = (t: string) => titles.indexOf(t);
  const sorted = [...sections].sort(([a], [b]) => place(a) - place(b));
  writeFileSync(file, `${INTRODUCTION}\n${sorted.map(([, s]) => s).join('\n\n')}\n`);
}

const count = Number(process.argv[2] ?? 20);
/** Added to the seeds: other surveys than those of the file. */
const OTHER = Number(process.env['CAUSES_SEED'] ?? 0);
const only = process.argv[3];
for (const [name, part] of Object.entries(parts)) {
  if (only !== undefined && only !== name) continue;
  section(part.title, await part.make(count));
}
