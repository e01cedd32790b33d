/** A Slurm of this machine alone, run by this user from a temporary folder: real scheduler, real queue, no systemd. */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { hostname, userInfo } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { temporary } from './folders.js';

const PROGRAMS = ['munged', 'slurmctld', 'slurmd', 'sbatch', 'sinfo', 'scancel'];

/** Debian keeps the daemons where only the administrator's path leads. */
const PATH = `${process.env['PATH']}:/usr/sbin:/sbin`;

/** What of Slurm is not installed; null when all is there. */
export function slurmLacks(): string | null {
  const lacking = PROGRAMS.filter(
    (name) => spawnSync('sh', ['-c', `command -v ${name}`], { env: { ...process.env, PATH } }).status !== 0,
  );
  return lacking.length === 0 ? null : `Debian's slurm-wlm is not installed (no ${lacking.join(', ')})`;
}

export interface SlurmCluster {
  /** For sbatch and the like. */
  readonly env: NodeJS.ProcessEnv;
  /** What the daemons said, for a test that fails. */
  readonly log: () => string;
  stop(): Promise<void>;
}

/** @throws {Error} the node does not come up; the message ends with what the daemons said. */
export async function startSlurm(): Promise<SlurmCluster> {
  const folder = await temporary();
  const config = join(folder, 'slurm.conf');
  const socket = join(folder, 'munge');
  for (const name of ['state', 'spool']) mkdirSync(join(folder, name));
  writeFileSync(join(folder, 'key'), randomBytes(256), { mode: 0o600 });
  writeFileSync(config, configOf(folder, socket, await freePort(), await freePort()));
  const env = { ...process.env, PATH, SLURM_CONF: config };
  const daemons: { child: ChildProcess; ended: Promise<unknown> }[] = [];
  let said = '';
  const start = (program: string, ...args: string[]): void => {
    const child = spawn(program, args, { env, stdio: ['ignore', 'pipe', 'pipe'] });
    for (const stream of [child.stdout, child.stderr])
      stream.setEncoding('utf8').on('data', (text: string) => (said += text));
    daemons.push({ child, ended: new Promise((resolve) => child.once('exit', resolve)) });
  };
  const cluster: SlurmCluster = {
    env,
    log: () => said.slice(-4_000),
    async stop() {
      spawnSync('scancel', ['--user', userInfo().username], { env });
      // The node first: it takes leave of its controller, and both need munge to talk.
      for (const { child, ended } of daemons.reverse()) {
        child.kill('SIGTERM');
        const isOver = await Promise.race([ended.then(() => true), sleep(10_000, false, { ref: false })]);
        if (!isOver) child.kill('SIGKILL');
      }
    },
  };
  start(
    'munged',
    '--foreground',
    '--force', // the folder is this user's alone
    `--key-file=${join(folder, 'key')}`,
    `--socket=${socket}`,
    `--seed-file=${join(folder, 'seed')}`,
    `--pid-file=${join(folder, 'munged.pid')}`,
    `--log-file=${join(folder, 'munged.log')}`,
  );
  await waitFor(() => spawnSync('munge', ['-n', `--socket=${socket}`], { env }).status === 0, cluster);
  start('slurmctld', '-D', '-c');
  start('slurmd', '-D', '-c');
  const isIdle = () => spawnSync('sinfo', ['-h', '-o', '%T'], { env }).stdout.toString().trim() === 'idle';
  await waitFor(isIdle, cluster);
  return cluster;
}

async function waitFor(what: () => boolean, cluster: SlurmCluster): Promise<void> {
  for (const end = Date.now() + 60_000; Date.now() < end; await sleep(200)) if (what()) return;
  await cluster.stop();
  throw new Error(`Slurm does not come up:\n${cluster.log()}`);
}

/** `config_overrides`: the node has what is said here, on any machine, so that two tasks of two CPUs run at once. */
function configOf(folder: string, socket: string, controller: number, node: number): string {
  const { username } = userInfo();
  const host = hostname().split('.')[0]!;
  return `
ClusterName=waysheet-test
SlurmctldHost=${host}(127.0.0.1)
SlurmctldPort=${controller}
SlurmdPort=${node}
SlurmUser=${username}
SlurmdUser=${username}
AuthType=auth/munge
AuthInfo=socket=${socket}
StateSaveLocation=${join(folder, 'state')}
SlurmdSpoolDir=${join(folder, 'spool')}
SlurmctldPidFile=${join(folder, 'slurmctld.pid')}
SlurmdPidFile=${join(folder, 'slurmd.pid')}
SlurmdParameters=config_overrides
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core
SwitchType=switch/none
MpiDefault=none
NodeName=${host} NodeAddr=127.0.0.1 CPUs=4 RealMemory=8192 State=UNKNOWN
PartitionName=all Nodes=ALL Default=YES State=UP
`;
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => resolve(port));
    });
  });
}
