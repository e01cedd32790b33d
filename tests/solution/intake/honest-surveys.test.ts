/**
 * Surveys with nothing wrong are not asked about, whatever kind they are of; the rate per code is printed. `HONEST_SURVEYS=1000` for a full
 * run, `HONEST_SEED` for other seeds.
 */
import { expect, test } from 'vitest';
import { inspectJob } from '../../../src/solution/intake/load-job.js';
import { sample } from '../../support/folders.js';
import { folderOf } from '../../survey/job/made-up-job.js';
import { honestSurvey, kinds } from './honest-surveys.js';

const SURVEYS = Number(process.env['HONEST_SURVEYS'] ?? 60);
const SEED = Number(process.env['HONEST_SEED'] ?? 880_000);

test(
  `of ${SURVEYS} honest surveys of eleven kinds at most two in a thousand are asked`,
  {
    timeout: 3_600_000,
  },
  async () => {
    const made = new Map<string, number>();
    const asked = new Map<string, number>();
    const told = new Map<string, number>();
    const count = (map: Map<string, number>, key: string) => map.set(key, (map.get(key) ?? 0) + 1);
    const refused: string[] = [];
    for (let k = 0; k < SURVEYS; k++) {
      const { kind, files } = honestSurvey(SEED + k);
      count(made, kind);
      const { diagnostics } = await inspectJob(await folderOf(files));
      const codes = new Set(
        diagnostics.map(({ severity, code }) => `${severity === 'warning' ? '' : '!'}${code}`),
      );
      for (const code of codes) count(code.startsWith('!') ? asked : told, code);
      const problems = [...codes].filter((code) => code.startsWith('!'));
      if (problems.length > 0) refused.push(`${kind} ${SEED + k}: ${problems.join(', ')}`);
    }
    const shown = (map: Map<string, number>) => [...map].map(([key, n]) => `${key} ${n}`).join(', ');
    console.log(`made: ${shown(made)}\nasked: ${shown(asked)}\ntold: ${shown(told)}\n${refused.join('\n')}`);
    if (SURVEYS >= 60) expect([...made.keys()].sort()).toEqual([...kinds].sort());
    expect(refused.length).toBeLessThanOrEqual(Math.max(1, 0.002 * SURVEYS));
  },
);

test.each(['TH-0412', 'TH-1175', 'TH-2031', 'TH-3318', 'TH-4520'])(
  'the sample %s is accepted',
  async (id) => {
    const { loaded, diagnostics } = await inspectJob(sample(id));
    expect(diagnostics.filter(({ severity }) => severity !== 'warning')).toEqual([]);
    expect(loaded).not.toBeNull();
  },
);
