/** The recipe that audits a report by the version that made it, from a folder of kept packages. */
import { execFile, execFileSync } from 'node:child_process';
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { root, temporary } from '../../support/folders.js';

const recipe = join(root, 'samples/recipes/audit-old.sh');

function run(args: readonly string[], env: Record<string, string>) {
  return new Promise<{ status: number; out: string; err: string }>((resolve) => {
    execFile('sh', [recipe, ...args], { env: { ...process.env, ...env } }, (error, out, err) =>
      resolve({ status: error === null ? 0 : Number(error.code), out, err }),
    );
  });
}

test.skipIf(process.platform === 'win32')(
  'runs the kept package of that version, with its exit status',
  async () => {
    // A package of the same name that says what it was called with: which version runs is what is tested here.
    const packages = await temporary();
    const folder = join(packages, 'package');
    await mkdir(folder);
    const about = { name: 'waysheet', version: '0.4.7', bin: { waysheet: 'say.js' } };
    await writeFile(join(folder, 'package.json'), JSON.stringify(about));
    await writeFile(
      join(folder, 'say.js'),
      '#!/usr/bin/env node\nconsole.log("0.4.7", ...process.argv.slice(2));\nprocess.exitCode = 4;\n',
    );
    execFileSync('npm', ['pack', '--silent', '--pack-destination', packages], { cwd: folder });
    const env = {
      WAYSHEET_PACKAGES: packages,
      npm_config_cache: join(packages, 'cache'),
      npm_config_offline: 'true',
    };
    const ran = await run(['0.4.7', 'out/TH 1', '--json'], env);
    expect(ran).toMatchObject({ status: 4, out: '0.4.7 audit out/TH 1 --json\n' });
    const missing = await run(['0.4.8', 'out/TH-1'], env);
    expect(missing.status).toBe(1);
    expect(missing.err).toMatch(/waysheet-0\.4\.8\.tgz: keep the package of each version/);
    expect((await run(['../x', 'out'], env)).status).toBe(2);
    expect((await run(['0.4.7'], env)).status).toBe(2);
  },
  60_000,
);
