/** Invented surveys that between them show every chart in every shape it can take. */
import type { FixtureOptions } from './fixtures.js';

const hostileName = '<script>alert("1")</script> & \'quotes\' ]]> \u0000\u0007 '.repeat(3);

export const cases = {
  metric: { withLocal: true },
  guarded: { rule: 'guarded', reference: 'minimum-zone', roughness: 1.6 },
  endPoints: { reference: 'end-points', phases: ['as-left'] },
  inches: {
    style: { length: 'in', deviation: 'in', slope: 'thou/ft', paper: 'Letter' },
    spacingMm: 609.6,
    acrossMm: -2438.4,
    withLocal: true,
    roughness: 2,
    limitUm: 38.1,
  },
  feetAndThou: {
    style: { length: 'ft', deviation: 'thou', slope: 'arcsec', paper: 'Letter' },
    spacingMm: 609.6,
    acrossMm: -2438.4,
  },
  foundOnly: { phases: ['as-found'] },
  leftOnly: { phases: ['as-left'], noLimits: true },
  gaps: {
    missing: [
      ['as-found', 0, 3],
      ['as-left', 0, 7],
      ['as-left', 0, 8],
      ['as-left', 0, 10],
      ['as-left', 0, 21],
      ['as-found', 1, 1],
      ['as-left', 1, 15],
      ['as-left', 1, 1],
    ],
    roughness: 2,
  },
  untied: { untied: 'rail B is not tied to rail A: no monument pair was read in both S1 and S2' },
  crossRail: { withCrossRail: true },
  veryRough: { roughness: 40 },
  band: { stations: 100, spacingMm: 250, roughness: 2, setupsEveryMm: 5000, limitUm: 400 },
  long: { stations: 2000, spacingMm: 20, roughness: 2 },
  hostile: {
    railIds: ['A/<b>&"x"', 'a/<b>&"x"'],
    railNames: [hostileName, `Ω轨道 ${'a rail with a name of more than eighty characters '.repeat(2)}`],
    blunder: true,
  },
} satisfies Record<string, FixtureOptions>;

export type CaseName = keyof typeof cases;
export const caseNames = Object.keys(cases) as CaseName[];
