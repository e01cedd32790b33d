/** The recipes for other engines do what one machine does, byte for byte. */
import { execFile, spawnSync } from 'node:child_process';
import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { root, temporary } from '../support/folders.js';
import { addJob, archiveOf, fingerprint, waysheet } from './batch-support.js';

vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const recipe = (name: string) => join(root, 'samples/recipes', name);
const has = (program: string) => spawnSync(program, ['--version']).status === 0;

/** The program under its own name, as a recipe calls it. */
async function programFolder(): Promise<string> {
  const folder = await temporary();
  const text = `#!/bin/sh\nexec "${process.execPath}" "${join(root, 'dist/cli.js')}" "$@"\n`;
  writeFileSync(join(folder, 'waysheet'), text, { mode: 0o755 });
  return folder;
}

function run(program: string, args: readonly string[], env: NodeJS.ProcessEnv): Promise<number> {
  return new Promise((resolve) => {
    execFile(program, [...args], { env: { ...process.env, ...env } }, (error, out, err) => {
      if (error !== null && typeof error.code !== 'number') throw error;
      if (error !== null && error.code !== 3) console.error(out, err);
      resolve(error === null ? 0 : (error.code as number));
    });
  });
}

async function archiveWithRefused(): Promise<{ jobs: string; whole: Record<string, string> }> {
  const jobs = await archiveOf(5);
  const broken = await addJob(jobs, 'broken', 'B-1');
  rmSync(join(broken, 'readings'), { recursive: true });
  const out = await temporary();
  expect((await waysheet('batch', jobs, '--out', out, '--no-pdf')).status).toBe(3);
  return { jobs, whole: fingerprint(out) };
}

/** Without the registers of the parts. */
const resultOf = (out: string) =>
  Object.fromEntries(Object.entries(fingerprint(out)).filter(([path]) => !/^register-\d/.test(path)));

test.skipIf(!has('parallel'))('GNU parallel: the same as one run', async () => {
  const { jobs, whole } = await archiveWithRefused();
  const out = join(await temporary(), 'with space');
  const PATH = `${await programFolder()}:${process.env['PATH']}`;
  expect(await run(recipe('parallel.sh'), [jobs, out, '3', '--no-pdf'], { PATH })).toBe(3);
  expect(resultOf(out)).toEqual(whole);
});

test.skipIf(!has('bash'))(
  'a Slurm array, task by task (without the scheduler): the same as one run',
  async () => {
    const { jobs, whole } = await archiveWithRefused();
    const out = await temporary();
    const PATH = `${await programFolder()}:${process.env['PATH']}`;
    for (const id of ['1', '0'])
      expect(
        await run('bash', [recipe('slurm.sh'), jobs, out, '--no-pdf'], {
          PATH,
          SLURM_ARRAY_TASK_ID: id,
          SLURM_ARRAY_TASK_MIN: '0',
          SLURM_ARRAY_TASK_MAX: '1',
          SLURM_CPUS_PER_TASK: '1',
        }),
      ).toBe(0);
    expect((await waysheet('merge', out, '--of', jobs)).status).toBe(3);
    expect(resultOf(out)).toEqual(whole);
  },
);
