/**
 * The front door on honest surveys and on surveys with one gross mistake: few of the first are asked for a confirmation,
 * nearly all of the second are stopped or named. Rates are printed; `GROSS_SURVEYS=1000` for a full run.
 */
import { expect, test } from 'vitest';
import { describe } from '../../../src/base/diagnostics/messages.js';
import { createGenerator } from '../../../src/base/statistics/random.js';
import { honestSurvey, lookAt, mistakes } from './gross-mistakes.js';

const SURVEYS = Number(process.env['GROSS_SURVEYS'] ?? 16);
const SEED = Number(process.env['GROSS_SEED'] ?? 0);
const EACH = Math.max(4, Math.round(SURVEYS / 8));

test(
  `of ${SURVEYS} honest surveys next to none is asked for a confirmation`,
  { timeout: 3_600_000 },
  async () => {
    const asked: string[] = [];
    for (let k = 0; k < SURVEYS; k++) {
      const found = (await lookAt(honestSurvey(SEED + k))).filter(({ severity }) => severity !== 'warning');
      if (found.length > 0) asked.push(`${SEED + k}: ${found.map(describe).join('; ')}`);
    }
    console.log(`honest surveys asked: ${asked.length} of ${SURVEYS}\n${asked.join('\n')}`);
    expect(asked.length).toBeLessThanOrEqual(Math.max(1, 0.002 * SURVEYS));
  },
);

test.each(mistakes)(
  '$name: stopped, or named with its cause',
  { timeout: 3_600_000 },
  async ({ name, plant, named }) => {
    let [of, caught, right] = [0, 0, 0];
    const missed: string[] = [];
    for (let k = 0; of < EACH && k < 40 * EACH; k++) {
      const survey = plant(honestSurvey(SEED + 5000 + k), createGenerator(SEED + k));
      if (survey === null) continue;
      of++;
      const found = await lookAt(survey);
      const isNamed = found.some((d) => named.test(`${d.code} ${describe(d)}`));
      if (isNamed) right++;
      else
        missed.push(
          `${SEED + 5000 + k}: ${found.map((d) => `${d.severity} ${d.code} ${describe(d)}`).join('; ')}`,
        );
      if (isNamed || found.some(({ severity }) => severity === 'confirm')) caught++;
    }
    console.log(`${name}: ${caught} of ${of} caught, ${right} with the right cause\n${missed.join('\n')}`);
    expect(of).toBe(EACH);
    expect(caught / of).toBeGreaterThanOrEqual(EACH < 100 ? 0.95 : 0.97);
  },
);
