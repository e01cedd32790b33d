/**
 * Correction plans of two rails with 41 stations and 20 adjusters each, up and down and sideways: what a plan costs beside
 * the solution of the survey, and how near to the best a plan of whole shims is.
 */
import { loadJob } from '../../src/solution/intake/load-job.js';
import { planCorrections } from '../../src/results/corrections/plan-corrections.js';
import { adjustPhases } from '../../src/results/adjusted-phase.js';
import { buildResults } from '../../src/results/build-results.js';
import { levelledShot, makeJob } from '../support/folders.js';
import { normal, seeded } from '../support/jobs.js';

const STATIONS = 41;
const ADJUSTERS = 20;
const SPACING = 250;

async function plan(name: string, want: string, hasShims: boolean): Promise<void> {
  const next = seeded(11);
  const noise = () => normal(next);
  const at = (k: number) => (k * (STATIONS - 1) * SPACING) / (ADJUSTERS - 1);
  const ids = ['A', 'B'];
  const shapes = ids.map(() => [80 * (next() - 0.5), 60 * next(), 12 * next()] as const);
  const rows = ids.flatMap((id, r) =>
    Array.from({ length: STATIONS }, (_, i) => {
      const [bow, wave, short] = shapes[r]!;
      const t = i / (STATIONS - 1);
      const y = 4 * bow * t * (1 - t) + wave * Math.sin(5 * t) + short * Math.sin(23 * t);
      return `S1,${id},${i + 1},${(y + noise()).toFixed(2)},${(0.7 * y + noise()).toFixed(2)}`;
    }),
  );
  const tolerances = ids.flatMap((rail) => [
    { what: 'straightness-vertical', rail, limit: 30, unit: 'um' },
    { what: 'straightness-horizontal', rail, limit: 30, unit: 'um' },
  ]);
  const folder = await makeJob(
    {
      ...levelledShot('as-found', 1, 0.5),
      rails: ids.map((id, k) => ({
        id,
        across: 2000 * k,
        ...(k === 0 && { datum: true }),
        stations: { first: 0, spacing: SPACING, count: STATIONS },
        beam: { stiffness: { value: 2.1, unit: 'MN m2' } },
      })),
      tolerances: [...tolerances, { what: 'parallelism-vertical', rail: 'B', limit: 40, unit: 'um' }],
      adjusters: ids.flatMap((rail) =>
        Array.from({ length: ADJUSTERS }, (_, k) => ({
          id: `${rail}${k + 1}`,
          rail,
          along: at(k),
          moves: {
            vertical: { up: 2, down: 2, unit: 'mm', pitch: 1.5 },
            horizontal: { left: 2, right: 2, unit: 'mm' },
          },
          ...(hasShims && { shims: { have: [0.01, 0.02, 0.05, 0.1, 0.2, 0.5], in: 1.2, unit: 'mm' } }),
        })),
      ),
      corrections: { want, margin: 0.1, timeLimit: 10 },
      decision: { rule: 'guarded', coverage: 0.95 },
    },
    { 'r.csv': ['setup,rail,station,vertical,horizontal', ...rows, ''].join('\n') },
  );
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
  const { job, readings, inputs } = loaded.value;
  const solving: number[] = [];
  const planning: number[] = [];
  let made;
  for (let k = 0; k < 3; k++) {
    const began = performance.now();
    const adjusted = adjustPhases(job, readings);
    const results = buildResults({ job, readings, adjusted, inputs, warnings: [], confirmations: [] });
    const solved = performance.now();
    made = await planCorrections({
      job,
      phase: adjusted.get('as-found')!,
      now: results.phases['as-found']!.characteristics,
      adjusters: job.adjusters,
      of: 'adjusters',
      response: { u: 0, learntFrom: null },
    });
    solving.push(solved - began);
    planning.push(performance.now() - solved);
  }
  const least = (list: readonly number[]) => Math.min(...list);
  const gap =
    made!.gap === null || made!.gap === undefined ? 'not known' : `${(100 * made!.gap).toFixed(2)} %`;
  console.log(
    `${name}: ${made!.status}, ${made!.moves.length} moves, gap ${gap}; ${least(planning).toFixed(0)} ms, ${(least(planning) / least(solving)).toFixed(2)} of solving and judging the survey`,
  );
}

await plan('level and straight, screws', 'level-and-straight', false);
await plan('fewest moves, screws', 'fewest-moves', false);
await plan('fewest moves, whole shims', 'fewest-moves', true);
