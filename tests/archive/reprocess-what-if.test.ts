/** An archive judged by another tolerance set: checked once, never over issued reports, and still auditable. */
import { existsSync, readdirSync } from 'node:fs';
import { cp, mkdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import type { Manifest } from '../../src/pages/deliverables/manifest.js';
import { claimFolder } from '../../src/archive/what-if-folder.js';
import { isGivenPath, parseGivenTolerances } from '../../src/survey/job/given-tolerances.js';
import { toleranceRoot } from '../../src/survey/job/job-paths.js';
import { judge } from '../../src/pipeline.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import type { Results } from '../../src/results/results-schema.js';
import { changeJob, copyOf, resultsOf, temporary } from '../support/folders.js';
import { waysheetProcess } from '../support/command.js';
import { addJob, archiveOf, fingerprint, registerOf, waysheet } from './batch-support.js';

vi.setConfig({ testTimeout: 240_000, hookTimeout: 240_000 });

const setOf = (limit: number, ...more: object[]) => ({
  name: `Limit ${limit}`,
  source: 'invented',
  tolerances: [{ what: 'straightness-vertical', limit, unit: 'um' }, ...more],
});

async function setFile(set: unknown, name = 'set.json'): Promise<string> {
  const path = join(await temporary(), name);
  await writeFile(path, typeof set === 'string' ? set : JSON.stringify(set, null, 2));
  return path;
}

/** TH-2031 judged by a set. */
async function judged(set: object) {
  const given = parseGivenTolerances(Buffer.from(JSON.stringify(set, null, 1)), '../what-if/set.json');
  if (!given.ok) throw new Error('the set is faulty');
  const loaded = await loadJob(await copyOf('TH-2031'), given.value);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
  return (await judge(loaded.value, loaded.diagnostics)).results;
}

const read = async <T>(...path: string[]): Promise<T> =>
  JSON.parse(await readFile(join(...path), 'utf8')) as T;

describe('the set', () => {
  test('its place among the inputs is one that no job can name', () => {
    for (const name of ['set.json', '../../x', ' .hidden', 'a\u0000b\\c:d.json', '']) {
      const set = parseGivenTolerances(Buffer.from(JSON.stringify(setOf(9))), `../what-if/${name}`);
      expect(set.ok && isGivenPath(set.value.input.path)).toBe(true);
    }
    expect(toleranceRoot('../what-if/set.json')).toBeNull();
  });

  test('everything that is wrong in it is said once, by line, and nothing is written', async () => {
    const jobs = await archiveOf(3);
    const out = join(await temporary(), 'out');
    const set = await setFile(
      setOf(
        9,
        { what: 'straightness-vertical', limit: 8, unit: 'um' },
        { what: 'twist', limit: 8, unit: 'um' },
        { what: 'straightness-vertical-local', limit: 1, unit: 'um' },
        { what: 'straigthness-vertical', limit: 1, unit: 'um' },
      ),
    );
    for (const args of [
      ['batch', jobs],
      ['report', join(jobs, 'site 0/job 0')],
    ]) {
      const ran = await waysheet(...args, '--out', out, '--no-pdf', '--tolerances', set);
      expect(ran.status).toBe(3);
      expect(ran.out).toBe('');
      for (const code of ['ID_DUPLICATE', 'UNIT_UNKNOWN', 'KEY_MISSING', 'VALUE_WRONG'])
        expect(ran.err.match(new RegExp(`set\\.json, row \\d+, .*\\(${code}\\)`, 'g')), code).toHaveLength(1);
      expect(existsSync(out)).toBe(false);
    }
    const none = await waysheet('batch', jobs, '--out', out, '--tolerances', join(jobs, 'none.json'));
    expect(none).toMatchObject({ status: 3 });
    expect(none.err).toMatch(/none\.json" is not there/);
    const noJson = await waysheet('batch', jobs, '--out', out, '--tolerances', await setFile('{'));
    expect(noJson.err).toMatch(/JSON_INVALID/);
  });

  test('stands in place of the job’s own, whose file is not even read', async () => {
    const folder = await copyOf('TH-2031');
    await rm(join(folder, 'tolerances'), { recursive: true });
    const set = parseGivenTolerances(Buffer.from(JSON.stringify(setOf(15))), '../what-if/set.json');
    if (!set.ok) throw new Error('the set is faulty');
    const loaded = await loadJob(folder, set.value);
    if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
    expect(loaded.value.inputs.map(({ path }) => path).slice(0, 2)).toEqual([
      'job.json',
      '../what-if/set.json',
    ]);
    expect(loaded.value.job.toleranceSet).toMatchObject({
      name: 'Limit 15',
      whatIf: { inPlaceOf: 'tolerances/bed-rails.json' },
    });
  });

  test('gives the verdicts that the same tolerances give as the job’s own', async () => {
    const own = await copyOf('TH-2031');
    await changeJob(own, (job) => (job.tolerances = setOf(15).tolerances));
    const whatIf = await judged(setOf(15));
    const results = await resultsOf(own);
    expect(whatIf.phases).toEqual(results.phases);
    expect(whatIf.verdict).toBe('undecided');
    expect(whatIf.verdict).not.toBe((await resultsOf(await copyOf('TH-2031'))).verdict);
  });

  test('a tolerance that a job cannot have is passed over with a warning in its report', async () => {
    const { warnings, phases } = await judged(
      setOf(
        15,
        { what: 'twist', rail: 'Z', limit: 1, unit: 'um/m' },
        { what: 'twist', rail: 'A', limit: 1, unit: 'um/m' },
        { what: 'squareness', limit: 1, unit: 'um/m' },
      ),
    );
    const ofSet = warnings.filter(({ file }) => file === '../what-if/set.json');
    expect(ofSet.map(({ code, message }) => [code, message])).toEqual([
      ['TOLERANCE_PASSED_OVER', expect.stringContaining('no rail "Z"')],
      ['TOLERANCE_PASSED_OVER', expect.stringContaining('it is the datum rail')],
      ['TOLERANCE_NOT_APPLICABLE', expect.stringContaining('squareness')],
    ]);
    expect(ofSet.every(({ row }) => row !== null && row > 1)).toBe(true);
    const limited = phases['as-left']!.characteristics.filter(({ limit }) => limit !== null);
    expect(new Set(limited.map(({ what }) => what))).toEqual(new Set(['straightness-vertical']));
  });
});

describe('folders', () => {
  let jobs: string;
  let set: string;
  beforeAll(async () => {
    jobs = await archiveOf(2);
    set = await setFile(setOf(9));
  });
  const batch = (out: string, ...more: string[]) =>
    waysheet('batch', jobs, '--out', out, '--no-pdf', ...more);

  test('issued reports are never overwritten, and never mixed with what-if reports', async () => {
    const issued = await temporary();
    expect((await batch(issued)).status).toBe(0);
    const before = fingerprint(issued);
    const job = join(jobs, 'site 0/job 0');
    for (const ran of [
      await batch(issued, '--tolerances', set),
      await waysheet('report', job, '--out', issued, '--no-pdf', '--tolerances', set),
    ]) {
      expect(ran.status).toBe(2);
      expect(ran.err).toMatch(/is not empty: .* Choose a new one with --out/);
    }
    expect(fingerprint(issued)).toEqual(before);
    expect(readdirSync(issued).filter((name) => name.startsWith('.'))).toEqual([]);

    const whatIf = join(await temporary(), 'new');
    expect((await batch(whatIf, '--tolerances', set)).out).toMatch(/2 reported, 0 unchanged/);
    const first = fingerprint(whatIf);
    const other = await setFile(setOf(8));
    for (const ran of [
      await batch(whatIf),
      await waysheet('report', job, '--out', whatIf, '--no-pdf'),
      await batch(whatIf, '--tolerances', other),
    ]) {
      expect(ran.status).toBe(2);
      expect(ran.err).toMatch(/holds what-if reports/);
    }
    expect(fingerprint(whatIf)).toEqual(first);
    // The same set again, under a link too: unchanged jobs are left.
    expect((await batch(whatIf, '--tolerances', set)).out).toMatch(/0 reported, 2 unchanged/);
    const link = join(await temporary(), 'set.json');
    await symlink(set, link);
    expect((await batch(whatIf, '--tolerances', link)).out).toMatch(/0 reported, 2 unchanged/);
  });

  test('a what-if report is marked wherever it is looked at, and its set counts in its key', async () => {
    const out = await temporary();
    const plain = await temporary();
    await batch(plain);
    await batch(out, '--tolerances', set);
    const manifest = await read<Manifest>(out, 'J-00/manifest.json');
    const issued = await read<Manifest>(plain, 'J-00/manifest.json');
    expect(issued.whatIf).toBeUndefined();
    expect(manifest.whatIf).toEqual({ tolerances: '../what-if/set.json' });
    expect(manifest.inputs.map(({ path }) => path)).toContain('../what-if/set.json');
    expect(manifest.key).not.toBe(issued.key);
    expect(manifest.digests!.job).toBe(issued.digests!.job);
    expect(manifest.digests!.tolerances).not.toBe(issued.digests!.tolerances);
    const html = await readFile(join(out, 'J-00/report.html'), 'utf8');
    expect(html).toContain('<title>Rail alignment what-if report J-00</title>');
    expect(html).toMatch(/What if: this report is judged by the tolerance set “Limit 9” in place of/);
    expect(html).not.toContain('For the customer');
    expect(html).not.toContain('Acceptance report');
    expect((await registerOf(out)).whatIf).toMatchObject({ name: 'Limit 9' });
    expect(await readFile(join(out, 'register.html'), 'utf8')).toContain('tolerance set “Limit 9”');
    expect(await readFile(join(plain, 'register.html'), 'utf8')).not.toContain('What if');
  });

  test('an issued report that came into a what-if folder is not replaced', async () => {
    const out = await temporary();
    const plain = await temporary();
    await batch(plain);
    await batch(out, '--tolerances', set);
    await rm(join(out, 'J-01'), { recursive: true });
    await cp(join(plain, 'J-01'), join(out, 'J-01'), { recursive: true });
    const before = fingerprint(join(out, 'J-01'));
    const ran = await batch(out, '--tolerances', set);
    expect(ran.status).toBe(1);
    expect(ran.err).toMatch(/J-01 is no what-if report/);
    expect(fingerprint(join(out, 'J-01'))).toEqual(before);
  });

  test('parts of an archive share a what-if folder', async () => {
    const out = await temporary();
    const words = ['batch', jobs, '--out', out, '--no-pdf', '--tolerances', set, '--shard'];
    const parts = await Promise.all(['1/2', '2/2'].map((part) => waysheetProcess([...words, part])));
    expect(parts.map(({ status }) => status)).toEqual([0, 0]);
    expect((await waysheet('merge', out, '--no-pdf')).status).toBe(0);
    expect((await registerOf(out)).whatIf).toMatchObject({ name: 'Limit 9' });
  });

  test('of many runs that come at once into a new folder none is turned away, however early the first report is', async () => {
    const sets = [9, 12].map((limit) => {
      const given = parseGivenTolerances(Buffer.from(JSON.stringify(setOf(limit))), '../what-if/set.json');
      if (!given.ok) throw new Error('the set is faulty');
      return given.value;
    });
    for (let round = 0; round < 40; round++) {
      const out = join(await temporary(), 'out');
      const claims = await Promise.allSettled(
        Array.from({ length: 12 }, async (_, k) => {
          for (let turn = (k * round) % 23; turn > 0; turn--) await setImmediate();
          await claimFolder(out, sets[k < 8 ? 0 : 1]!);
          await mkdir(join(out, `J-${k}`));
          return k < 8 ? 0 : 1;
        }),
      );
      // Those with the set that came first.
      const letIn = claims.flatMap((claim) => (claim.status === 'fulfilled' ? [claim.value] : []));
      expect(new Set(letIn).size).toBe(1);
      expect(letIn).toHaveLength(letIn[0] === 0 ? 8 : 4);
      expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
      for (const claim of claims)
        if (claim.status === 'rejected') expect(String(claim.reason)).toMatch(/reports of another set/);
    }
  });

  test('no job may be called as the mark is', async () => {
    const archive = join(await temporary(), 'jobs');
    await mkdir(archive);
    await addJob(archive, 'a', 'what-if.json');
    const ran = await waysheet('batch', archive, '--out', await temporary(), '--no-pdf');
    expect(ran.status).toBe(3);
    expect(ran.err).toMatch(/what-if\.json/);
  });
});

describe('audit', () => {
  test('the PDF carries the set, and the verdicts follow from it; without a PDF it is asked for', async () => {
    const folder = await copyOf('TH-2031');
    // A limit that the rails keep: no moves are searched for.
    const set = await setFile(setOf(60));
    const out = await temporary();
    await waysheet('report', folder, '--out', out, '--tolerances', set);
    const pdf = await waysheet('audit', join(out, 'TH-2031'), join(out, 'TH-2031/report.pdf'));
    expect(pdf.status).toBe(0);
    expect(pdf.out.match(/The figures follow from the readings: proven/g)).toHaveLength(2);

    const bare = await temporary();
    await waysheet('report', folder, '--out', bare, '--no-pdf', '--tolerances', set);
    const path = join(bare, 'TH-2031');
    const lacking = await waysheet('audit', path, '--job', folder);
    expect(lacking.status).toBe(5);
    expect(lacking.out).toMatch(/The figures follow from the readings: not compared/);
    expect(lacking.out).toMatch(/name the tolerance set with --tolerances/);
    const given = await waysheet('audit', path, '--job', folder, '--tolerances', set);
    expect(given.status).toBe(0);
    expect(given.out).toMatch(/The figures follow from the readings: proven/);
    const other = await waysheet('audit', path, '--job', folder, '--tolerances', await setFile(setOf(61)));
    expect(other.status).toBe(4);
    expect(other.out).toMatch(/is not the file that was reported/);

    // A verdict that does not follow from the set is found.
    const results = await read<Results>(path, 'results.json');
    results.phases['as-left']!.characteristics.find(({ limit }) => limit !== null)!.limit = 99;
    await writeFile(join(path, 'results.json'), JSON.stringify(results));
    const forged = await waysheet('audit', path, '--job', folder, '--tolerances', set);
    expect(forged.out).toMatch(/limit: issued 99, recomputed 60/);
  });
});
