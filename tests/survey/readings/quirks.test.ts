/** Each quirk of the table goes through loading to the same readings as the plain file, or to the stated refusal. */
import { expect, test } from 'vitest';
import type { Reading } from '../../../src/survey/readings/readings.js';
import { loadFiles as loadJob } from '../../support/load-files.js';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { jobFolder } from '../job/made-up-job.js';
import { accepted, HEADER, PLAIN, refused, ROWS } from './quirk-table.js';

/** Everything but the line, which a quirk may shift; notes without the quirk's own marks. */
const bare = (reading: Reading) => ({ ...reading, source: undefined });

async function load(bytes: string | Uint8Array, change?: (job: JobInput) => void) {
  const outcome = await loadJob(await jobFolder(bytes, change));
  if (!outcome.ok)
    return {
      diagnostics: outcome.diagnostics.map((d) => `${d.at?.row}: ${d.code} ${d.at?.column ?? ''}`.trim()),
    };
  const { readings, inputs } = outcome.value;
  return {
    readings: [...readings.phases.get('as-left')!].map(bare),
    excluded: readings.excluded.map((row) => row.note),
    read: inputs.at(-1)!.read,
    rows: [...readings.phases.get('as-left')!].map((r) => r.source.row),
    diagnostics: outcome.diagnostics.map((d) => `${d.at?.row}: ${d.code} ${d.at?.column ?? ''}`.trim()),
  };
}

test.each(accepted)('%s', async (quirk, bytes, read, entry) => {
  const plain = await load(PLAIN);
  const found = await load(bytes, (job) => Object.assign(job.readings[0]!, entry));
  expect(found.diagnostics).toEqual([]);
  expect(found.read).toBe(read);
  const near = (list: typeof found.readings) =>
    list!.map((r) => ({
      ...r,
      time: /^(?:times|dates)/.test(quirk) ? null : r.time,
      note: quirk.includes('note') ? '' : r.note,
      ...('um' in r && { um: Number(r.um.toPrecision(12)) }),
    }));
  expect(near(found.readings)).toEqual(near(plain.readings));
  expect(found.excluded).toEqual(['bumped']);
});

test('rows keep the numbers that an editor shows', async () => {
  const found = await load(
    `title\n\n${PLAIN.replace('height carried over', '"height\ncarried over"').replace(/\n(?=S2,B,1)/, '\n\n')}`,
  );
  expect(found.rows).toEqual([4, 4, 5, 5, 6, 7, 10, 10, 12, 12, 13, 13, 14, 14]);
});

test('rows whose blank ends were dropped throughout', async () => {
  const rows = ROWS.map((row) => row.replace(/,+$/, ''));
  expect(await load([HEADER, ...rows].join('\n') + '\n')).toMatchObject({
    diagnostics: [],
    rows: [2, 2, 3, 3, 4, 5, 6, 6, 8, 8, 9, 9, 10, 10],
  });
});

test.each(refused)('%s is refused', async (_, bytes, diagnostics) => {
  const found = await load(bytes);
  expect(found.readings).toBeUndefined();
  expect(found.diagnostics).toEqual(diagnostics);
});

test('the job may state the decimal mark of a file that does not show it', async () => {
  const csv = 'setup;rail;station;vertical\nS1;A;1;1.234\nS2;A;1;2\n';
  const um = async (decimal: 'point' | 'comma') =>
    (await load(csv, (job) => (job.readings[0]!.decimal = decimal))).readings!.map((r) => 'um' in r && r.um);
  expect(await um('point')).toEqual([1.234, 2]);
  expect(await um('comma')).toEqual([1234, 2]);
});

test('a header’s unit counts where the job states none for the file, and must agree where it does', async () => {
  const csv = 'setup,rail,station,Vertical (thou)\nS1,A,1,1\nS2,A,1,2\n';
  const found = await load(csv);
  expect(found.readings!.map((r) => 'um' in r && r.um)).toEqual([25.4, 50.8]);
  expect(await load(csv, (job) => (job.readings[0]!.unit = 'um'))).toEqual({
    diagnostics: ['1: CSV_UNIT_CLASH Vertical (thou)'],
  });
});
