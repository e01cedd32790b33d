/** The command as a person or a script calls it: exit status, what goes where, and what is left on the disk. */
import { program } from '../support/program.js';
import { execFile } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { appendFile, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { VERSION } from '../../src/base/version.js';
import { changeRows, copyOf, root, sample, temporary, textOf } from '../support/folders.js';
import { waysheet, waysheetProcess, type Ran } from '../support/command.js';

describe('usage', () => {
  test('help and version go to standard output, with status 0', async () => {
    const help = await waysheetProcess(['--help']);
    expect(help).toMatchObject({ status: 0, err: '' });
    expect(help.out).toContain('waysheet report JOB');
    expect(await waysheetProcess(['--version'])).toEqual({ status: 0, out: `${VERSION}\n`, err: '' });
  });

  test.each([
    [[], /waysheet report/],
    [['reprot', 'x'], /no command 'reprot'/],
    [['report'], /name at least one job folder/],
    [['report', 'x', '--uot', 'y'], /uot/],
    [['aim', '--near', '14in'], /aim needs/],
    [['aim', '--near', '14', '--travel', '96in', '--far', '0.012in'], /“14” is not a length with its unit/],
  ])('wrong: %j: status 2, the reason on standard error', async (args, reason) => {
    const ran = await waysheet(...args);
    expect(ran.status).toBe(2);
    expect(ran.out).toBe('');
    expect(ran.err).toMatch(reason);
    expect(ran.err).not.toMatch(/\n\s+at /);
  });

  test('as a process too: what goes where, and the status of wrong usage, of refused and of reported jobs', async () => {
    const wrong = await waysheetProcess(['reprot']);
    expect(wrong).toEqual({
      status: 2,
      out: '',
      err: expect.stringMatching(/^waysheet: no command 'reprot'/),
    });
    const out = await temporary();
    const none = join(out, 'nothing');
    expect(await waysheetProcess(['check', none])).toMatchObject({ status: 3, err: '' });
    const ran = await waysheetProcess(['report', none, sample('TH-0412'), '--out', out, '--no-pdf']);
    expect(ran).toMatchObject({ status: 3, err: expect.stringMatching(/job\.json/) });
    expect(ran.out).toContain('TH-0412: conforms');
    expect(readdirSync(out)).toEqual(['TH-0412']);
  });

  test('the version is that of the package', async () => {
    const manifest = JSON.parse(await readFile(join(root, 'package.json'), 'utf8')) as { version: string };
    expect(manifest.version).toBe(VERSION);
  });
});

describe('what never ends, and what cannot be written', () => {
  test.runIf(existsSync('/proc/self'))(
    'report: a job beyond its limit is given up, the others are done, and no process is left',
    async () => {
      const place = await temporary();
      const browser = join(place, 'browser.sh');
      await writeFile(browser, '#!/bin/sh\nexec sleep 600\n', { mode: 0o755 });
      const [faulty, fine] = [await copyOf('TH-2031'), await copyOf('TH-0412')];
      const out = join(place, 'out');
      const ran = await waysheetProcess(['report', faulty, fine, '--out', out, '--limit', '3'], {
        WAYSHEET_BROWSER: browser,
      });
      expect(ran.status).toBe(1);
      expect(ran.err.match(/given up, nothing was written: it took longer than 3 s/g)).toHaveLength(2);
      expect(existsSync(out) ? readdirSync(out) : []).toEqual([]);
      const commands = readdirSync('/proc')
        .filter((name) => /^\d+$/.test(name))
        .map((pid) => textOf(`/proc/${pid}/cmdline`));
      expect(commands.filter((line) => line.includes(browser))).toEqual([]);
    },
  );

  test.runIf(existsSync('/dev/full'))('a full disk behind --json: one line, status 1', async () => {
    const ran = await new Promise<Ran>((resolve) => {
      const command = `'${process.execPath}' '${program()}' check '${sample('TH-0412')}' --json > /dev/full`;
      execFile('/bin/sh', ['-c', command], (error, out, err) =>
        resolve({ status: Number(error?.code ?? 0), out, err }),
      );
    });
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(/^waysheet: standard output cannot be written to: ENOSPC.*\n$/);
  });
});

describe('aim (common practice, no source)', () => {
  test('check value: 9 in, 54 in, +0.010 in: ratio 0.1667, set point −0.00167 in, rounded −0.002 in', async () => {
    const { status, out } = await waysheet('aim', '--near', '9in', '--travel', '54in', '--far', '0.010in');
    expect(status).toBe(0);
    expect(out).toContain('-0.00167 in');
    expect(out).toContain('-0.002 in');
    expect(out).toContain('0.1667');
  });

  test('a far reading in powers of ten is answered to as many digits', async () => {
    const { out } = await waysheet('aim', '--near', '9in', '--travel', '54in', '--far', '1.0e-2in');
    expect(out).toContain('-0.00167 in');
  });

  test('a negative far reading, mixed units, as JSON', async () => {
    const { out } = await waysheet(
      'aim',
      '--near',
      '355.6mm',
      '--travel',
      '96in',
      '--far',
      '-0.012in',
      '--json',
    );
    const { setPoint } = JSON.parse(out) as { setPoint: { value: number; unit: string } };
    expect(setPoint.unit).toBe('in');
    expect(setPoint.value).toBeCloseTo(0.00175, 12);
  });
});

describe('report', () => {
  test('--json names the warnings of the solution too', async () => {
    const ran = await waysheet('report', sample('TH-3318'), '--out', await temporary(), '--no-pdf', '--json');
    const [{ diagnostics }] = JSON.parse(ran.out) as [{ diagnostics: unknown[] }];
    expect(diagnostics).toMatchObject([{ code: 'REPEATABILITY_ABOVE_CLAIM', severity: 'warning' }]);
  });

  test('without PDF: all other deliverables, progress nowhere, JSON on request', async () => {
    const out = await temporary();
    const ran = await waysheet('report', sample('TH-0412'), '--out', out, '--no-pdf', '--json');
    expect(ran.status).toBe(0);
    expect(ran.err).toBe('');
    const [entry] = JSON.parse(ran.out) as { ok: boolean; job: string; verdict: string; out: string }[];
    expect(entry).toMatchObject({ ok: true, job: 'TH-0412', verdict: 'conforms' });
    expect(readdirSync(join(out, 'TH-0412')).sort()).toEqual([
      'charts',
      'manifest.json',
      'report.html',
      'results.json',
      'stations.csv',
    ]);
    expect(readdirSync(out)).toEqual(['TH-0412']);
  });

  test('a refused job writes nothing, keeps what was there, and does not keep others from being reported', async () => {
    const out = await temporary();
    const broken = await copyOf('TH-2031');
    expect((await waysheet('report', broken, '--out', out, '--no-pdf')).status).toBe(0);
    const before = await readFile(join(out, 'TH-2031/results.json'), 'utf8');
    await changeRows(broken, 'readings/as-left.csv', (header, rows) => {
      rows[30]![header.indexOf('station')] = '26';
      rows[40]![header.indexOf('vertical')] = 'o.4';
      return rows;
    });
    const ran = await waysheet('report', broken, sample('TH-0412'), '--out', out, '--no-pdf');
    expect(ran.status).toBe(3);
    expect(ran.err).toMatch(/error: .*as-left\.csv, row 32, station: .*26/);
    expect(ran.err).toMatch(/error: .*as-left\.csv, row 42, vertical: .*o\.4/);
    expect(ran.out).toContain('TH-0412: conforms');
    expect(await readFile(join(out, 'TH-2031/results.json'), 'utf8')).toBe(before);
    expect(readdirSync(out).sort()).toEqual(['TH-0412', 'TH-2031']);
  });

  test('a folder that is not there is refused, not a crash', async () => {
    const ran = await waysheet('report', join(await temporary(), 'nothing'), '--out', await temporary());
    expect(ran.status).toBe(3);
    expect(ran.err).toMatch(/job\.json/);
    expect(ran.err).not.toMatch(/\n\s+at /);
  });
});

describe('audit', () => {
  test('an issued report follows from its readings; a changed figure, file or input is found', async () => {
    const out = await temporary();
    const job = await copyOf('TH-0412');
    expect((await waysheet('report', job, '--out', out)).status).toBe(0);
    const issued = join(out, 'TH-0412');
    const sound = await waysheet('audit', issued, join(issued, 'report.pdf'));
    expect(sound.status).toBe(0);
    expect(sound.out.match(/figures follow from the readings: proven/g)).toHaveLength(2);
    expect(sound.out.match(/pages are those that these figures make: proven/g)).toHaveLength(2);
    expect(sound.out.match(/nobody: whoever can write this folder can write all of it anew/g)).toHaveLength(
      2,
    );
    const [found] = JSON.parse((await waysheet('audit', issued, '--json', '--by', 'A. Uditor')).out);
    expect(found).toMatchObject({
      ...{ report: issued, job: 'TH-0412', figures: 'proven', pages: 'proven', vouched: 'not-compared' },
      ...{ state: 'draft', differences: [], audit: { by: 'A. Uditor', keys: null, head: null } },
    });
    expect(found.notCompared.map(({ what }: { what: string }) => what)).toEqual(['who vouches for it']);
    // A job folder that is named is what is asked about, though the PDF carries the readings as they were.
    const other = await copyOf('TH-0412');
    expect((await waysheet('audit', issued, '--job', other)).status).toBe(0);
    await appendFile(join(other, 'readings/as-left.csv'), '\n');
    expect((await waysheet('audit', issued, '--job', other)).out).toMatch(
      /as-left\.csv is not the file that was reported/,
    );

    const results = await readFile(join(issued, 'results.json'), 'utf8');
    const changed = results.replace(/"value": (\d+)\.(\d+)/, '"value": 9$1.$2');
    await writeFile(join(issued, 'results.json'), changed);
    const ran = await waysheet('audit', issued);
    expect(ran.status).toBe(4);
    expect(ran.out).toMatch(/results\.json is not the file that was issued/);
    expect(ran.out).toMatch(/issued 9[\d.]+, recomputed/);
    await writeFile(join(issued, 'results.json'), results);

    await appendFile(join(issued, 'stations.csv'), 'x');
    expect((await waysheet('audit', issued)).out).toMatch(/stations\.csv is not the file that was issued/);
  });

  test('without the PDF the inputs come from the job folder, and must be the same', async () => {
    const out = await temporary();
    const job = await copyOf('TH-0412');
    await waysheet('report', job, '--out', out, '--no-pdf');
    const issued = join(out, 'TH-0412');
    const lacking = await waysheet('audit', issued);
    expect(lacking.out).toMatch(/name the job folder with --job/);
    expect(lacking.status).toBe(5);
    expect((await waysheet('audit', issued, '--job', job)).status).toBe(0);
    await appendFile(join(job, 'readings/as-left.csv'), '\n');
    const ran = await waysheet('audit', issued, '--job', job);
    expect(ran.status).toBe(4);
    expect(ran.out).toMatch(/as-left\.csv is not the file that was reported/);
  });

  test('what is no report is said so', async () => {
    const folder = await temporary();
    expect((await waysheet('audit', folder)).status).toBe(3);
    expect((await waysheet('audit', join(folder, 'none'))).out).toMatch(/there is no such file or folder/);
    expect(existsSync(join(folder, 'manifest.json'))).toBe(false);
  });
});
