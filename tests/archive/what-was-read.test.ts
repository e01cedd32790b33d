/** What was not read is said wherever a verdict is: in the register and on the page that follows a survey, in the words of results.json. */
import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { registerCsv } from '../../src/archive/register/register-csv.js';
import { registerHtml } from '../../src/archive/register/register-html.js';
import { registerJson } from '../../src/archive/register/register-json.js';
import { registerRow } from '../../src/archive/register/register-row.js';
import { buildRegister, registerSchema } from '../../src/archive/register/register.js';
import { look } from '../../src/cli/follow-look.js';
import { followPage } from '../../src/pages/report/follow-page.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { solve } from '../../src/pipeline.js';
import { csvOf, honestFolder, type Folder } from '../solution/intake/silent-mistakes.js';
import { temporary } from '../support/folders.js';

async function write({ job, rows }: Folder): Promise<string> {
  const folder = await temporary();
  await mkdir(join(folder, 'readings'));
  await writeFile(join(folder, 'job.json'), JSON.stringify(job));
  for (const [file, list] of rows) await writeFile(join(folder, file), csvOf(list));
  return folder;
}

/** B not read at its last two stations as left. */
function shortened(isConfirmed: boolean): Folder {
  const folder = honestFolder(77_001);
  folder.rows.set(
    'readings/as-left.csv',
    folder.rows.get('readings/as-left.csv')!.filter((r) => !(r.rail === 'B' && Number(r.station) > 11)),
  );
  if (isConfirmed)
    folder.job.confirmed = [{ what: 'STATIONS_UNREAD', by: 'the test', because: 'a cover is in the way' }];
  return folder;
}

const WORDS = 'read 11 of 13 stations of B: not stations 12 and 13';

test('the register says what of the judged phase was read, its page what was not', async () => {
  const loaded = await loadJob(await write(shortened(true)));
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
  const results = await solve(loaded.value, loaded.diagnostics);
  const row = registerRow(results, { folder: 'jobs/x', key: 'key', hasPdf: false, place: results.job });
  expect(row.read).toEqual(results.phases['as-left']!.read!.words);
  expect(row.read).toContain(WORDS);
  expect(row.unread).toEqual([WORDS]);
  const register = buildRegister([row], { name: 'waysheet', version: '0', method: 'm' }, null);
  expect(registerSchema.parse(JSON.parse(registerJson(register)))).toEqual(register);
  const [header, cells] = parse(registerCsv(register)) as [string[], string[]];
  expect(cells[header.indexOf('read')]).toBe(row.read!.join('; '));
  const html = await registerHtml(register, {
    medium: 'page',
    pdf: false,
    read: () => Promise.resolve(null),
  });
  expect(html).toContain(WORDS);
  expect(html).not.toContain('read 13 of 13 stations of A');
});

test('the page of follow says what was read, whether it can be worked out or not', async () => {
  for (const isConfirmed of [true, false]) {
    const followed = await look(await write(shortened(isConfirmed)), '');
    const page = followPage(followed);
    for (const words of ['ead 13 of 13 stations of A', WORDS]) expect(page).toContain(words);
  }
  const broken = shortened(false);
  broken.job.confirmed = [];
  broken.job.tolerances[0].limit = 0.04;
  const followed = await look(await write(broken), '');
  // A question about a limit does not keep the figures so far from being shown.
  expect(followed.results).not.toBeNull();
  expect(followPage(followed)).toContain(WORDS);
});
