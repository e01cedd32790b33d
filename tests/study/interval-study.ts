/**
 * How often the coverage intervals cover: simulated surveys of rails whose truth is known.
 *
 *   node interval-study.js [surveys=2000] [draws=1000] [noise=…] [n=…] [shape=…] [size=…] [what=…] [coverage=0.95]
 *
 * Lists are comma-separated; what is left out takes the whole default plan. One row a cell: noise, stations,
 * true shape and its size in σ of a reading (range about the least-squares line; for max − min and signed extremes
 * the characteristic itself); then for each characteristic its coverage, how often the truth lay below L and above U, and the mean
 * width of the interval in σ. Seeded: the same arguments print the same table.
 */
import { coverageInterval } from '../../src/verdict/coverage-interval.js';
import { drawShapes } from '../../src/verdict/draw-shapes.js';
import type { Draws, ProfileSample } from '../../src/verdict/profile-sample.js';
import { createGenerator, type RandomGenerator } from '../../src/verdict/random.js';
import { signedExtremeInterval } from '../../src/verdict/signed-extreme-interval.js';
import { characteristics, noises, shapes, signedExtreme, type Noise } from './profiles.js';

const options = new Map(process.argv.slice(2).map((a) => a.split('=', 2) as [string, string]));
const list = (name: string, standard: string): string[] => (options.get(name) ?? standard).split(',');
const number = (name: string, standard: number): number => Number(options.get(name) ?? standard);

const surveys = number('surveys', 2000);
const draws = number('draws', 1000);
const coverage = number('coverage', 0.95);
const SIGNED = 'signed extreme';

interface Tally {
  below: number;
  above: number;
  width: number;
}
interface Result {
  readonly cell: string;
  readonly covered: number;
}

const results: Result[] = [];
for (const noise of list('noise', 'independent,trend 0.3,trend 1,trend 5,offset 5,random walk')) {
  for (const n of list('n', '3,5,11,21,41').map(Number)) {
    for (const shape of list('shape', 'bow,sine,s-curve,walk,white,kink,step,bump')) {
      for (const size of list('size', '0,1,3,10,30').map(Number)) {
        if (size === 0 && shape !== list('shape', 'bow')[0]) continue; // all perfect rails are alike
        report(noise, n, shape, size, list('what', `LS line,five-station windows,max − min,${SIGNED}`));
      }
    }
  }
}
summarise();

function report(noiseName: string, n: number, shape: string, size: number, names: readonly string[]): void {
  const tallies = simulate(noises[noiseName]!, n, shape, size, names);
  const cell = `${noiseName}, n = ${n}, ${shape}, ${size} σ`;
  const columns = names.map((name, k) => {
    const { below, above, width } = tallies[k]!;
    const covered = 1 - (below + above) / surveys;
    results.push({ cell: `${name}; ${cell}`, covered });
    const parts = [
      covered.toFixed(3),
      (below / surveys).toFixed(3),
      (above / surveys).toFixed(3),
      (width / surveys).toFixed(1),
    ];
    return `${name} ${parts.join(' ')}`;
  });
  console.log(`${cell} | ${columns.join(' | ')}`);
}

function simulate(noise: Noise, n: number, shape: string, size: number, names: readonly string[]): Tally[] {
  const random = createGenerator(20260314);
  const positions = Float64Array.from({ length: n }, (_, i) => 0.5 * i);
  const functionals = names.map((name) => characteristics[name]?.(positions));
  // Surveys take turns with a few sets of draws: a program's draws are fixed by its seed, but not the same for each job.
  const sets = Array.from({ length: 25 }, () => drawNoise(noise, n, random));
  const tallies = names.map((): Tally => ({ below: 0, above: 0, width: 0 }));
  const e = new Float64Array(n);
  for (let s = 0; s < surveys; s++) {
    const unscaled = shapes[shape]!(n, random);
    noise(e, random);
    let drawn: { sample: ProfileSample; shapes: Draws; scale: number } | null = null;
    names.forEach((name, k) => {
      const T = functionals[k] ?? ((d: Float64Array) => Math.abs(signedExtreme(d)));
      const reference = name === SIGNED || name === 'max − min' ? T : characteristics['LS line']!(positions);
      const reach = reference(unscaled);
      // A shape that the characteristic does not see, a slope for straightness, is a perfect rail at any size.
      const scale = reach > 1e-9 * Math.abs(signedExtreme(unscaled)) ? size / reach : size;
      if (drawn === null || drawn.scale !== scale) {
        const observed = unscaled.map((d, i) => scale * d + e[i]!);
        const sample: ProfileSample = { observed, positions, noise: sets[s % sets.length]! };
        drawn = { sample, shapes: drawShapes(sample, createGenerator(s)), scale };
      }
      const truth = unscaled.map((d) => scale * d);
      const isSigned = name === SIGNED;
      const { interval } = isSigned
        ? signedExtremeInterval(drawn.sample, drawn.shapes, coverage)
        : coverageInterval(T, drawn.sample, drawn.shapes, coverage);
      const theta = isSigned ? signedExtreme(truth) : T(truth);
      const slack = 1e-9 * (1 + Math.abs(theta));
      if (theta < interval[0] - slack) tallies[k]!.below++;
      if (theta > interval[1] + slack) tallies[k]!.above++;
      tallies[k]!.width += interval[1] - interval[0];
    });
  }
  return tallies;
}

function drawNoise(noise: Noise, n: number, random: RandomGenerator): Draws {
  const values = new Float64Array(draws * n);
  for (let b = 0; b < draws; b++) noise(values.subarray(b * n, (b + 1) * n), random);
  return { count: draws, values };
}

function summarise(): void {
  const sorted = [...results].sort((a, b) => a.covered - b.covered);
  const share = (holds: (r: Result) => boolean): string =>
    `${results.filter(holds).length} of ${results.length}`;
  console.log(
    `\nbelow 0.93: ${share((r) => r.covered < 0.93)}; above 0.98: ${share((r) => r.covered > 0.98)}`,
  );
  console.log('least covered:');
  for (const r of sorted.slice(0, 12)) console.log(`  ${r.covered.toFixed(3)}  ${r.cell}`);
  console.log('most covered:');
  for (const r of sorted.slice(-5)) console.log(`  ${r.covered.toFixed(3)}  ${r.cell}`);
}
