/** An inbox as an office uses it, and all that goes wrong on its way; in this process, with short times. */
import { existsSync, readFileSync } from 'node:fs';
import { appendFile, cp, mkdir, readFile, rename, rm, symlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { changeJob, changeRows, sample, temporary } from '../support/folders.js';
import { membersOf, zipOf } from '../support/zip.js';
import { addJob, registerOf, shiftReading, waysheet } from './batch-support.js';
import { anInbox, namesIn, watching, writeSlowly } from './watch-support.js';

vi.setConfig({ testTimeout: 120_000 });

const verdictOf = (out: string, job: string) =>
  (JSON.parse(readFileSync(join(out, job, 'results.json'), 'utf8')) as { verdict: string }).verdict;

/** A zip of jobs with these ids, each in a folder of its name. */
async function zipOfJobs(...ids: string[]): Promise<Buffer> {
  const folder = await temporary();
  for (const [k, id] of ids.entries()) await addJob(folder, id, id, k);
  return zipOf(membersOf(folder, ''));
}

describe('dropped and taken', () => {
  test('a folder, a zip of one job and a zip of several: reported, registered, in done', async () => {
    const places = await anInbox();
    const { inbox, out } = places;
    await addJob(inbox, 'J-1', 'J-1');
    await writeFile(join(inbox, 'two.zip'), await zipOfJobs('J-2', 'J-3'));
    // job.json at the top of the zip
    await writeFile(join(inbox, 'J-4.ZIP'), zipOf(membersOf(sample('TH-0412'), '')));
    // A folder of job folders; and what is none of it.
    await addJob(inbox, 'week 12/J-5', 'J-5');
    await writeFile(join(inbox, '.hidden'), '');
    await writeFile(join(inbox, 'J-9.zip.part'), 'half');
    const end = await watching(places, { once: true }).ended;
    expect(end).toEqual({ refused: 0, troubled: 0, trouble: null, isAborted: false });
    expect(await namesIn(inbox)).toEqual(['.hidden', 'J-9.zip.part', 'done']);
    expect(await namesIn(join(inbox, 'done'))).toEqual(['J-1', 'J-4.ZIP', 'two.zip', 'week 12']);
    const { jobs, counts } = await registerOf(out);
    expect(counts).toMatchObject({ jobs: 5, reported: 5 });
    expect(jobs.map(({ job, folder }) => [job, folder])).toEqual([
      ['J-1', 'done/J-1'],
      ['J-2', 'done/two.zip/J-2'],
      ['J-3', 'done/two.zip/J-3'],
      ['J-5', 'done/week 12/J-5'],
      ['TH-0412', 'done/J-4.ZIP'],
    ]);
    expect(await namesIn(out)).toEqual([
      'J-1',
      'J-2',
      'J-3',
      'J-5',
      'TH-0412',
      'register.csv',
      'register.html',
      'register.json',
    ]);
  });

  test('the report is the one that batch makes of the same folder', async () => {
    const places = await anInbox();
    await addJob(places.inbox, 'J-1', 'J-1');
    const batchOut = await temporary();
    await waysheet('batch', places.inbox, '--out', batchOut, '--no-pdf');
    await watching(places, { once: true }).ended;
    for (const file of ['report.html', 'results.json', 'stations.csv', 'manifest.json'])
      expect(readFileSync(join(places.out, 'J-1', file))).toEqual(readFileSync(join(batchOut, 'J-1', file)));
  });

  test('a shared tolerance set beside the drops, for folders and for zips', async () => {
    const places = await anInbox();
    const { inbox, out } = places;
    await mkdir(join(inbox, 'tolerances'));
    const limit = { what: 'straightness-vertical', rail: 'A', limit: 3, unit: 'um' };
    await writeFile(
      join(inbox, 'tolerances/tight.json'),
      JSON.stringify({ name: 'Tight', source: 'invented', tolerances: [limit] }),
    );
    const shared = (job: { tolerances: unknown }) => (job.tolerances = '../tolerances/tight.json');
    await changeJob(await addJob(inbox, 'J-1', 'J-1'), shared);
    const away = await temporary();
    await changeJob(await addJob(away, 'J-2', 'J-2'), shared);
    await writeFile(join(inbox, 'nested.zip'), zipOf(membersOf(away, '')));
    await changeJob(join(away, 'J-2'), (job) => (job.id = 'J-3'));
    await writeFile(join(inbox, 'flat.zip'), zipOf(membersOf(join(away, 'J-2'), '')));
    await watching(places, { once: true }).ended;
    expect(await namesIn(inbox)).toEqual(['done', 'tolerances']);
    const { jobs } = await registerOf(out);
    expect(jobs.map((row) => row.status === 'reported' && [row.toleranceSet, row.verdict])).toEqual(
      Array(3).fill(['Tight', 'does-not-conform']),
    );
  });
});

describe('refused', () => {
  test('a job with faults: the page beside it shows each; a good one beside it is reported all the same', async () => {
    const places = await anInbox();
    const { inbox, out } = places;
    const faulty = await addJob(inbox, 'both/J-bad', 'J-bad');
    await changeRows(faulty, 'readings/as-left.csv', (header, rows) => {
      rows[3]![header.indexOf('vertical')] = 'o.4';
      return rows;
    });
    await addJob(inbox, 'both/J-good', 'J-good');
    const watch = watching(places, { once: true });
    const end = await watch.ended;
    expect(end.refused).toBe(1);
    expect(await namesIn(join(inbox, 'refused'))).toEqual(['both', 'both.problems.html']);
    const page = await readFile(join(inbox, 'refused/both.problems.html'), 'utf8');
    expect(page).toContain('J-bad/readings/as-left.csv');
    expect(page).toContain('<mark>o.4</mark>');
    expect(page).toContain('Reported all the same: J-good.');
    expect(existsSync(join(out, 'J-good/report.html'))).toBe(true);
    expect(existsSync(join(out, 'J-bad'))).toBe(false);
    const { counts, jobs } = await registerOf(out);
    expect(counts).toMatchObject({ jobs: 2, reported: 1, refused: 1 });
    expect(jobs.map(({ folder }) => folder)).toEqual(['refused/both/J-bad', 'refused/both/J-good']);
  });

  test('what is no job: a file, a link, a folder without job.json, a zip without one, an empty zip', async () => {
    const places = await anInbox();
    const { inbox, out } = places;
    const elsewhere = await addJob(await temporary(), 'J-1', 'J-1');
    await writeFile(join(inbox, 'readings.csv'), 'a,b\n');
    await symlink(elsewhere, join(inbox, 'link'));
    await mkdir(join(inbox, 'empty'));
    await writeFile(join(inbox, 'none.zip'), zipOf([{ name: 'a.txt', bytes: 'x' }]));
    await writeFile(join(inbox, 'nothing.zip'), zipOf([]));
    const watch = watching(places, { once: true });
    expect((await watch.ended).refused).toBe(5);
    expect((await namesIn(join(inbox, 'refused'))).filter((name) => !name.endsWith('.html'))).toEqual([
      'empty',
      'link',
      'none.zip',
      'nothing.zip',
      'readings.csv',
    ]);
    const page = (name: string) => readFileSync(join(inbox, `refused/${name}.problems.html`), 'utf8');
    expect(page('readings.csv')).toContain('a file by itself');
    expect(page('link')).toContain('a link to something elsewhere');
    expect(page('empty')).toContain('There is no job in this folder');
    expect(page('nothing.zip')).toContain('There is no job in this zip');
    expect((await registerOf(out)).counts).toMatchObject({ refused: 5, reported: 0 });
  });

  test('a zip that leads out of itself: refused at once, nothing is written anywhere', async () => {
    const places = await anInbox();
    const { inbox } = places;
    const slip = zipOf([{ name: '../../../../slipped', bytes: 'x' }, ...membersOf(sample('TH-0412'), 'J/')]);
    await writeFile(join(inbox, 'slip.zip'), slip);
    const watch = watching(places);
    const refused = await watch.next('refused');
    await watch.stop();
    expect(watch.events.map(({ event }) => event)).toEqual(['watching', 'refused']);
    expect(refused.page).toBe('refused/slip.zip.problems.html');
    expect(readFileSync(join(inbox, refused.page!), 'utf8')).toMatch(/leads out of the folder of the zip/);
    expect(readFileSync(join(inbox, 'refused/slip.zip'))).toEqual(slip);
    for (const up of ['..', '../..', '../../..'])
      expect(existsSync(join(places.out, up, 'slipped'))).toBe(false);
    expect(existsSync(join(places.out, 'TH-0412'))).toBe(false);
  });

  test('one id twice in a drop: none is reported, and the page says why', async () => {
    const places = await anInbox();
    await addJob(places.inbox, 'two/a', 'J-1');
    await addJob(places.inbox, 'two/b', 'J-1', 1);
    await watching(places, { once: true }).ended;
    const page = await readFile(join(places.inbox, 'refused/two.problems.html'), 'utf8');
    expect(page).toContain('is also that of');
    expect(existsSync(join(places.out, 'J-1'))).toBe(false);
  });

  test('mended and dropped again: reported, and the refusal leaves the register', async () => {
    const places = await anInbox();
    const { inbox, out } = places;
    const job = await addJob(inbox, 'J-1', 'J-1');
    const readings = await readFile(join(job, 'readings/as-left.csv'), 'utf8');
    await writeFile(join(job, 'readings/as-left.csv'), readings.replace('vertical', 'vertikal'));
    const watch = watching(places);
    await watch.next('refused');
    await writeFile(join(inbox, 'refused/J-1/readings/as-left.csv'), readings);
    await rename(join(inbox, 'refused/J-1'), join(inbox, 'J-1'));
    expect((await watch.next('done')).to).toBe('done/J-1');
    await watch.stop();
    expect((await registerOf(out)).counts).toMatchObject({ jobs: 1, reported: 1 });
  });
});

describe('still being copied', () => {
  test('a zip that grows slowly is taken when it is whole, and not before', async () => {
    const places = await anInbox();
    const watch = watching(places, { settleMs: 300 });
    await watch.next('watching');
    const began = performance.now();
    await writeSlowly(join(places.inbox, 'J-1.zip'), await zipOfJobs('J-1'), 16, 60);
    const written = performance.now();
    const done = await watch.next('done');
    await watch.stop();
    expect(written - began).toBeGreaterThan(600); // twice the settling time
    expect(done.entries).toMatchObject([{ status: 'reported', made: true, before: null }]);
    expect(watch.events.map(({ event }) => event)).toEqual(['watching', 'done']);
  });

  test('a copy that pauses for longer than the settling time is waited for', async () => {
    const places = await anInbox();
    const whole = await zipOfJobs('J-1');
    const path = join(places.inbox, 'J-1.zip');
    await writeFile(path, whole.subarray(0, whole.length >> 1));
    const watch = watching(places);
    const { reason } = await watch.next('incomplete');
    expect(reason).toMatch(/The zip has no end/);
    await appendFile(path, whole.subarray(whole.length >> 1));
    await watch.next('done');
    await watch.stop();
  });

  test('so is a folder whose readings, or whose job.json, come late', async () => {
    const places = await anInbox();
    const whole = await addJob(await temporary(), 'J-1', 'J-1');
    const target = join(places.inbox, 'J-1');
    await mkdir(join(target, 'readings'), { recursive: true });
    const watch = watching(places);
    expect((await watch.next('incomplete')).reason).toMatch(/There is no job in this folder/);
    await cp(join(whole, 'job.json'), join(target, 'job.json'));
    expect((await watch.next('incomplete')).reason).toMatch(/as-left\.csv" is not there/);
    await cp(join(whole, 'readings'), join(target, 'readings'), { recursive: true });
    await watch.next('done');
    await watch.stop();
  });

  test('a zip that stays cut off is refused in the end, with a page that says so', async () => {
    const places = await anInbox();
    const whole = await zipOfJobs('J-1');
    await writeFile(join(places.inbox, 'J-1.zip'), whole.subarray(0, whole.length - 40));
    const watch = watching(places, { once: true });
    expect((await watch.ended).refused).toBe(1);
    expect(watch.events.map(({ event }) => event)).toEqual(['watching', 'incomplete', 'refused']);
    expect(readFileSync(join(places.inbox, 'refused/J-1.zip.problems.html'), 'utf8')).toMatch(
      /the copy was cut off/,
    );
  });

  test('with --once, what is still changing is left for the next run, and told', async () => {
    const places = await anInbox();
    const path = join(places.inbox, 'J-1.zip');
    await writeFile(path, '');
    await addJob(places.inbox, 'J-2', 'J-2');
    const copying = setInterval(() => void appendFile(path, 'more'), 40);
    const watch = watching(places, { once: true, settleMs: 400 });
    await watch.ended;
    clearInterval(copying);
    expect(watch.events.filter(({ event }) => event === 'left')).toEqual([
      { event: 'left', drop: 'J-1.zip' },
    ]);
    expect(existsSync(join(places.inbox, 'done/J-2'))).toBe(true);
    expect(existsSync(path)).toBe(true);
  });

  test('file times in the future or long ago, and a clock that goes backwards, make no difference', async () => {
    const places = await anInbox();
    const [future, past] = [new Date('2099-01-01'), new Date('1980-01-01')];
    const job = await addJob(places.inbox, 'J-1', 'J-1');
    await utimes(join(job, 'job.json'), future, future);
    await utimes(join(job, 'readings/as-left.csv'), past, past);
    let reading = 0;
    // Now and then an hour back, as when a clock is set.
    const now = () => performance.now() - 3_600_000 * (++reading % 10 === 0 ? 1 : 0);
    const watch = watching(places, { now });
    expect((await watch.next('done')).to).toBe('done/J-1');
    expect((await watch.stop()).troubled).toBe(0);
  });
});

describe('changed or gone while it is in hand', () => {
  test('changed: what was reported is not put away; the later state is reported in its place', async () => {
    const places = await anInbox();
    const job = await addJob(places.inbox, 'J-1', 'J-1');
    let times = 0;
    const watch = watching(places, {
      before: () => {
        if (times++ === 0) shiftReading(job, 60);
      },
    });
    expect((await watch.next('changed')).drop).toBe('J-1');
    await watch.next('done');
    await watch.stop();
    expect(verdictOf(places.out, 'J-1')).toBe('does-not-conform');
    expect((await registerOf(places.out)).jobs).toMatchObject([
      { job: 'J-1', folder: 'done/J-1', verdict: 'does-not-conform' },
    ]);
  });

  test('gone: told, no trouble, and the next drop is taken', async () => {
    const places = await anInbox();
    const job = await addJob(places.inbox, 'J-1', 'J-1');
    const watch = watching(places, {
      before: ({ job: id }) => (id === 'J-1' ? rm(job, { recursive: true }) : undefined),
    });
    expect((await watch.next('gone')).drop).toBe('J-1');
    await addJob(places.inbox, 'J-2', 'J-2');
    await watch.next('done');
    expect(await watch.stop()).toMatchObject({ refused: 0, troubled: 0, trouble: null });
    expect(await namesIn(places.inbox)).toEqual(['done']);
  });

  test('the inbox itself goes away and comes back, as a network drive does', async () => {
    const places = await anInbox();
    const watch = watching(places);
    await watch.next('watching');
    await rename(places.inbox, `${places.inbox} away`);
    expect((await watch.next('trouble')).message).toMatch(/ENOENT/);
    await addJob(`${places.inbox} away`, 'J-1', 'J-1');
    await rename(`${places.inbox} away`, places.inbox);
    await watch.next('over');
    await watch.next('done');
    expect(await watch.stop()).toMatchObject({ trouble: null });
  });
});

describe('the same again', () => {
  test('the same name: nothing in done or refused is overwritten', async () => {
    const places = await anInbox();
    const { inbox } = places;
    const watch = watching(places);
    const zips = [await zipOfJobs('J-1'), await zipOfJobs('J-2'), Buffer.from('no zip')];
    for (const [k, bytes] of zips.entries()) {
      await writeFile(join(inbox, 'drop.zip'), bytes);
      await watch.next(k < 2 ? 'done' : 'refused');
    }
    await writeFile(join(inbox, 'drop.zip'), 'no zip either');
    await watch.next('refused');
    await watch.stop();
    expect(await namesIn(join(inbox, 'done'))).toEqual(['drop (2).zip', 'drop.zip']);
    expect(readFileSync(join(inbox, 'done/drop.zip'))).toEqual(zips[0]);
    expect(readFileSync(join(inbox, 'done/drop (2).zip'))).toEqual(zips[1]);
    expect(await namesIn(join(inbox, 'refused'))).toEqual([
      'drop (2).zip',
      'drop (2).zip.problems.html',
      'drop.zip',
      'drop.zip.problems.html',
    ]);
    expect(readFileSync(join(inbox, 'refused/drop (2).zip'), 'utf8')).toBe('no zip either');
  });

  test('the same job: unchanged it stands, changed it is replaced; two at once take turns', async () => {
    const places = await anInbox();
    const { inbox, out } = places;
    const watch = watching(places);
    await addJob(inbox, 'a', 'J-1');
    expect((await watch.next('done')).entries).toMatchObject([{ made: true, before: null }]);
    await addJob(inbox, 'b', 'J-1');
    expect((await watch.next('done')).entries).toMatchObject([{ made: false, before: 'conforms' }]);
    // Moved in whole, so that both are seen at the same look.
    const away = await temporary();
    shiftReading(await addJob(away, 'c', 'J-1'), 60);
    await addJob(away, 'd', 'J-1', 3);
    for (const name of ['c', 'd']) await rename(join(away, name), join(inbox, name));
    expect(await watch.next('done')).toMatchObject({
      drop: 'c',
      entries: [{ made: true, before: 'conforms', row: { verdict: 'does-not-conform' } }],
    });
    expect(await watch.next('done')).toMatchObject({
      drop: 'd',
      entries: [{ made: true, before: 'does-not-conform', row: { verdict: 'conforms' } }],
    });
    await watch.stop();
    expect((await registerOf(out)).jobs).toMatchObject([
      { job: 'J-1', folder: 'done/d', verdict: 'conforms' },
    ]);
  });

  test('a new watch goes on with the register; what a person took out of refused leaves it', async () => {
    const places = await anInbox();
    const { inbox, out } = places;
    await addJob(inbox, 'J-1', 'J-1');
    await writeFile(join(inbox, 'bad.zip'), 'no zip');
    await watching(places, { once: true }).ended;
    expect((await registerOf(out)).counts).toMatchObject({ reported: 1, refused: 1 });
    await rm(join(inbox, 'refused/bad.zip'));
    // A register that was lost is made from the reports.
    for (const lost of [false, true]) {
      if (lost) await rm(join(out, 'register.json'));
      const before = lost ? null : await registerOf(out);
      await watching(places, { once: true }).ended;
      const after = await registerOf(out);
      expect(after.counts).toMatchObject({ jobs: 1, reported: 1, refused: 0 });
      expect(after.jobs[0]).toMatchObject({ job: 'J-1', folder: 'done/J-1' });
      if (before !== null) expect(after.jobs[0]).toEqual(before.jobs[0]);
    }
  });
});
