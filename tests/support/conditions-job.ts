/** A job whose tolerances ask one characteristic of one rail in many ways. */
import { levelledShot, makeJob } from './folders.js';

/** Two stretches, two windows, two references, a group, a pair against another rail than the datum. @returns Its folder. */
export async function jobOfConditions(): Promise<string> {
  const AT = [0, 500, 1000, 1500, 2000, 2500];
  const across = { A: 0, B: 900, C: 2600 };
  const rows = Object.entries(across).flatMap(([rail, y], r) =>
    AT.map(
      (x, i) =>
        `S1,${rail},${i + 1},${((7 * i * i * (r + 2)) % 31) - 70},${((5 * i + r) % 17) + y / 1000 + x / 1000}`,
    ),
  );
  const straight = { what: 'straightness-vertical', rail: 'A', unit: 'um' };
  return makeJob(
    {
      ...levelledShot('as-left', 0.01, 0.01),
      rails: Object.entries(across).map(([id, y]) => ({
        id,
        across: y,
        stations: { at: AT },
        ...(id === 'A' && { datum: true }),
      })),
      tolerances: [
        { ...straight, limit: 40 },
        { ...straight, limit: 30, reference: 'minimum-zone' },
        { ...straight, limit: 20, between: [0, 1000] },
        { ...straight, limit: 25, between: [1000, 2500] },
        { ...straight, what: 'straightness-vertical-local', over: { length: 1000, unit: 'mm' }, limit: 9 },
        { ...straight, what: 'straightness-vertical-local', over: { length: 2000, unit: 'mm' }, limit: 12 },
        { what: 'parallelism-vertical', rails: ['A', 'B', 'C'], limit: 50, unit: 'um' },
        { what: 'height-difference', rail: 'C', against: 'B', unit: 'um', from: -20, to: 60 },
      ],
    },
    { 'r.csv': `setup,rail,station,vertical,horizontal\n${rows.join('\n')}\n` },
  );
}
