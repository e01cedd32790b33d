/**
 * Each quirk of the table goes through `waysheet report`, the command itself: to results, charts and station
 * tables that are those of the plain file, or to the stated refusal, with nothing written.
 */
import { existsSync } from 'node:fs';
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import type { Results } from '../../../src/results/results-schema.js';
import { madeUpJob } from '../job/made-up-job.js';
import { waysheet } from '../../support/command.js';
import { temporary } from '../../support/folders.js';
import { accepted, refused } from './quirk-table.js';

interface Reported {
  readonly folder: string;
  readonly ok: boolean;
  readonly out: string | null;
  readonly diagnostics: readonly {
    readonly code: string;
    readonly row: number | null;
    readonly column: string | null;
  }[];
}

/** Station B:2 is left out by use = no, nothing was read twice, and M1 and M2 are not read from every set-up. */
const OF_THE_SURVEY = [
  'CHARACTERISTIC_UNDETERMINED',
  'READINGS_UNCHECKED',
  'MONUMENT_UNREAD',
  'MONUMENT_UNREAD',
  'STATIONS_UNREAD',
];

let place: string;
const outcomes = new Map<string, Reported>();
const idOf = (list: 'Y' | 'N', i: number): string => `${list}-${i + 1}`;

async function makeJob(id: string, bytes: string | Uint8Array, entry: Partial<JobInput['readings'][number]>) {
  const job = { ...madeUpJob(), id };
  // As long as it was read, and with a limit for readings of 1234.5 um: then nothing is asked of the survey.
  if (id.startsWith('Y')) {
    job.rails[0]!.stations = { first: 0, spacing: 500, count: 3 };
    job.tolerances = [{ what: 'straightness-vertical', rail: 'A', limit: 2, unit: 'mm' }];
  }
  Object.assign(job.readings[0]!, entry);
  const folder = join(place, 'jobs', id);
  await mkdir(join(folder, 'readings'), { recursive: true });
  await writeFile(join(folder, 'job.json'), JSON.stringify(job));
  await writeFile(join(folder, 'readings/as-left.csv'), bytes);
  return folder;
}

beforeAll(async () => {
  place = await temporary();
  const folders = [
    ...(await Promise.all(
      accepted.map(([, bytes, , entry], i) => makeJob(idOf('Y', i), bytes, entry ?? {})),
    )),
    ...(await Promise.all(refused.map(([, bytes], i) => makeJob(idOf('N', i), bytes, {})))),
  ];
  const ran = await waysheet('report', ...folders, '--no-pdf', '--json', '--out', join(place, 'out'));
  expect(ran.status).toBe(3);
  for (const [i, outcome] of (JSON.parse(ran.out) as Reported[]).entries())
    outcomes.set(folders[i]!.split('/').at(-1)!, outcome);
}, 300_000);

/** Without line numbers; to a picometre, because what is read from inches is not the same to the last bit. */
const rounded = (value: unknown): unknown => {
  if (typeof value === 'number') return Math.round(value * 1e6) / 1e6 + 0;
  if (Array.isArray(value)) return value.map(rounded);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, inner]) => (key === 'row' ? [] : [[key, rounded(inner)]])),
  );
};

/**
 * What the report says but for the file itself: its hash, how it was written, its lines. Everything else that
 * comes out is made from results.json.
 */
async function meaningOf(id: string) {
  const results = JSON.parse(await readFile(join(place, 'out', id, 'results.json'), 'utf8')) as Results;
  const { inputs, excluded, job, ...rest } = results;
  expect(job).toBe(id);
  return {
    read: inputs.at(-1)!.read,
    meaning: { excluded: excluded.map(({ note }) => note), rest: rounded(rest) },
  };
}

describe('the same results', () => {
  test.each(accepted.map(([quirk, , read], i) => ({ quirk, read, id: idOf('Y', i) })))(
    '$quirk',
    async ({ quirk, read, id }) => {
      const { ok, diagnostics } = outcomes.get(id)!;
      // What the survey itself is told of, in every file; nothing is said of how the file is written.
      expect({ ok, said: diagnostics.map(({ code }) => code) }).toEqual({ ok: true, said: OF_THE_SURVEY });
      const found = await meaningOf(id);
      expect(found.read).toBe(read);
      // How far a machine could warm during the survey depends on the times themselves.
      const isTimed = quirk.includes('times with seconds');
      const shown = (value: unknown): unknown =>
        JSON.parse(
          JSON.stringify(value, (key, v: unknown) =>
            isTimed && (key === 'unstated' || key === 'holdsUpTo') ? undefined : v,
          ),
        );
      expect(shown(found.meaning)).toEqual(shown((await meaningOf(idOf('Y', 0))).meaning));
      // What was detected stands in the report.
      expect(await readFile(join(place, 'out', id, 'report.html'), 'utf8')).toContain(read);
    },
  );
});

describe('refused', () => {
  test.each(refused.map(([quirk, , diagnostics], i) => ({ quirk, diagnostics, id: idOf('N', i) })))(
    '$quirk',
    ({ diagnostics, id }) => {
      const { ok, out, diagnostics: found } = outcomes.get(id)!;
      expect(ok).toBe(false);
      expect(out).toBeNull();
      expect(existsSync(join(place, 'out', id))).toBe(false);
      const words = found.map(({ row, code, column }) =>
        `${row ?? undefined}: ${code} ${column ?? ''}`.trim(),
      );
      // One cause, one message: what is said alike of many rows may be said once (src/base/diagnostics/groups.ts).
      const cause = (text: string) => text.replace(/^\S+ /, '');
      expect(diagnostics).toEqual(expect.arrayContaining(words));
      expect(new Set(words.map(cause))).toEqual(new Set(diagnostics.map(cause)));
    },
  );
});
