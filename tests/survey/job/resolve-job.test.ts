/** Units, signs, defaults and places of a sound job. */
import { sample } from '../../support/folders.js';
import { loadJob } from '../../../src/solution/intake/load-job.js';
import { limitOver } from '../../../src/survey/job/growing-limit.js';
import { expect, test } from 'vitest';
import type { Job } from '../../../src/survey/job/job.js';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { parseJob } from '../../support/read-job.js';
import { resolveJob } from '../../../src/survey/job/resolve-job.js';
import { madeUpJob } from './made-up-job.js';

function settled(change: (job: JobInput) => void = () => undefined): Job {
  const input = madeUpJob();
  change(input);
  const outcome = resolveJob(input);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.diagnostics));
  return outcome.value;
}

test('stations are numbered from 1 and stand in mm in the frame of the machine', () => {
  const { rails, datum } = settled();
  expect(datum.id).toBe('A');
  expect(rails[0]!.stations[20]).toEqual({ number: 21, alongMm: 10000, acrossMm: 0 });
  expect(rails[1]!.stations[3]).toEqual({ number: 4, alongMm: 1500, acrossMm: 3200 });
  expect(rails[2]!.stations[1]).toEqual({ number: 2, alongMm: 10500, acrossMm: 800 });
});

test('the datum rail lies at 0 across where it does not say', () => {
  expect(settled((j) => delete j.rails[0]!.across).datum.stations[0]!.acrossMm).toBe(0);
});

test('a job in inches: lengths by 25.4, report in inches and thousandths on Letter', () => {
  const job = settled((j) => {
    j.units = { length: 'in', reading: 'thou' };
    j.rails[1]!.across = 126;
    j.instruments[0]!.reading = { u: 0.1, perMetre: 0.02, unit: 'thou' };
  });
  expect(job.rails[1]!.stations[0]!.acrossMm).toBeCloseTo(3200.4, 10);
  expect(job.instruments[0]!.readingU).toBeCloseTo(2.54, 12);
  expect(job.instruments[0]!.perMetreU).toBeCloseTo(0.508, 12);
  expect(job.style).toEqual({ length: 'in', deviation: 'thou', slope: 'thou/ft', paper: 'Letter' });
});

// JCGM 100:2008, F.2.2.1: a resolution of δx contributes 0.29·δx.
test('the step of a display is a part of the uncertainty of a reading', () => {
  const coarse = settled((j) => {
    j.instruments[0]!.reading = { u: 3, resolution: 10, unit: 'um' };
  }).instruments[0]!;
  expect(coarse.readingU).toBeCloseTo(Math.hypot(3, 2.887), 3);
  expect(coarse.resolution).toBe(10);
  expect(settled().instruments[0]!.resolution).toBeNull();
});

test('metric jobs are reported in µm and µm/m on A4; what the job says counts', () => {
  expect(settled().style).toEqual({ length: 'mm', deviation: 'um', slope: 'um/m', paper: 'A4' });
  expect(settled((j) => (j.report = { deviation: 'mm', paper: 'Letter' })).style).toMatchObject({
    deviation: 'mm',
    slope: 'um/m',
    paper: 'Letter',
  });
});

test('one arc second is 4.848 µm/m', () => {
  expect(settled().instruments[0]!.levelU).toBeCloseTo(4.848137, 6);
});

test('plus: up, left and ahead unless the set-up says otherwise', () => {
  const { setups } = settled(
    (j) => (j.setups![1]!.plus = { vertical: 'down', horizontal: 'right', along: 'back' }),
  );
  expect(setups[0]!.sign).toEqual({ vertical: 1, horizontal: 1, along: 1 });
  expect(setups[1]!.sign).toEqual({ vertical: -1, horizontal: -1, along: -1 });
});

test('°F become °C; one temperature is both ends', () => {
  const job = settled((j) => (j.conditions = { temperature: { from: 68, unit: 'F' } }));
  expect(job.conditions.temperatureC).toEqual({ from: 20, to: 20 });
});

test('simple acceptance at 0.95 unless the job says otherwise', () => {
  expect(settled().decision).toEqual({ rule: 'simple', coverage: 0.95, guardBand: 1 });
});

test('tolerances stand in µm and µm/m and know their line', () => {
  const text = JSON.stringify(
    { ...madeUpJob(), tolerances: [{ what: 'twist', limit: 0.02, unit: 'mm/m' }] },
    null,
    1,
  );
  const job = parseJob(text);
  if (!job.ok) throw new Error(JSON.stringify(job.diagnostics));
  const [tolerance] = job.value.toleranceSet.tolerances;
  expect(limitOver(tolerance!.limit!, 1)).toBeCloseTo(20, 12);
  const line = text.split('\n').findIndex((l) => l.includes('"twist"'));
  expect(tolerance!.at).toEqual({ file: 'job.json', row: line, column: 'tolerances[0]' });
});

test('a limit that grows: pro rata from upTo on, at most `most`, lengths in the job’s unit', () => {
  const limit = { upTo: 1000, limit: 20, more: { each: 1000, limit: 5 }, most: 50 };
  const inMm = settled((j) => (j.tolerances = [{ what: 'straightness-vertical', limit, unit: 'um' }]));
  const at = (mm: number) => limitOver(inMm.toleranceSet.tolerances[0]!.limit!, mm);
  expect([500, 1000, 1500, 4000, 7000, 9000].map(at)).toEqual([20, 20, 22.5, 35, 50, 50]);
  const inMetres = settled((j) => {
    j.units.length = 'm';
    j.tolerances = [
      {
        what: 'straightness-vertical',
        limit: { ...limit, upTo: 1, more: { each: 1, limit: 5 } },
        unit: 'um',
      },
    ];
  });
  expect(limitOver(inMetres.toleranceSet.tolerances[0]!.limit!, 4000)).toBe(35);
});

test('a shared set brings its name, its source and its own lines', () => {
  const set = {
    name: 'Bed rails',
    source: 'works standard',
    tolerances: [{ what: 'twist', limit: 10, unit: 'um/m' }],
  };
  const job = parseJob(JSON.stringify({ ...madeUpJob(), tolerances: '../tolerances/bed.json' }), {
    file: '../tolerances/bed.json',
    text: JSON.stringify(set, null, 1),
  });
  if (!job.ok) throw new Error(JSON.stringify(job.diagnostics));
  expect(job.value.toleranceSet).toMatchObject({
    name: 'Bed rails',
    source: 'works standard',
    file: '../tolerances/bed.json',
  });
  expect(job.value.toleranceSet.tolerances[0]!.at).toMatchObject({ file: '../tolerances/bed.json', row: 5 });
});

test('a job is plain data: written and read again, it is the same', async () => {
  for (const id of ['TH-2031', 'TH-4520']) {
    const loaded = await loadJob(sample(id));
    if (!loaded.ok) throw new Error('refused');
    expect(structuredClone(loaded.value.job)).toEqual(loaded.value.job);
  }
});
