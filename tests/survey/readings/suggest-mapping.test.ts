/** A draft of a mapping for headers that are not known, and that it reads the file when it is put into job.json. */
import { rename } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe as group, expect, test } from 'vitest';
import type { JobInput } from '../../../src/survey/job/job-schema.js';
import { inspectJob } from '../../../src/solution/intake/load-job.js';
import { loadFiles as loadJob } from '../../support/load-files.js';
import { conceptsOf, headerWords } from '../../../src/survey/readings/suggest/header-words.js';
import { jobFolder } from '../job/made-up-job.js';

type Change = (job: JobInput) => void;
const oneSetup: Change = (job) => (job.setups = job.setups!.slice(0, 1));

async function suggest(csv: string, change: Change = oneSetup) {
  const { suggestions } = await inspectJob(await jobFolder(csv, change));
  return suggestions[0] ?? null;
}

/** The readings by the suggested entry, or what is against it. */
async function readBy(csv: string, entry: object, change: Change = oneSetup) {
  const folder = await jobFolder(csv, (job) => {
    change(job);
    job.readings = [entry as JobInput['readings'][number]];
  });
  const outcome = await loadJob(folder);
  return outcome.ok
    ? outcome.value.readings.phases.get('as-left')!.map((r) => ({ ...r, source: undefined }))
    : outcome.diagnostics.map((d) => d.code);
}

const FILE = { file: 'readings/as-left.csv', phase: 'as-left' };

/** Files whose draft is complete: it reads them as the plain file is read. */
const PLAIN = 'setup,rail,station,pass,vertical,horizontal\nS1,A,1,1,3.1,-1.2\nS1,A,2,1,4.5,0.5\n';
const complete: [string, string][] = [
  ['abbreviations', 'Set-up;Track;Stn No.;Trial;Vert.;Horiz.\nS1;A;1;1;3,1;-1,2\nS1;A;2;1;4,5;0,5\n'],
  [
    'other words',
    'Instrument position,Guideway,Point,Run,Height,Lateral\nS1,A,1,1,3.1,-1.2\nS1,A,2,1,4.5,0.5\n',
  ],
  [
    'words run together',
    'SetupId,RailId,StationNo,PassNo,VerticalReading,HorizontalReading\nS1,A,1,1,3.1,-1.2\nS1,A,2,1,4.5,0.5\n',
  ],
  [
    'words with underlines and units',
    'set_up,rail_id,pos (m),run_no,v_um,h_um\nS1,A,0,1,3.1,-1.2\nS1,A,0.5,1,4.5,0.5\n',
  ],
  ['slips of the pen', 'setup,rial,station,pass,vertcal,horizontl\nS1,A,1,1,3.1,-1.2\nS1,A,2,1,4.5,0.5\n'],
  [
    'no set-up, where the job has but one',
    'rail,station,pass,vertical,horizontal\nA,1,1,3.1,-1.2\nA,2,1,4.5,0.5\n',
  ],
  ['a column for each rail and plane', 'Station,A V,A H\n1,3.1,-1.2\n2,4.5,0.5\n'],
  ['the same, run together', 'Station,AV1,AH1\n1,3.1,-1.2\n2,4.5,0.5\n'],
  ['groups above the header', 'Bed survey,,\n,Rail A,\nStation,V,H\n1,3.1,-1.2\n2,4.5,0.5\n'],
  ['axis codes', 'Rail,Stn,Plane,Reading\nA,1,V,3.1\nA,1,H,-1.2\nA,2,V,4.5\nA,2,H,0.5\n'],
  [
    'titles above',
    'Job 17\nDate of survey: Monday\n\nRail,Stn,Vert,Horiz,Temp\nA,1,3.1,-1.2,20\nA,2,4.5,0.5,20\n',
  ],
  ['positions in another unit', 'Rail,Distance [in],Vert,Horiz\nA,0,3.1,-1.2\nA,19.685,4.5,0.5\n'],
  [
    'German',
    'Schiene;Messpunkt;Durchgang;Höhe [µm];Seitlich [µm];Bemerkung\nA;1;1;3,1;-1,2;\nA;2;1;4,5;0,5;\n',
  ],
  ['French', 'Glissière;Poste;Passe;Hauteur (µm);Latérale (µm)\nA;1;1;3,1;-1,2\nA;2;1;4,5;0,5\n'],
  ['Spanish', 'Carril;Estación;Pasada;Altura;Horizontal;Observaciones\nA;1;1;3,1;-1,2;\nA;2;1;4,5;0,5;\n'],
  ['Italian', 'Rotaia;Stazione;Passata;Altezza;Orizzontale\nA;1;1;3,1;-1,2\nA;2;1;4,5;0,5\n'],
  [
    'sums and a line to sign below',
    'Stn,A V,A H\n1,3.1,-1.2\n2,4.5,0.5\nMean,3.8,-0.35\nMax.,4.5,0.5\nChecked by: J. M.,,\n',
  ],
  ['units in words', 'Rail,Stn,Vert (microns),Horiz (microns)\nA,1,3.1,-1.2\nA,2,4.5,0.5\n'],
];

test.each(complete)('%s: the draft reads the file', async (_, csv) => {
  const suggestion = await suggest(csv);
  expect(suggestion?.open).toEqual([]);
  expect(await readBy(csv, suggestion!.entry)).toEqual(await readBy(PLAIN, FILE));
});

group('what the draft says', () => {
  test('all rails and passes of a wide sheet, both planes', async () => {
    const heads = ['A', 'B'].flatMap((rail) =>
      ['1', '2'].flatMap((pass) => [`${rail} V${pass}`, `${rail} H${pass}`]),
    );
    const csv = `Stn,${heads.join(',')}\n1,${heads.map((_, k) => k + 0.5).join(',')}\nMean,${heads.map(() => 1).join(',')}\n`;
    const suggestion = await suggest(csv);
    expect(suggestion!.entry).toMatchObject({
      rows: ['A', 'B'].flatMap((rail) =>
        ['1', '2'].map((pass) => ({
          columns: { vertical: `${rail} V${pass}`, horizontal: `${rail} H${pass}` },
          values: { rail, pass },
        })),
      ),
      ignoreRows: ['Mean'],
    });
    expect(await readBy(csv, suggestion!.entry)).toHaveLength(8);
  });

  test('no row of readings is taken for the header', async () => {
    expect(await suggest('S1,A,V,3.1\nS1,A,H,-1.2\nS1,A,V,4.5\n')).toBeNull();
  });

  test('a wide sheet: rows, and what could not be placed', async () => {
    const suggestion = await suggest(
      'Stn No.,A P1,A P2,B P1,B P2,Remarks,Operator,Mean\n1,3.1,3.2,1,1.1,ok,JM,2\n',
      () => undefined,
    );
    expect(suggestion).toEqual({
      file: 'readings/as-left.csv',
      row: 1,
      entry: {
        ...FILE,
        columns: { station: 'Stn No.', note: 'Remarks' },
        values: { setup: '?', axis: '?' },
        rows: [
          { columns: { reading: 'A P1' }, values: { rail: 'A', pass: '1' } },
          { columns: { reading: 'A P2' }, values: { rail: 'A', pass: '2' } },
          { columns: { reading: 'B P1' }, values: { rail: 'B', pass: '1' } },
          { columns: { reading: 'B P2' }, values: { rail: 'B', pass: '2' } },
        ],
        ignore: ['Operator', 'Mean'],
      },
      open: ['setup: one of S1, S2', 'axis: one of vertical, horizontal, along'],
      unplaced: ['Operator', 'Mean'],
    });
  });

  test('what it leaves open is refused as it stands', async () => {
    const csv = 'Stn No.,A P1,A P2\n1,3.1,3.2\n';
    expect(await readBy(csv, (await suggest(csv))!.entry)).toEqual(['VALUE_WRONG']);
  });

  test('a unit that may be two, a day that may be a month', async () => {
    const suggestion = await suggest('Rail,Stn,Date,Vert (mils)\nA,1,03/04/2026,3.1\n');
    expect(suggestion!.entry).toMatchObject({
      columns: { date: 'Date', vertical: { column: 'Vert (mils)', unit: '?' } },
      dates: '?',
    });
    expect(suggestion!.open).toEqual([
      'the unit of "Vert (mils)": mils may mean more than one',
      'dates: day-month or month-day',
    ]);
    expect((await suggest('Rail,Stn,Date,Vert\nA,1,03/14/2026,3.1\n'))!.entry).toMatchObject({
      dates: 'month-day',
    });
  });

  test('rails by their names', async () => {
    const suggestion = await suggest('Stn,North vert,South vert\n1,3.1,3.2\n', (job) => {
      oneSetup(job);
      job.rails[0]!.name = 'North rail';
      job.rails[1]!.name = 'South rail';
    });
    expect(suggestion!.entry).toMatchObject({
      rows: [
        { columns: { vertical: 'North vert' }, values: { rail: 'A' } },
        { columns: { vertical: 'South vert' }, values: { rail: 'B' } },
      ],
    });
  });

  test('levels and tapes', async () => {
    const slope = await suggest('From,To,Rail,Tilt\n1,2,A,3.5\n2,3,A,4.5\n', (job) => {
      Object.assign(job.readings[0]!, { kind: 'slope', instrument: 'E1', unit: 'um/m' });
    });
    expect(slope!.entry).toEqual({
      ...FILE,
      kind: 'slope',
      instrument: 'E1',
      unit: 'um/m',
      columns: { from_rail: 'Rail', from_station: 'From', to_rail: 'Rail', to_station: 'To', slope: 'Tilt' },
      values: { axis: '?' },
    });
    const span = await suggest('Stn,Gauge\n1,3200.1\n', (job) => {
      Object.assign(job.readings[0]!, { kind: 'span', instrument: 'T1', unit: 'mm' });
      job.rails = job.rails.slice(0, 2);
    });
    expect(span!.entry).toMatchObject({
      columns: { station: 'Stn', span: 'Gauge' },
      values: { rail: 'A', other: 'B' },
    });
  });

  test('nothing where the file tells nothing, where its columns are ours, or where they are mapped', async () => {
    expect(await suggest('1,2,3\n4,5,6\n')).toBeNull();
    expect(await suggest('')).toBeNull();
    expect(await suggest(PLAIN)).toBeNull();
    const mapped: Change = (job) => {
      oneSetup(job);
      job.readings[0]!.columns = { station: 'Stn' };
    };
    expect(await suggest('Rail,Station,Vert\nA,1,3\n', mapped)).toBeNull();
  });
});

group('a draft loses nothing', () => {
  const asked = async (csv: string, change?: Change) => {
    const { entry, open, unplaced } = (await suggest(csv, change))!;
    return { entry: JSON.stringify(entry), open: open.join('\n'), unplaced };
  };

  // "Step", "difference" and "increment" in the languages whose words the drafts know.
  test.each(
    [
      'vertical step',
      'Height difference',
      'V increment',
      'Höhendifferenz',
      'Höhe Stufe',
      'Höhenunterschied',
      'Pas vertical',
      'Différence de hauteur',
      'Diferencia altura',
      'Paso vertical',
      'Differenza altezza',
      'Incremento verticale',
      'Dislivello',
    ].map((header) => [header]),
  )('"%s" may be changes from station to station: asked, neither mapped nor left out', async (header) => {
    const { entry, open } = await asked(`rail;stn;${header} (µm)\nA;1;3,1\nA;2;4,2\nA;3;2,2\n`);
    expect(open).toContain(header);
    expect(entry).not.toContain(header);
  });

  test('"step" that counts the stations is the station', async () => {
    const { entry } = (await suggest('rail,step,vertical\nA,1,3.1\nA,2,4.2\n'))!;
    expect(entry).toMatchObject({ columns: { station: 'step' } });
  });

  test('a German sheet keeps its sideways readings and its targets', async () => {
    const csv = 'Schiene;Messpunkt;Höhe (µm);Seite (µm);Zieltafel\nA;1;3,1;4,2;T1\nA;2;4,2;4,4;T2\n';
    const { entry, open } = (await suggest(csv))!;
    expect(open).toEqual([]);
    expect(entry).toMatchObject({
      columns: { vertical: 'Höhe (µm)', horizontal: 'Seite (µm)', target: 'Zieltafel' },
    });
  });

  test(
    'whatever a column of numbers is called, it is never left out without a question',
    { timeout: 60_000 },
    async () => {
      const word = fc.string({
        unit: fc.constantFrom(...'abcdefghijklmnopqrstuvwxyzäöüé '),
        minLength: 2,
        maxLength: 12,
      });
      await fc.assert(
        fc.asyncProperty(word, async (name) => {
          const header = name.trim().replace(/\s+/g, ' ') || 'x';
          const suggestion = await suggest(`rail,stn,vertical,${header}\nA,1,3.1,4.75\nA,2,4.2,-2.25\n`);
          const ignored = (suggestion?.entry['ignore'] ?? []) as string[];
          // Names that say what is no reading, such as "mean", are left out, and that is said.
          if (ignored.includes(header))
            expect(headerWords(header).words.some((said) => conceptsOf(said).has('aside'))).toBe(true);
        }),
        { numRuns: 150, examples: [['nö'], ['höhe'], ['no'], ['mean']] },
      );
    },
  );

  test('codes that tell rows apart are asked about; one name in every row is not', async () => {
    const csv = (k: string) =>
      `rail,stn,vertical,Tx\n${[1, 2, 3, 4].map((n) => `A,${n},3.${n},${k === '' ? 'JM' : `${k}${n % 2}`}\n`).join('')}`;
    expect((await asked(csv('T'))).open).toContain('"Tx" holds (T1, T0)');
    expect((await asked(csv(''))).unplaced).toEqual(['Tx']);
  });
});

group('what a file is called', () => {
  const named = async (file: string) => {
    const folder = await jobFolder('stn,vertical\n1,3.1\n2,4.2\n', (job) => {
      oneSetup(job);
      job.readings[0]!.file = file;
    });
    await rename(join(folder, 'readings/as-left.csv'), join(folder, file));
    return (await inspectJob(folder)).suggestions[0]!.entry;
  };

  test.each([
    'readings/rail-B.csv',
    'readings/as-left-B.csv',
    'readings/Schiene B.csv',
    'readings/B.csv',
    'readings/b_rail_B.csv',
  ])('%s is of rail B', async (file) => {
    expect(await named(file)).toMatchObject({ values: { rail: 'B' } });
  });

  test.each(['readings/left.csv', 'readings/a survey.csv', 'readings/rail A and rail B.csv'])(
    '%s tells no rail',
    async (file) => {
      expect(await named(file)).toMatchObject({ values: { rail: '?' } });
    },
  );
});

group('stations as columns', () => {
  test('are named as what they are, read by the draft, and the way to turn the sheet is told', async () => {
    const csv = 'Rail,Plane,1,2,3\nA,V,3.1,4.5,2.5\nA,H,-1.2,0.5,0.7\n';
    const suggestion = (await suggest(csv))!;
    expect(suggestion.open).toEqual([]);
    expect(suggestion.notes!.join()).toMatch(/stations are the columns .*transpose/);
    const turned = 'rail,station,vertical,horizontal\nA,1,3.1,-1.2\nA,2,4.5,0.5\nA,3,2.5,0.7\n';
    const plain = { ...FILE, values: { setup: 'S1' } };
    const inOrder = (list: unknown) => [...(list as object[])].map((r) => JSON.stringify(r)).sort();
    expect(inOrder(await readBy(csv, suggestion.entry))).toEqual(inOrder(await readBy(turned, plain)));
  });

  test('places for names: their unit is not that of the readings', async () => {
    const csv = 'Rail,Plane,0 mm,500 mm,1000 mm\nA,V,3.1,4.5,2.5\n';
    const read = (await readBy(csv, (await suggest(csv))!.entry)) as { um: number }[];
    expect(read.map(({ um }) => um)).toEqual([3.1, 4.5, 2.5]);
  });

  test('numbered passes are no stations', async () => {
    const { entry } = (await suggest('Stn,P1,P2,P3\n1,3.1,3.2,3.3\n2,4.1,4.2,4.3\n'))!;
    expect(JSON.stringify(entry)).toContain('"pass":"3"');
    const plain = await suggest('Stn,1,2,3\n1,3.1,3.2,3.3\n2,4.1,4.2,4.3\n');
    expect(JSON.stringify(plain)).not.toContain('"station":"3"');
  });
});

test('any text at all: never a crash', { timeout: 120_000 }, async () => {
  let runs = 0;
  const word = fc.constantFrom(
    'V',
    'H',
    'Rail',
    'A',
    'P1',
    'Stn',
    'rail',
    'No.',
    '(mm)',
    'Date',
    '',
    '?',
    '1',
    '"',
    ',',
    ';',
    '\n',
    '__proto__',
    'S1',
    '3,1',
    '14/03/2026',
  );
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.oneof(word, fc.string({ maxLength: 5 })), { maxLength: 40 }),
      async (words) => {
        runs++;
        const suggestion = await suggest(words.join(runs % 2 === 0 ? ',' : ' ,'));
        JSON.stringify(suggestion);
      },
    ),
    { numRuns: 300 },
  );
  console.log(`suggestions: ${runs} cases`);
});

test('dates with times are the time, whatever their column is called', async () => {
  const csv = 'rail,station,vertical,Zeitpunkt\nA,1,3.1,14.03.2026 08:12\nA,2,4.5,14.03.2026 08:13\n';
  const suggestion = (await suggest(csv))!;
  expect(suggestion.entry).toMatchObject({ columns: { time: 'Zeitpunkt' }, dates: 'day-month' });
  expect(await readBy(csv, suggestion.entry)).toMatchObject([
    { time: '2026-03-14T08:12', um: 3.1 },
    { time: '2026-03-14T08:13', um: 4.5 },
  ]);
});

test('a file without our header: the message shows the line that looks like one', async () => {
  const { diagnostics } = await inspectJob(
    await jobFolder('Export;;\nDate;14.03.2026;\n\nStn;V1;H1\n1;3,1;-1,2\n', oneSetup),
  );
  expect(diagnostics).toMatchObject([
    { code: 'CSV_COLUMN_MISSING', at: { row: 4 }, data: { found: 'Stn, V1, H1' } },
  ]);
});
