/** The recipes for other engines do what one machine does, byte for byte; and so do parts run by two at once. */
import { program } from '../support/program.js';
import { execFile, spawn, spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { load } from 'js-yaml';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { z } from 'zod';
import { root, temporary, textOf } from '../support/folders.js';
import { slurmLacks, startSlurm, type SlurmCluster } from '../support/slurm-cluster.js';
import { addJob, archiveOf, fingerprint, until, waysheet } from './batch-support.js';

vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const recipe = (name: string) => join(root, 'samples/recipes', name);
const has = (program: string) => spawnSync(program, ['--version']).status === 0;

let jobs: string;
let whole: Record<string, string>;
let PATH: string;

beforeAll(async () => {
  // More than a part has in hand when it is told to end.
  jobs = await archiveOf(7);
  const broken = await addJob(jobs, 'broken', 'B-1');
  rmSync(join(broken, 'readings'), { recursive: true });
  const out = await temporary();
  expect((await waysheet('batch', jobs, '--out', out, '--no-pdf')).status).toBe(3);
  whole = fingerprint(out);
  PATH = `${await programFolder()}:${process.env['PATH']}`;
});

/** The program under its own name, as a recipe calls it. */
async function programFolder(): Promise<string> {
  const folder = await temporary();
  const text = `#!/bin/sh\nexec "${process.execPath}" "${program()}" "$@"\n`;
  writeFileSync(join(folder, 'waysheet'), text, { mode: 0o755 });
  return folder;
}

interface Ran {
  readonly status: number;
  readonly out: string;
  readonly err: string;
}

function run(program: string, args: readonly string[], env: NodeJS.ProcessEnv): Promise<Ran> {
  return new Promise((resolve, reject) => {
    execFile(program, [...args], { env: { ...process.env, ...env } }, (error, out, err) => {
      if (error !== null && typeof error.code !== 'number') reject(error);
      else resolve({ status: error === null ? 0 : (error.code as number), out, err });
    });
  });
}

/** Without the registers of the parts, which a single run has not. */
const resultOf = (out: string) =>
  Object.fromEntries(Object.entries(fingerprint(out)).filter(([path]) => !/^register-\d/.test(path)));

const newOut = async () => join(await temporary(), 'with space');

test('GNU parallel: the same as one run', async ({ skip }) => {
  if (!has('parallel')) return skip("Debian's parallel is not installed");
  const out = await newOut();
  const ran = await run(recipe('parallel.sh'), [jobs, out, '3', '--no-pdf'], { PATH });
  expect(ran, ran.err).toMatchObject({ status: 3 });
  expect(resultOf(out)).toEqual(whole);
});

/** A script of a scheduler, told to end while it works, as a scheduler does; then run again. */
async function endsInGoodOrder(program: string, args: string[], env: NodeJS.ProcessEnv, out: string) {
  const child = spawn(program, args, { env: { ...process.env, ...env }, stdio: 'ignore' });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  await until(() => existsSync(out) && readdirSync(out).some((name) => name.startsWith('J-')), 60_000);
  child.kill('SIGTERM');
  expect(await ended).toBe(1);
  expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
  expect(await run(program, args, env)).toMatchObject({ status: 0 });
  expect((await waysheet('merge', out, '--of', jobs, '--no-pdf')).status).toBe(3);
  expect(resultOf(out)).toEqual(whole);
}

describe('Slurm', () => {
  test('its scheduler runs the job array and the merge that waits for it: the same as one run', async ({
    skip,
  }) => {
    const lacking = slurmLacks();
    if (lacking !== null) return skip(lacking);
    const cluster = await startSlurm();
    try {
      await submitAsTheRecipeSays(cluster);
    } finally {
      await cluster.stop();
    }
  });

  async function submitAsTheRecipeSays(cluster: SlurmCluster): Promise<void> {
    const out = await newOut();
    const logs = await temporary();
    const submit = (...args: string[]) =>
      run('sbatch', ['--parsable', `--output=${logs}/%x-%a.log`, ...args], {
        ...cluster.env,
        PATH: `${PATH}:${cluster.env['PATH']}`,
      });
    const array = await submit('--array=1-3', recipe('slurm.sh'), jobs, out, '--no-pdf');
    expect(array, cluster.log()).toMatchObject({ status: 0 });
    const merge = await submit(
      `--dependency=afterok:${array.out.trim()}`,
      '--kill-on-invalid-dep=yes', // else a part that failed leaves the merge waiting for ever
      '--job-name=merge',
      '--wait',
      '--wrap',
      `waysheet merge '${out}' --of '${jobs}' --no-pdf`,
    );
    const said = readdirSync(logs).map((name) => `${name}: ${textOf(join(logs, name))}`);
    expect(merge, `${said.join('\n')}\n${cluster.log()}`).toMatchObject({ status: 3 });
    expect(said.filter((text) => text.startsWith('waysheet-'))).toHaveLength(3);
    expect(resultOf(out)).toEqual(whole);
  }

  const task = (index: number, first: number, last: number) => ({
    PATH,
    SLURM_ARRAY_TASK_ID: String(index),
    SLURM_ARRAY_TASK_MIN: String(first),
    SLURM_ARRAY_TASK_MAX: String(last),
    SLURM_CPUS_PER_TASK: '1',
  });

  test.skipIf(!has('bash'))('an array that begins at 0', async () => {
    const out = await newOut();
    for (const id of [1, 0])
      expect(await run('bash', [recipe('slurm.sh'), jobs, out, '--no-pdf'], task(id, 0, 1))).toMatchObject({
        status: 0,
      });
    expect((await waysheet('merge', out, '--of', jobs, '--no-pdf')).status).toBe(3);
    expect(resultOf(out)).toEqual(whole);
  });

  test.skipIf(!has('bash'))(
    'a task that is told to end finishes what runs; put back, it goes on',
    async () => {
      const out = await newOut();
      await endsInGoodOrder('bash', [recipe('slurm.sh'), jobs, out, '--no-pdf'], task(1, 1, 1), out);
    },
  );
});

describe('Kubernetes', () => {
  const name = z.string().regex(/^[a-z0-9]([-a-z0-9]*[a-z0-9])?$/);
  const quantity = z.string().regex(/^\d+(?:m|[KMG]i?)?$/);
  const resources = z.strictObject({ cpu: quantity.optional(), memory: quantity.optional() });

  /**
   * The part of the API batch/v1 that the recipe uses, strict, so that a misspelt field does not pass.
   * From memory of the API reference of Kubernetes 1.33, where backoffLimitPerIndex became stable; no cluster here.
   */
  const jobSchema = z.strictObject({
    apiVersion: z.literal('batch/v1'),
    kind: z.literal('Job'),
    metadata: z.strictObject({ name }),
    spec: z.strictObject({
      completionMode: z.literal('Indexed'),
      completions: z.int().positive(),
      parallelism: z.int().positive(),
      backoffLimitPerIndex: z.int().nonnegative(),
      podFailurePolicy: z.strictObject({
        rules: z
          .array(
            z.strictObject({
              action: z.enum(['FailJob', 'FailIndex', 'Ignore', 'Count']),
              onExitCodes: z
                .strictObject({
                  containerName: name.optional(),
                  operator: z.enum(['In', 'NotIn']),
                  values: z.array(z.int()).min(1).max(255),
                })
                .optional(),
              onPodConditions: z
                .array(z.strictObject({ type: z.string(), status: z.string().optional() }))
                .optional(),
            }),
          )
          .max(20),
      }),
      template: z.strictObject({
        spec: z.strictObject({
          // podFailurePolicy and backoffLimitPerIndex both want it so.
          restartPolicy: z.literal('Never'),
          terminationGracePeriodSeconds: z.int().positive(),
          containers: z
            .array(
              z.strictObject({
                name,
                image: z.string(),
                command: z.array(z.string()),
                args: z.array(z.string()),
                resources: z.strictObject({ requests: resources, limits: resources }),
                volumeMounts: z.array(z.strictObject({ name, mountPath: z.string().startsWith('/') })),
              }),
            )
            .length(1),
          volumes: z.array(
            z.strictObject({
              name,
              persistentVolumeClaim: z.strictObject({ claimName: name }).optional(),
              emptyDir: z.strictObject({ medium: z.literal('Memory'), sizeLimit: quantity }).optional(),
            }),
          ),
        }),
      }),
    }),
  });

  const job = jobSchema.parse(load(readFileSync(recipe('kubernetes.yaml'), 'utf8')));
  const { spec } = job;
  const container = spec.template.spec.containers[0]!;

  test('the manifest fits the API, and its parts fit each other', () => {
    expect(container.args[0]).toContain(`--shard $((JOB_COMPLETION_INDEX + 1))/${spec.completions} `);
    const volumes = spec.template.spec.volumes;
    expect(container.volumeMounts.map((mount) => mount.name).sort()).toEqual(
      volumes.map((volume) => volume.name).sort(),
    );
    for (const { persistentVolumeClaim, emptyDir } of volumes)
      expect([persistentVolumeClaim, emptyDir].filter((kind) => kind !== undefined)).toHaveLength(1);
    for (const { onExitCodes, onPodConditions } of spec.podFailurePolicy.rules) {
      expect([onExitCodes, onPodConditions].filter((kind) => kind !== undefined)).toHaveLength(1);
      if (onExitCodes === undefined) continue;
      expect(onExitCodes.containerName).toBe(container.name);
      expect(onExitCodes.values).not.toContain(0);
      // Refused jobs must not fail a part, and a part that was interrupted must be tried again.
      expect(onExitCodes.values).not.toContain(1);
    }
  });

  /** The container's command in a folder of our own, with its parts as one of so many. */
  async function pod(
    parts: number,
    options = '--no-pdf',
  ): Promise<{ out: string; command: string; args: string[] }> {
    const archive = await temporary();
    const [command, ...before] = container.command;
    const script = container.args[0]!.replaceAll('/archive/jobs', `'${jobs}'`)
      .replaceAll('/archive/out', `'${archive}/out'`)
      .replace(`))/${spec.completions} `, `))/${parts} ${options} `);
    return { out: join(archive, 'out'), command: command!, args: [...before, script] };
  }

  test('the command of every index, two pods of one index among them: the same as one run', async () => {
    const { out, command, args } = await pod(2);
    const index = (i: number) => run(command, args, { PATH, JOB_COMPLETION_INDEX: String(i) });
    // Kubernetes may start a second pod for an index that still runs.
    const twins = await Promise.all([index(1), index(1)]);
    // One of them works; the other finds its lock, or, when it comes late, nothing left to do.
    expect([
      [0, 0],
      [0, 1],
    ]).toContainEqual(twins.map(({ status }) => status).sort());
    expect(await index(0)).toMatchObject({ status: 0 });
    expect((await waysheet('merge', out, '--of', jobs, '--no-pdf')).status).toBe(3);
    expect(resultOf(out)).toEqual(whole);
  });

  test('a pod that is told to end finishes what runs; tried again, it goes on', async () => {
    const { out, command, args } = await pod(1, '--no-pdf --jobs 1');
    await endsInGoodOrder(command, args, { PATH, JOB_COMPLETION_INDEX: '0' }, out);
  });
});
