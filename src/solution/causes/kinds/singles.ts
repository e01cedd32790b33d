/** One reading, or one thing that was stated beforehand, that the others do not bear out. */
import { lengthWords, slopeWords } from '../amounts.js';
import { lookUp } from '../fix.js';
import type { Hypothesis } from '../hypothesis.js';
import { valueOf, type Reading } from '../../../survey/readings/readings.js';
import type { PriorKind } from '../../solve/priors.js';
import { rowWords, type SurveyRows } from '../survey-rows.js';

/** µm, µm/m, common practice, no source. */
const READING = { usual: 100, cap: 1e7, unit: 'um' } as const;
/** So many readings of a survey are wrong by themselves, if one is. */
const EXPECTED = 3;
/** Of what is stated: so many times its standard uncertainty, up to what nobody would have. */
const STATED = 4;
/** In the unit of the unknown (unknowns.ts). Common practice, no source: a target's scale is not off by more than 1 %. */
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

/** Any one reading. */
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
        weight: EXPECTED / count,
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

/** What a pen may have done to it. */
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

/** What job.json states of a target, an instrument, the air or a rod, if it is stated as known. */
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
            { column: { rows: [i], values: [1] }, usual: Math.min(STATED * u, cap / 2), cap, unit: '' },
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
