/**
 * `npm run study -- plan [surveys]`: the chances that `plan` tells against surveys that are made and judged, over ten designs: two
 * samples, each with its stated uncertainty of a reading times 0.5, 1, 2, 3 and 4.
 */
import { createGenerator } from '../../src/base/statistics/random.js';
import { planSurvey } from '../../src/results/planned/planned-survey.js';
import { madeVerdicts, surveyOf } from '../support/made-surveys.js';

const surveys = Number(process.argv[2] ?? 200);
const random = createGenerator(29);
let [beyond, all] = [0, 0];
for (const id of ['TH-0412', 'TH-1175'])
  for (const times of [0.5, 1, 2, 3, 4]) {
    const { job: stated, list } = await surveyOf(id, `samples/${id}`);
    const instruments = stated.instruments.map((i) => ({ ...i, readingU: times * i.readingU }));
    const job = { ...stated, instruments };
    const planned = planSurvey(job, list, false);
    for (const what of ['straightness-vertical', 'parallelism-horizontal']) {
      const c = planned.characteristics.find((one) => one.what === what && one.rail === 'B')!;
      for (const share of [0.5, 0.8, 1.2]) {
        const told = c.chances!.find(({ at }) => at === share)!;
        const made = madeVerdicts({ job, list }, c, { share, surveys, random });
        const pairs = [
          [made.conforms, told.conforms],
          [made['does-not-conform'], told.doesNotConform],
          [made.undecided, told.undecided],
        ] as const;
        const z = pairs.map(([m, f]) => {
          const p = (m + f + 1) / (surveys + told.of + 2);
          return (m / surveys - f / told.of) / Math.sqrt(p * (1 - p) * (1 / surveys + 1 / told.of));
        });
        all += 3;
        beyond += z.filter((v) => Math.abs(v) > 2).length;
        const text = pairs.map(([m, f]) => `${((100 * m) / surveys).toFixed(0)}/${f}`).join(' ');
        console.log(
          `${id} u x ${times}, ${what}, ${100 * share} %: made/told % ${text}, z ${z.map((v) => v.toFixed(1)).join(' ')}`,
        );
      }
    }
  }
console.log(`${beyond} of ${all} beyond 2 standard deviations (5 % by chance)`);
