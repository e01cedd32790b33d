/** What the report says, before it is laid out. */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Results } from '../../../src/results/results-schema.js';
import type { Table } from '../../../src/pages/report/table.js';
import { documentTitle } from '../../../src/pages/report/document-title.js';
import { en } from '../../../src/pages/words/en.js';
import { catalogueOf } from '../../../src/pages/words/languages.js';
import { missingGlyphs } from '../../../src/pages/fonts/widths.js';
import { viewModel } from '../../../src/pages/report/view-model.js';
import { thinStations } from '../../../src/pages/report/sections/thin.js';
import { phasesOf } from '../../../src/pages/report/figures.js';
import {
  characteristic,
  crossRailResults,
  fixtureCharts,
  hostileResults,
  inchResults,
  sparseResults,
  undecidedResults,
  usualResults,
} from './view-model-fixtures.js';
import { copyOf, resultsOf } from '../../support/folders.js';

/** What its sections show. */
function view(results: Results, missing?: Parameters<typeof viewModel>[2]) {
  const { parts, ...shared } = viewModel(results, fixtureCharts(results), missing);
  const { survey, checks, method, moves, stations } = parts;
  return {
    ...shared,
    ...parts.results!,
    ...{ survey: survey!, checks: checks!, method: method!, moves },
    others: parts.results!.unjudged ?? method!.others,
    stations: stations?.tables ?? [],
  };
}
/** Where a tolerance is not met, with a move: else nothing is to be moved. */
const outside = (results: Results): Results => ({
  ...results,
  verdict: 'does-not-conform',
  corrections: {
    ...results.corrections,
    status: 'best',
    of: 'stations',
    want: 'fewest-moves',
    margin: 0,
    gap: 0,
    moves: [{ adjuster: 'A:2', rail: 'A', along: 500, axis: 'vertical', move: 20, unit: 'um' }],
    predicted: [],
  },
});
const plainText = (text: string) => text.replace(/\u00a0/g, ' ');
const rowsOf = (table: Table) =>
  table.groups.flatMap(({ title, rows }) =>
    rows.map(({ cells }) => [title, ...cells.map(({ text }) => plainText(text).trimEnd())]),
  );

const documents: [string, Results][] = [
  ['usual', usualResults()],
  ['sparse', sparseResults()],
  ['inch', inchResults()],
  ['hostile', hostileResults()],
  ['undecided', undecidedResults()],
  ['cross rail', crossRailResults()],
  ['as found only', usualResults({ phases: ['as-found'] })],
  ['long', usualResults({ stations: 1500, spacingMm: 100 })],
];

/** Every text that reaches the templates. */
function texts(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  if (value !== null && typeof value === 'object') return Object.values(value).flatMap(texts);
  return [];
}

describe.each(documents)('%s', (_, results) => {
  test('says nothing that is not words or figures', () => {
    const all = texts({ ...view(results), machine: [], charts: [], annexPictures: [] }).join('\n');
    expect(all).not.toMatch(/undefined|NaN|null|Infinity|\[object/);
  });
  test('writes minus signs as minus signs', () => {
    const tables = [view(results).tolerances, view(results).others, ...view(results).stations];
    const figures = tables
      .flatMap((table) => table?.groups ?? [])
      .flatMap(({ rows }) => rows)
      .flatMap(({ cells }) => cells);
    for (const { text, css } of figures) if (css.includes('number')) expect(text).not.toMatch(/-\d/);
  });
});

describe('verdict', () => {
  test('a value that rounds onto its limit shows on which side it lies', () => {
    const results = usualResults({ phases: ['as-left'] });
    const phase = results.phases['as-left']!;
    phase.characteristics = [
      characteristic({ what: 'twist', rail: 'B', value: 20.04, u: 1, limit: 20, unit: 'um/m' }),
    ];
    phase.verdict = 'does-not-conform';
    results.verdict = 'does-not-conform';
    const rows = rowsOf(view(results).tolerances!);
    expect(rows[0]).toEqual([
      'Rail B to rail A',
      '1',
      'Twist',
      '20 µm/m',
      '20.04',
      '17.94 to 21.84',
      '–',
      'does not conform',
    ]);
  });
});

describe('tables of characteristics', () => {
  test('as found beside as left; limits, intervals and verdicts in words', () => {
    const table = view(usualResults()).tolerances!;
    const names = table.head.map(({ text, detail }) => plainText(`${text} ${detail}`).trim());
    expect(names).toEqual([
      '',
      'Characteristic, and where it is decided',
      'Limit',
      'As found verdict',
      'As left',
      '95 % interval or ± U',
      'Risk at most',
      'Verdict',
    ]);
    const crossLevel = table.groups
      .flatMap(({ rows }) => rows)
      .find(({ cells }) => cells[1]!.text === 'Cross-level')!;
    expect(crossLevel.cells[1]!.detail).toMatch(/^rail B to rail A · at /);
    expect(plainText(crossLevel.cells[2]!.text)).toBe('±20 µm/m');
    expect(crossLevel.cells[3]!.detail).toBe('does not conform');
    expect(crossLevel.cells[7]).toMatchObject({ text: 'conforms', mark: 'conforms' });
  });

  test('signed figures have their sign explained beneath', () => {
    expect(view(usualResults()).tolerances!.notes.map(plainText)).toContain(
      'Signs: height difference and cross-level: + the rail is higher than the datum rail.',
    );
  });

  test('other references of straightness stand in the second table', () => {
    const rows = rowsOf(view(usualResults()).others!);
    expect(rows.filter(([, name]) => name === 'Straightness, vertical').length).toBe(4);
    const details = view(usualResults()).others!.groups[0]!.rows.map(({ cells }) => cells[0]!.detail);
    expect(details).toEqual(
      expect.arrayContaining(['A, minimum zone', 'A, end points', 'B, minimum zone', 'B, end points']),
    );
  });

  test('what could not be determined is listed with its reason', () => {
    const { tolerances, checks } = view(undecidedResults());
    expect(rowsOf(tolerances!).find(([, , name]) => name === 'Height difference')).toContain(
      'not determined',
    );
    expect(tolerances!.notes.join(' ')).toContain(
      `Not determined: see “${checks.undeterminedTitle}” in annex C`,
    );
    expect(checks.undetermined).toContainEqual(
      expect.stringMatching(/^Height difference, rail B to rail A: rail B is not tied/),
    );
  });

  test('every figure has a unit: in its row, its column’s head or its caption', () => {
    const { tolerances, others, stations } = view(outside(usualResults()));
    for (const table of [tolerances!, others!])
      for (const row of rowsOf(table))
        expect(row.some((text) => / µm(\/m)?$/.test(text) || text === 'not determined')).toBe(true);
    expect(stations[0]!.head[1]!.unit).toBe('mm');
    expect(stations[0]!.caption).toContain('in µm, each ± U');
  });
});

describe('what to move', () => {
  test('it is said whether anything has to be moved', () => {
    expect(view(usualResults()).moves!.intro[0]).toMatch(
      /^Every tolerance is met: nothing has to be moved\./,
    );
    expect(view(outside(inchResults())).moves!.intro[0]).toMatch(/^Outside the limit: /);
    expect(view({ ...outside(undecidedResults()), verdict: 'undecided' }).moves!.intro[0]).toMatch(
      /^Not proven either way: /,
    );
  });

  test('what would decide each undecided row is said; without moves nothing is said of moves', () => {
    const results = outside(undecidedResults());
    const open: Results = { ...results, verdict: 'undecided' };
    const { moves, page1 } = view(open);
    const wanted = Object.values(open.phases)
      .at(-1)!
      .characteristics.filter((c) => c.limit !== null && c.verdict === 'undecided' && c.value !== null);
    expect(wanted.length).toBeGreaterThan(0);
    expect(moves!.settling).toHaveLength(wanted.length);
    for (const { row, text } of moves!.settling) {
      expect(row).toMatch(/^Row \d+$/);
      expect(text).toMatch(/undecided\. .*(?:decide|adjust|disagree)/);
    }
    const rows = page1.next.steps.map(({ text }) => text).join(' ');
    for (const { row } of moves!.settling) expect(rows).toContain(row.slice('Row '.length));
    const without = view({ ...open, corrections: { ...open.corrections, moves: [] } });
    expect(without.moves!.intro.join(' ')).not.toMatch(/after the moves/);
    expect(without.moves!.cautions).toEqual([]);
  });
  test('the cautions stand on the same page', () => {
    const { cautions } = view(outside(usualResults())).moves!;
    expect(cautions.map(({ lead }) => lead)).toEqual([
      'Stored energy.',
      'Supported loads and crushing.',
      'Laser and eyes.',
      'Who may do it.',
    ]);
  });
});

describe('stations', () => {
  test('a long survey is thinned, keeps ends and extremes, and says so', () => {
    const results = usualResults({ stations: 1500, spacingMm: 100 });
    const [table] = view(results).stations;
    const shown = rowsOf(table!);
    expect(shown.length).toBeLessThan(100);
    expect(view(results).stations.at(-1)!.notes.join(' ')).toMatch(
      /every 50th station.* All are in stations\.csv\./,
    );
    const thinned = thinStations(phasesOf(results));
    for (const { phase } of phasesOf(results)) {
      for (const rail of ['A', 'B']) {
        const stations = phase.stations.filter((s) => s.rail === rail);
        const most = stations.reduce((a, b) =>
          b.deviation.vertical!.value! > a.deviation.vertical!.value! ? b : a,
        );
        expect(thinned.isShown(rail, most.station)).toBe(true);
        expect(thinned.isShown(rail, 1) && thinned.isShown(rail, 1500)).toBe(true);
      }
    }
  });
  test('a short one is shown whole, without a word', () => {
    const [table] = view(usualResults()).stations;
    // Both rails side by side.
    expect(rowsOf(table!)).toHaveLength(25);
    expect(table!.notes.join(' ')).not.toMatch(/long survey/);
  });
});

describe('a cross rail', () => {
  test('has a table of its own, with positions across and ahead', () => {
    const { stations } = view(crossRailResults());
    expect(stations).toHaveLength(2);
    expect(stations[1]!.head.map(({ text }) => text)).toEqual(['St.', 'Across', 'C: up', 'C: ahead']);
    expect(rowsOf(stations[1]!)[1]).toEqual(['', '2', '800', '−3.0 ± 2.2', '+5.0 ± 2.4']);
  });
  test('squareness is against the datum rail and explained', () => {
    const table = view(crossRailResults()).tolerances!;
    const rows = table.groups.flatMap((group) => group.rows);
    expect(rows.find(({ cells }) => cells[1]!.text === 'Squareness')!.cells[1]!.detail).toMatch(
      /^rail C to rail A/,
    );
    expect(table.notes.join(' ')).toMatch(
      /squareness: \+\u00a0the angle from along to across is larger than 90°/,
    );
  });
});

describe('how the survey was made, and its checks', () => {
  test('set-ups in words, with the target range', () => {
    const rows = rowsOf(view(usualResults()).survey.stood!);
    expect(rows[1]).toEqual([
      '',
      'as found',
      'S2',
      '47',
      '412.6 ± 2.4 right',
      '0.2 ± 9.6 rising',
      '1.4 ± 9.6 right up',
      'horizontal 10.4 mm of 12.7 mm, 82 %: near its end',
    ]);
  });

  test('a closure that exceeds what is allowed is never rounded to within', () => {
    const results = usualResults();
    Object.assign(results.phases['as-left']!.closures[0]!, { closure: 4.21, allowed: 4.2, exceeded: true });
    expect(rowsOf(view(results).survey.closures!)[1]!.slice(-3)).toEqual(['+4.21', '4.20', 'exceeded']);
  });

  test('of a closure the part that drift makes stands beside it, and the rest is judged', () => {
    const results = usualResults();
    const closure = results.phases['as-left']!.closures[0]!;
    Object.assign(closure, { closure: 9.3, drift: 8.1, allowed: 4.2, exceeded: false });
    const { closures } = view(results).survey;
    expect(rowsOf(closures!)[1]!.slice(-4)).toEqual(['+9.3', '+8.1', '4.2', 'within']);
    expect(rowsOf(closures!)[0]!.slice(-4)).toEqual(['+8.3', '–', '4.2', 'exceeded']);
    expect(closures!.notes.join(' ')).toMatch(/the rest is held against what is allowed/);
  });

  test('an overdue calibration is said plainly', () => {
    const due = view(hostileResults()).survey.instruments.groups[0]!.rows[0]!.cells[4]!;
    expect(due).toMatchObject({
      text: '2026-09-30',
      detail: 'overdue: it had run out when the readings were taken',
    });
  });

  test('redundancy 0: no reading is checked by another', () => {
    const { summaries } = view(sparseResults()).checks;
    expect(summaries[0]!.sentences.join(' ')).toMatch(/No reading is checked by another/);
  });

  test('a scale above 1 is explained; suspects are kept, and twins named', () => {
    const { summaries, suspects, leftOut } = view(usualResults()).checks;
    expect(summaries[0]!.sentences.join(' ')).toMatch(
      /more than chance explains at 1\s%, so every uncertainty and interval of this phase is multiplied by 1\.43/,
    );
    expect(leftOut).toMatch(/^No reading was left out by the program/);
    expect(rowsOf(suspects!).map((row) => row[2])).toEqual([
      'readings/as-found.csv, row 17',
      'readings/as-found.csv, row 22',
      '= readings/as-found.csv, row 23',
    ]);
  });

  test('excluded rows and warnings come with their notes and places', () => {
    const { excluded, warnings, undetermined } = view(usualResults()).checks;
    expect(rowsOf(excluded!)[0]).toEqual([
      '',
      'readings/as-left.csv, row 44',
      'as left',
      'S2 on B:11, pass 1',
      'target knocked, read again in row 45',
    ]);
    expect(rowsOf(warnings!)[0]![1]).toBe('readings/as-found.csv, row 31, horizontal');
    expect(undetermined[0]).toMatch(/^As found: Distance across between rail A and rail B: /);
  });
});

test('the document is named after what it does', () => {
  expect(documentTitle(usualResults())).toBe('Rail alignment acceptance report GM-2031');
  expect(documentTitle(sparseResults())).toMatch(/^Rail alignment measurement report /);
});

test('characters that the bundled font lacks are named among the warnings with their field', () => {
  const results = usualResults();
  results.subject.customer = '漢字 漢';
  results.survey.rails[0]!.name = 'Schiene ä → ö';
  results.survey.rails[1]!.name = 'rail 字';
  const { checks } = view(results, missingGlyphs);
  const named = (where: string, characters: string) => [
    '',
    where,
    `The bundled font lacks: ${characters}. In their place there may be boxes, or letters of another font.`,
  ];
  expect(rowsOf(checks.warnings!).slice(-2)).toEqual([
    named('customer', '漢 字'),
    named('rails[1].name', '字'),
  ]);
  const plain = view(usualResults(), missingGlyphs).checks.warnings!;
  expect(JSON.stringify(plain)).not.toContain('bundled font');
});

test('what was stated of a drift is tested as a rate, and is no reading', () => {
  const results = usualResults();
  const { adjustment } = results.phases['as-left']!;
  adjustment.suspects = [
    {
      file: null,
      row: null,
      axis: 'drift-vertical',
      prior: 'no drift of set-up S1 (vertical)',
      what: 'no drift of set-up S1 (vertical)',
      residual: -39.1,
      standardised: -3.9,
    },
  ];
  const rows = rowsOf(view(results).checks.suspects!);
  expect(rows.at(-1)!.slice(2)).toEqual([
    'prior value',
    'no drift of set-up S1 (vertical)',
    'vertical',
    '−39.1 µm/h',
    '−3.9',
  ]);
});

test('where every tolerance is met, one line says that nothing has to be moved', () => {
  const { intro, plan, cautions } = view(usualResults()).moves!;
  expect(intro).toEqual(['Every tolerance is met: nothing has to be moved.']);
  expect([plan, cautions]).toEqual([null, []]);
});

test('a calibration whose days of measurement are not recorded is not called in date', () => {
  const results = usualResults();
  results.survey.instruments[0]!.overdue = null;
  const due = view(results).survey.instruments.groups[0]!.rows[0]!.cells[4]!;
  expect(due.detail).toBe('the days of measurement are not recorded');
});

test('looks back print minutes, and seconds only where they are needed', () => {
  const results = usualResults();
  const [first] = results.phases['as-left']!.closures;
  first!.first.time = '2026-03-14T08:12:05';
  first!.last.time = '2026-03-14T10:02:41';
  const times = () => rowsOf(view(results).survey.closures!).at(-1)!.join(' ');
  expect(times()).toContain('2026-03-14 08:12 to 10:02 ');
  first!.last.time = '2026-03-14T08:12:41';
  expect(times()).toContain('2026-03-14 08:12:05 to 08:12:41');
});

test('what the job does not say is not recorded', () => {
  const { page1, method, survey } = view(sparseResults());
  expect(page1.identity.filter(({ quiet }) => quiet).map(({ label }) => label)).toEqual([
    'Customer',
    'Place',
    'Issued by',
    'Read',
  ]);
  const quiet = method.facts.filter((one) => one.quiet);
  expect(quiet.map(({ label }) => label)).toEqual(['Procedure', 'Issuer’s address', 'Customer’s address']);
  for (const one of [...quiet, ...survey.conditions]) expect(one.text).toBe('not recorded');
  expect(rowsOf(survey.instruments)[0]!.filter((text) => text === 'not recorded')).toHaveLength(4);
});

test('method: rule, curvature and the way to re-derive are stated', () => {
  const topics = Object.fromEntries(
    view(usualResults()).method.topics.map(({ label, text }) => [label, plainText(text)]),
  );
  expect(topics['Decision rule']).toMatch(/^Simple acceptance, JCGM 106/);
  // 12 m: L²/8R = 2.83 µm in the middle, L²/2R = 11.3 µm from a tangent (handbooks: 8 inches a mile squared).
  expect(topics['Earth’s curvature']).toMatch(
    /Over 12\u202f000 mm, the longest rail, they part by 2\.8 µm in the middle of a chord, or by 11 µm/,
  );
  expect(plainText(view(undecidedResults()).method.topics[1]!.text)).toMatch(
    /^Guarded acceptance, JCGM 106: .* at most 2\.5\s%/,
  );
  expect(view(usualResults()).method.again).toMatch(/waysheet audit/);
});

test('corrections that the job asked for are stated, and what is only a caution is called one', () => {
  const { method, survey } = view(crossRailResults());
  const topics = Object.fromEntries(method.topics.map(({ label, text }) => [label, plainText(text)]));
  expect(topics['Earth’s curvature']).toMatch(/heights are given from a straight line\.$/);
  expect(topics['Length at 20 °C']).toBe(
    'Distances across were reduced to 20 °C from 22.4 °C, with an expansion of 11.5 ppm/K for the machine and 11.5 ppm/K for the instrument.',
  );
  expect(topics['Warm top, cold foot']).toBe(
    'Rail A: a top that is 1.2 K warmer than its foot would by itself bow it 8.3 µm up in the middle. Nothing was corrected for it.',
  );
  expect(rowsOf(survey.drift!)).toEqual([
    ['', 'S1', 'level plane', '+3.4 ± 1.6', 'significant'],
    ['', 'S1', 'running plane', '−0.4 ± 1.8', 'too small to tell from zero'],
    ['', 'S1', 'square plane', 'not determined', 'no point was read twice'],
  ]);
  expect(view(usualResults()).survey.drift).toBeNull();
});

test('a station table too wide for the paper is parted into several', () => {
  const results = usualResults();
  const [a, b] = results.survey.rails;
  results.survey.rails = [a!, b!, { ...b!, id: 'C' }, { ...b!, id: 'D' }];
  for (const phase of Object.values(results.phases))
    phase.stations.push(
      ...phase.stations
        .filter(({ rail }) => rail === 'B')
        .flatMap((s) => ['C', 'D'].map((rail) => ({ ...s, rail }))),
    );
  const tables = view(results).stations;
  expect(tables.length).toBe(2);
  for (const { head } of tables) expect(head.length).toBeLessThanOrEqual(8);
});

describe('sections', () => {
  test('numbers of the body, letters of the annex, in the order of the list', () => {
    const { sections } = viewModel(usualResults(), fixtureCharts(usualResults()));
    expect(sections.map(({ heading }) => plainText(heading).replace(/^(Annex )?(\S+) .*/, '$1$2'))).toEqual([
      ...['1', '2', '3', 'Annex A', 'Annex B', 'Annex C', 'Annex D'],
    ]);
  });
  test.each(['en', 'de', 'fr', 'es', 'it'] as const)(
    'a message in %s that names a section takes its number as a parameter',
    (language) => {
      const catalogue = language === 'en' ? en : catalogueOf(language);
      const fixed =
        /(?:annex|Anhang|annexe|anexo|allegato|section|Abschnitt|sección|sezione) (?:[A-H]\b|\d)/i;
      expect(Object.values(catalogue).filter((text) => fixed.test(text))).toEqual([]);
    },
  );
});

test('page 1 asks to read again those rows for which section 3 names a reading, and no others', async () => {
  const folder = await copyOf('TH-2031');
  const path = join(folder, 'tolerances/bed-rails.json');
  const set = JSON.parse(await readFile(path, 'utf8')) as { tolerances: { limit: unknown }[] };
  for (const tolerance of set.tolerances) if (typeof tolerance.limit === 'number') tolerance.limit /= 2;
  await writeFile(path, JSON.stringify(set));
  const { page1, parts } = viewModel(await resultsOf(folder), []);
  const rowsOf = (text: string) => (/rows? ([\d, and]+)/.exec(text)?.[1]?.match(/\d+/g) ?? []).map(Number);
  const step = (lead: string) => page1.next.steps.find((one) => one.lead.startsWith(lead))!.text;
  const settling = parts.moves!.settling.map(({ row, text }) => ({
    row: Number(/\d+/.exec(row)),
    isNothing: text.includes('Nothing that a crew can still read'),
  }));
  const rows = (isNothing: boolean) =>
    settling.filter((one) => one.isNothing === isNothing).map(({ row }) => row);
  expect(rows(true).length).toBeGreaterThan(1);
  expect(rows(false).length).toBeGreaterThan(1);
  expect(rowsOf(step('Read again'))).toEqual(rows(false));
  expect(rowsOf(step('Reading again does not decide'))).toEqual(rows(true));
});
