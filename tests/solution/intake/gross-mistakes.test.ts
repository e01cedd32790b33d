/**
 * The front door on honest surveys and on surveys with one gross mistake: few of the first are asked for a confirmation,
 * nearly all of the second are stopped or named. Rates are printed; `GROSS_SURVEYS=1000` for a full run.
 */
import { expect, test } from 'vitest';
import { createGenerator } from '../../../src/base/statistics/random.js';
import { honestSurvey, lookAt, mistakes } from './gross-mistakes.js';

const SURVEYS = Number(process.env['GROSS_SURVEYS'] ?? 240);
const EACH = Math.max(30, Math.round(SURVEYS / 8));

test(`of ${SURVEYS} honest surveys next to none is asked for a confirmation`, { timeout: 300_000 }, () => {
  const asked = Array.from({ length: SURVEYS }, (_, k) => lookAt(honestSurvey(k))).filter((found) =>
    found.some(({ severity }) => severity === 'confirm'),
  );
  console.log(`honest surveys asked for a confirmation: ${asked.length} of ${SURVEYS}`);
  expect(asked.length).toBeLessThanOrEqual(Math.max(1, 0.002 * SURVEYS));
});

test.each(mistakes)(
  '$name: stopped, or named with its cause',
  { timeout: 300_000 },
  ({ name, plant, named }) => {
    let [of, caught, right] = [0, 0, 0];
    for (let k = 0; of < EACH && k < 40 * EACH; k++) {
      const survey = plant(honestSurvey(5000 + k), createGenerator(k));
      if (survey === null) continue;
      of++;
      const found = lookAt(survey);
      const isNamed = found.some(({ code }) => named.includes(code));
      if (isNamed) right++;
      if (isNamed || found.some(({ severity }) => severity === 'confirm')) caught++;
    }
    console.log(`${name}: ${caught} of ${of} caught, ${right} with the right cause`);
    expect(of).toBe(EACH);
    expect(caught / of).toBeGreaterThanOrEqual(EACH < 100 ? 0.95 : 0.97);
  },
);
