/** One reading, or one stated value, that the other readings contradict. */
import { lengthWords, slopeWords } from '../amounts.js';
import { lookUp } from '../fix.js';
import type { Hypothesis } from '../hypothesis.js';
import { valueOf, type Reading } from '../../../survey/readings/readings.js';
import type { PriorKind } from '../../solve/priors.js';
import { rowWords, type SurveyRows } from '../survey-rows.js';

/** µm, µm/m, common practice, no source. */
const READING = { usual: 100, cap: 1e7, unit: 'um' } as const;
/** Prior weight of all single readings together, relative to one ordinary mistake. */
const READINGS_WEIGHT = 3;
/** Usual error of a stated value that is wrong, in its standard uncertainties. */
const STATED_SIGMAS = 4;
/** Greatest error of a stated value, in the unit of the unknown (unknowns.ts). Common practice, no source: the scale of a target is wrong by at most 1 %. */
const CAPS: Partial<Record<PriorKind, number>> = {
  scale: 1,
  'target-roll': 20,
  air: 3,
  cone: 10,
  drift: 1000,
  rods: 100_000,
  'thermal-bow': 20,
  'span-temperature': 20,
};

/** One reading, any of them. */
export function singles({ job, network }: SurveyRows): Hypothesis[] {
  const count = network.observations.length;
  return network.observations.flatMap((o, i): Hypothesis[] => {
    if (o.kind === 'prior') return [];
    const where = `${rowWords([o])}${o.kind === 'span' ? '' : `, ${o.axis}`}`;
    const words = (amount: number) =>
      o.kind === 'slope' ? slopeWords(job, amount) : lengthWords(job, amount);
    return [
      {
        kind: 'reading',
        id: `reading|${o.source.file}|${o.source.row}|${o.kind === 'span' ? '' : o.axis}`,
        weight: READINGS_WEIGHT / count,
        change: { kind: 'linear', parameters: [{ column: { rows: [i], values: [1] }, ...READING }] },
        cause: ({ values: [off = 0] }) =>
          `one reading (${where}) is off by ${words(off)}${slip(o, off, network.sigma[i]!)}`,
        fix: () =>
          lookUp(
            `Look up ${where} in the field notes. A slip of the pen is typed anew; a reading that cannot be explained is left out with "use" = no and a note, or taken again.`,
          ),
      },
    ];
  });
}

/** A typing or writing mistake in it. */
function slip(reading: Reading, off: number, sigma: number): string {
  const read = valueOf(reading);
  const right = read - off;
  const isNear = (value: number) =>
    Math.abs(value - right) < 4 * sigma && Math.abs(value - read) > 10 * sigma;
  if (isNear(-read)) return ', as if its sign were the other one';
  const factor = [10, 100, 1000].find((f) => isNear(read / f) || isNear(read * f));
  if (factor === undefined) return '';
  return `, as if it were ${factor} times too ${isNear(read / factor) ? 'large' : 'small'}`;
}

const OF_THEIR_OWN: ReadonlySet<PriorKind> = new Set<PriorKind>([
  'level',
  'level-zero',
  'square',
  'seating',
  'rail-tilt',
]);

/** A value of a target, an instrument, the air or a rod that job.json states as known. */
export function statedPriors({ network }: SurveyRows): Hypothesis[] {
  return network.observations.flatMap((o, i): Hypothesis[] => {
    if (o.kind !== 'prior' || OF_THEIR_OWN.has(o.prior)) return [];
    const u = network.sigma[i]!;
    const cap = CAPS[o.prior] ?? 100 * u;
    const of = `${o.setup === null ? '' : `${o.setup}, `}${o.of}`;
    return [
      {
        kind: 'prior',
        id: `prior|${o.prior}|${o.setup ?? ''}|${o.instrument}|${o.of}`,
        weight: 1,
        change: {
          kind: 'linear',
          parameters: [
            {
              column: { rows: [i], values: [1] },
              usual: Math.min(STATED_SIGMAS * u, cap / 2),
              cap,
              unit: '',
            },
          ],
        },
        cause: ({ values: [off = 0] }) =>
          `what job.json states about the ${of} is off by ${Number(Math.abs(off / u).toPrecision(2))} times its u`,
        fix: () =>
          lookUp(
            `Look up what is known about the ${of}; in job.json, correct what is stated about it or give it a larger u.`,
          ),
      },
    ];
  });
}
