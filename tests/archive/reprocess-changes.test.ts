/** Two reports of one job: what moved, what flipped, and why; and the list of it, with hostile texts harmless. */
import { createHash } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import * as fc from 'fast-check';
import { beforeAll, describe, expect, test, vi } from 'vitest';
import { buildChanges } from '../../src/archive/changes/build-changes.js';
import type { Report } from '../../src/archive/changes/causes.js';
import { changesCsv } from '../../src/archive/changes/changes-csv.js';
import { changesHtml } from '../../src/archive/changes/changes-html.js';
import { changesSchema, type JobChange } from '../../src/archive/changes/changes-schema.js';
import { blankChange, compareJob } from '../../src/archive/changes/compare-job.js';
import { MAX_LISTED } from '../../src/archive/changes/compare-figures.js';
import { digitsApart, hasMoved } from '../../src/archive/changes/moved.js';
import { originOf } from '../../src/pages/deliverables/content-key.js';
import { buildManifest } from '../../src/pages/deliverables/manifest.js';
import { solve } from '../../src/pipeline.js';
import { loadJob } from '../../src/solution/intake/load-job.js';
import { measuredText, reportUnits } from '../../src/results/words/format-quantity.js';
import { changeJob, copyOf } from '../support/folders.js';
import { shiftReading } from './batch-support.js';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

async function reportOf(folder: string): Promise<Report> {
  const loaded = await loadJob(folder);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.diagnostics));
  const results = await solve(loaded.value, loaded.diagnostics);
  const origin = originOf(results.inputs, false);
  const manifest = buildManifest(results, new Map(), null, new Map(), origin, loaded.value.digests);
  return { manifest, results: copied(results) };
}

const copied = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T;

const compare = (before: Report, after: Report): JobChange =>
  compareJob({ verdict: before.results.verdict, ...before, damage: [] }, after);

let plain: Report;
beforeAll(async () => (plain = await reportOf(await copyOf('TH-0412'))));

/** The same report, changed as a later version or another machine would have made it. */
function altered(change: (report: { -readonly [K in keyof Report]: Report[K] }) => void): Report {
  const report = copied(plain);
  change(report);
  return report;
}

/** A limit that TH-0412 fails, and that its survey can tell: the program asks about smaller ones. */
const tight = (what: string): number => (what === 'cross-level' ? 6 : 3);

async function rejudged(change: Parameters<typeof changeJob>[1], shift = 0): Promise<Report> {
  const folder = await copyOf('TH-0412');
  await changeJob(folder, change);
  if (shift !== 0) shiftReading(folder, shift);
  return reportOf(folder);
}

const first = (report: Report) => report.results.phases['as-left']!.characteristics[0]!;

describe('causes', () => {
  test('nothing', () => {
    expect(compare(plain, copied(plain))).toMatchObject({ status: 'same', causes: [], others: [] });
  });

  test('a reading: figures move, and nothing else is blamed', async () => {
    const change = compare(plain, await rejudged(() => undefined, 60));
    // changeJob wrote job.json in another layout, which is no change.
    expect(change).toMatchObject({ status: 'changed', causes: ['readings'], verdictCauses: ['readings'] });
    expect(change.verdict).toEqual({ before: 'conforms', after: 'does-not-conform' });
    expect(change.figures.causes).toEqual(['readings']);
    const height = change.figures.listed.find((f) => f.name === 'A:1' && f.quantity === 'height')!;
    expect(height.after!.value! - height.before!.value!).toBeCloseTo((60 / 2) * (8 / 9), 6); // one of two readings, from the mean of nine
    const flip = change.characteristics.find((c) => c.moved.includes('verdict'))!;
    expect(flip.moved).toEqual(expect.arrayContaining(['verdict', 'value', 'interval', 'probability']));
    expect(flip.moved).not.toContain('limit');
  });

  test('a limit in job.json: no figure of the survey moves, and the job file is not blamed', async () => {
    const change = compare(
      plain,
      await rejudged((job) => {
        for (const t of job.tolerances) t.limit = tight(t.what);
      }),
    );
    expect(change.causes).toEqual(['tolerances']);
    expect(change.figures.count).toBe(0);
    for (const c of change.characteristics) expect(c.moved).toContain('limit');
    expect(change.verdict.after).toBe('does-not-conform');
  });

  test('decision rule; coverage moves intervals', async () => {
    const guarded = await rejudged((job) => (job.decision = { rule: 'guarded', coverage: 0.95 }));
    const change = compare(plain, guarded);
    expect(change.causes.every((cause) => cause === 'decision')).toBe(true);
    const wide = compare(
      plain,
      await rejudged((job) => (job.decision = { rule: 'simple', coverage: 0.999 })),
    );
    expect(wide.causes).toEqual(['decision']);
    expect(wide.characteristics.some((c) => c.moved.includes('interval'))).toBe(true);
    expect(wide.characteristics.some((c) => c.moved.includes('value'))).toBe(false);
  });

  test('another instrument: the job file', async () => {
    const change = compare(plain, await rejudged((job) => (job.instruments[0].reading.u *= 3)));
    expect(change.causes).toEqual(['job-file']);
  });

  test('method, software, template', () => {
    const method = altered(({ results }) => {
      results.software.method = '2099-01';
      first({ ...plain, results }).u! *= 2;
    });
    expect(compare(plain, method).causes).toEqual(['method']);
    const software = altered(({ results }) => (results.software.version = '9.9.9'));
    expect(compare(plain, software)).toMatchObject({ status: 'redrawn', causes: ['software'] });
    const template = altered(({ manifest }) => (manifest.templates = 'other'));
    expect(compare(plain, template)).toMatchObject({ status: 'redrawn', causes: ['template'] });
  });

  test('another customer on the cover: the job file, and where', async () => {
    const change = compare(plain, await rejudged((job) => (job.customer = 'Other Yard (invented)')));
    expect(change).toMatchObject({ status: 'redrawn', causes: ['job-file'] });
    expect(change.others).toEqual([
      { part: 'subject', count: 1, first: expect.objectContaining({ place: 'subject.customer' }) as object },
    ]);
  });

  test('a figure that moved although nothing recorded differs', () => {
    const odd = altered((report) => (first(report).value! += 50));
    expect(compare(plain, odd)).toMatchObject({ status: 'changed', causes: ['unknown'] });
    const text = altered(({ results }) => (results.warnings = []));
    expect(
      compare(
        text,
        altered(({ results }) => (results.warnings = [aWarning])),
      ).causes,
    ).toEqual(['unknown']);
  });

  test('several at once are several; a verdict names those that alone would have flipped it', async () => {
    const both = await rejudged((job) => {
      for (const t of job.tolerances) t.limit = tight(t.what);
    }, 0.9);
    const change = compare(plain, both);
    expect(change.causes).toEqual(['readings', 'tolerances']);
    // The reading moved too little to flip anything.
    expect(change.verdictCauses).toEqual(['tolerances']);
    const c = change.characteristics.find(
      ({ what, rail, reference }) =>
        what === 'straightness-vertical' && rail === 'A' && reference === 'least-squares',
    )!;
    expect(c.moved).toEqual(expect.arrayContaining(['verdict', 'value', 'limit']));
    expect(c.causes).toEqual(['readings', 'tolerances']);
    expect(c.verdictCauses).toEqual(['tolerances']);

    // The new value is too large for the old limit, the old value for the new one: each would have done it.
    const [before, after] = [altered(() => undefined), altered(() => undefined)];
    const flips = { limit: 1, verdict: 'does-not-conform', value: first(before).limit! + 50 } as const;
    Object.assign(first(after), flips);
    // Without what was judged, as documents before 0.6.0: value and limit decide.
    delete first(before).judged;
    delete first(after).judged;
    after.results.inputs.at(-1)!.sha256 = 'other';
    after.manifest.digests!.tolerances = 'other';
    expect(compare(before, after).characteristics[0]!.verdictCauses).toEqual(['readings', 'tolerances']);
  });

  test('a report of an early version, without digests: limits and the file itself tell', async () => {
    const early = altered(({ manifest }) => delete manifest.digests);
    const change = compare(
      early,
      await rejudged((job) => {
        for (const t of job.tolerances) t.limit = tight(t.what);
      }),
    );
    expect(change.verdictCauses).toEqual(['job-file', 'tolerances']);
  });
});

const aWarning = { code: 'X', file: null, row: null, column: null, message: 'x' };

describe('moved', () => {
  const units = [
    reportUnits({ length: 'mm', deviation: 'um', slope: 'um/m' }).deviation,
    reportUnits({ length: 'in', deviation: 'thou', slope: 'thou/ft' }).deviation,
  ];

  test('what moved by less than half a printed digit prints at most one digit apart; what moved, says so', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e4, max: 1e4, noNaN: true }),
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.constantFrom(...units),
        (value, u, step, unit) => {
          const printed = { unit, k: 2 };
          const digit = 1 / digitsApart(0, 1, u, printed);
          const after = value + step * digit;
          const digits = digitsApart(value, after, u, printed);
          expect(digits).toBeCloseTo(Math.abs(step), 6);
          const text = (x: number) =>
            Number(
              measuredText(x, 2 * u, unit)
                .value.replace('\u2212', '-')
                .replaceAll('\u202f', ''),
            );
          const apart = Math.abs(text(value) - text(after)) / (unit.fromBase(1) * digit);
          if (!hasMoved(digits)) expect(apart).toBeLessThan(1.001);
          else if (Math.abs(step) > 1.001) expect(apart).toBeGreaterThan(0.999);
        },
      ),
    );
  });

  test('half a digit is rounding, more is not', () => {
    const u = first(plain).u!;
    const digit = 1 / digitsApart(0, 1, u, { unit: units[0]!, k: 2 });
    const by = (digits: number) =>
      compare(
        plain,
        altered((report) => (first(report).value! += digits * digit)),
      ).characteristics.length;
    expect([0.4, -0.4, 0.6, -0.6].map(by)).toEqual([0, 0, 1, 1]);
  });

  test('a value that is no longer determined, and one that is asked for no more', () => {
    const change = compare(
      plain,
      altered((report) => {
        const made = report.results.phases['as-left']!.characteristics;
        Object.assign(made[0]!, { value: null, u: null, interval: null, probability: null, why: 'x' });
        made.pop();
      }),
    );
    expect(change.characteristics).toHaveLength(2);
    expect(change.characteristics[0]!.moved).toEqual(['value', 'u', 'interval', 'probability']);
    expect(change.characteristics[1]!.after).toBeNull();
  });

  test('of very many figures the most moved are listed, and all are counted', () => {
    const change = compare(
      plain,
      altered(({ results }) => {
        const { stations } = results.phases['as-left']!;
        const station = stations[0]!;
        for (let n = 100; n < 500; n++)
          stations.push({ ...copied(station), station: n, height: { value: n, u: 1 } });
      }),
    );
    expect(change.figures.count).toBeGreaterThan(MAX_LISTED);
    expect(change.figures.listed).toHaveLength(MAX_LISTED);
  });
});

describe('the list', () => {
  const hostile = '=HYPERLINK("http://x")<img src=x onerror=alert(1)></td>&"\'\u202e';
  const about = {
    software: { name: 'waysheet', version: '0', method: 'm' },
    against: hostile,
    isComplete: false,
    whatIf: hostile,
  } as const;

  test('counted, sorted, and what no script or formula can come from', async () => {
    const changed = compare(plain, await rejudged(() => undefined, 60));
    const blank = blankChange(hostile, null, null);
    const changes = buildChanges(about, [
      { ...blank, status: 'vanished', damage: [hostile] },
      { ...blank, job: '-1+2', status: 'not-reported', note: hostile },
      { ...changed, job: 'J-2', others: [{ part: hostile, count: 1, first: { place: hostile, before: '', after: '' } }] },
      { ...compare(plain, altered(({ manifest }) => (manifest.templates = 'x'))), job: 'J-1' },
      compare(plain, plain),
      { ...compare(plain, plain), job: 'J-3', damage: ['stations.csv is missing'] },
    ]); // prettier-ignore
    expect(changesSchema.safeParse(changes).success).toBe(true);
    expect(changes.jobs.map(({ job }) => job)).toEqual(['-1+2', hostile, 'J-1', 'J-2', 'J-3']);
    expect(changes.counts).toEqual({
      compared: 4, flipped: 1, changed: 1, redrawn: 1, same: 2, appeared: 0, vanished: 1, notReported: 1,
      notCompared: 0, damaged: 2,
    }); // prettier-ignore
    expect(changes.byCause.map(({ cause, jobVerdicts }) => [cause, jobVerdicts])).toEqual([
      ['readings', 1],
      ['template', 0],
    ]);

    const html = changesHtml(changes);
    expect(html.match(/<script/g)).toHaveLength(1);
    expect(html).not.toMatch(/<img|onerror=alert\(1\)>|\u202e/);
    expect(html.match(/(?:href|src)="(?!\.\/J-)/g)).toBeNull();
    expect(html).toMatch(/Because of: readings \(\d+\)/);
    expect(html).toContain('The run was stopped');
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(html)![1]!.replaceAll('&#x3D;', '=');
    const script = /<script>([\s\S]*)<\/script>/.exec(html)![1]!;
    expect(policy).toContain(`'sha256-${createHash('sha256').update(script).digest('base64')}'`);

    const lines = parse(changesCsv(changes)) as string[][];
    for (const cell of lines.flat()) expect(cell).not.toMatch(/^[=+@\t\r]|^-(?![\d.]+$)/);
    const rows = lines
      .slice(1)
      .map((line) => Object.fromEntries(lines[0]!.map((name, i) => [name, line[i]!])));
    const height = rows.find((r) => r['job'] === 'J-2' && r['name'] === 'A:1' && r['quantity'] === 'height')!;
    const listed = changed.figures.listed.find((f) => f.name === 'A:1' && f.quantity === 'height')!;
    expect(Number(height['value_before'])).toBe(listed.before!.value);
    expect(Number(height['value_after'])).toBe(listed.after!.value);
    expect(rows.filter((r) => r['of'] === 'characteristic')).toHaveLength(changed.characteristics.length);
  });

  test('Letter where most reports are', () => {
    const change = compare(
      plain,
      altered(({ manifest }) => (manifest.templates = 'x')),
    );
    const onLetter = { ...change, style: { ...change.style!, paper: 'Letter' as const } };
    expect(changesHtml(buildChanges(about, [onLetter]))).toContain('size: letter landscape');
    expect(changesHtml(buildChanges(about, [change]))).toContain(
      'size: A4 landscape; }\n</style>'.slice(0, 20),
    );
  });
});
