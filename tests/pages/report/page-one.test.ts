/** Page 1: what it says, and that it never takes more than the page nor less than the verdict. */
import { wordsOfAll } from '../../../src/pages/words/languages.js';
import { inFirst } from '../../../src/pages/words/pair.js';
import type { Brand } from '../../../src/survey/brand/read-brand.js';
import { english, type Words } from '../../../src/pages/words/words.js';
import type { Languages } from '../../../src/survey/job/languages.js';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, describe, expect, test } from 'vitest';
import fc from 'fast-check';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import { renderPage } from '../../../src/pages/report/html.js';
import { fittingShape } from '../../../src/pages/report/shapes.js';
import { fontFaceCss } from '../../../src/pages/fonts/fonts.js';
import { barSvg, scaleOf, type Bar } from '../../../src/pages/report/sections/bars.js';
import { riskText } from '../../../src/pages/report/sections/judged-rows.js';
import { viewModel } from '../../../src/pages/report/view-model.js';
import { byUrgency } from '../../../src/results/urgency.js';
import type { Results } from '../../../src/results/results-schema.js';
import {
  characteristic,
  fixtureCharts,
  hostileResults,
  inchResults,
  sparseResults,
  undecidedResults,
  usualResults,
} from './view-model-fixtures.js';

const page1 = (results: Results, words?: Words) =>
  viewModel(results, fixtureCharts(results), undefined, words).page1;
const plain = (text: string) => text.replace(/[\u00a0\u202f]/g, ' ');

describe('the verdict', () => {
  test('conforms: how many, what was before, what comes nearest, by which rule', () => {
    const { verdict, kind } = page1(usualResults());
    expect(kind).toBe('Acceptance report');
    expect(verdict.headline).toBe('The rails conform, as left.');
    expect(plain(verdict.sentences[0]!)).toBe(
      'All 9 characteristics with a limit lie inside it. As found, 9 did not conform.',
    );
    expect(verdict.sentences[1]).toMatch(
      /^Nearest to its limit, by the end of its interval: .*; limit .* \(row\s\d+\)\.$/,
    );
    expect(verdict.rule).toMatch(/^Rule: simple acceptance, JCGM 106/);
  });
  test('does not conform', () => {
    const { verdict } = page1(inchResults());
    expect(verdict.headline).toBe('The rails do not conform, as left.');
    expect(verdict.sentences[1]).toMatch(/^Farthest outside: /);
  });
  test('undecided: how many of how many, and what has no value', () => {
    const { verdict, next } = page1(undecidedResults());
    expect(verdict.headline).toBe('Not decided: 2 of 10 characteristics, as left.');
    expect(verdict.sentences[0]).toMatch(/One has no value: the readings do not determine it\./);
    expect(next.steps.map(({ lead }) => lead)).toContain('Read what is missing');
  });
  test('no limit: said so, and called a measurement report', () => {
    const { verdict, kind, bars } = page1(sparseResults());
    expect(kind).toBe('Measurement report');
    expect(verdict.headline).toBe('Reported without a verdict, as found.');
    expect(bars).toBeNull();
  });
  test('no limit: the largest figure of each kind has the place of the bars; with a limit there is no such table', () => {
    const results = sparseResults();
    const { largest } = viewModel(results, fixtureCharts(results));
    const rows = largest!.groups.flatMap((group) => group.rows);
    const known = Object.values(results.phases)
      .at(-1)!
      .characteristics.filter(({ value }) => value !== null);
    expect(rows).toHaveLength(new Set(known.map(({ what, over }) => `${what} ${over}`)).size);
    expect(viewModel(usualResults(), []).largest).toBeNull();
  });
  test('stations that were read in one plane alone are named', () => {
    const results = usualResults();
    const { rests } = page1({
      ...results,
      phases: {
        'as-left': {
          ...results.phases['as-left']!,
          read: {
            rails: [
              {
                rail: 'A',
                declared: 4,
                read: 3,
                unread: [4],
                leftOut: [],
                lengthMm: 3,
                readLengthMm: 2,
                passes: { fewest: 1, most: 1 },
                setups: ['S1'],
                planes: [
                  { plane: 'vertical', read: 2, unread: [2, 4] },
                  { plane: 'horizontal', read: 3, unread: [4] },
                ],
              },
            ],
            setups: [],
            words: [],
          },
        },
      },
    });
    const stations = rests.points.find(({ lead }) => lead === 'Stations.')!;
    expect(stations.text).toMatch(/^3 of 4 stations of one rail were read; not read: A:4\./);
    expect(stations.text).toMatch(/The height was not read at A:2\./);
    expect(stations.text).not.toMatch(/sideways/);
  });
  test('readings left out: those of the judged phase, and those of an earlier one by their phase', () => {
    const row = { file: 'readings/a.csv', row: 3, what: 'A:1 from S1', note: 'hand on the target' };
    const said = (phases: readonly ('as-found' | 'as-left')[]) =>
      page1({ ...usualResults(), excluded: phases.map((phase) => ({ ...row, phase })) }).rests.points.find(
        ({ lead }) => lead === 'Stations.',
      )!.text;
    expect(said([])).toMatch(/No row of readings was left out\.$/);
    expect(said(['as-left'])).toMatch(/One row of readings was left out \(annex C\)\.$/);
    expect(said(['as-found', 'as-found'])).toMatch(
      /No row of readings was left out as left\. As found: 2 left out \(annex C\)\.$/,
    );
    expect(said(['as-found', 'as-left'])).toMatch(
      /One row of readings was left out \(annex C\)\. As found: one left out \(annex C\)\.$/,
    );
  });
  test('a row that no reading decides: move what the list has, or, without a list, agree on another limit', () => {
    const made = undecidedResults();
    const open = usualResults();
    const known = open.phases['as-left']!;
    const results = {
      ...open,
      verdict: 'undecided' as const,
      phases: {
        'as-left': {
          ...known,
          verdict: 'undecided' as const,
          characteristics: known.characteristics.map((c, k) =>
            k === 0 && c.value !== null ? { ...c, verdict: 'undecided' as const } : c,
          ),
        },
      },
    };
    const step = (moves: Results['corrections']['moves']) =>
      page1({ ...results, corrections: { ...made.corrections, moves } }).next.steps.map(
        ({ lead, text }) => `${lead} ${text}`,
      );
    const [without] = step([]);
    expect(without).toMatch(/^Reading again does not decide row \d+: .* Section 3 found no moves; agree on/);
    expect(step([]).join()).not.toMatch(/Move what/);
  });
  test('it does not conform, and no moves are known: page 1 says where the reason is', () => {
    const results = inchResults();
    const steps = (corrections: Results['corrections']) =>
      page1({ ...results, corrections }).next.steps.map(({ lead }) => lead);
    expect(steps({ ...results.corrections, moves: [] })).toContain('No moves are listed:');
    expect(steps(usualResults().corrections)).not.toContain('Nothing has to be moved');
  });
  test('what must be known with it is told with it', () => {
    expect(page1(hostileResults()).rests.points.at(-1)!.text).toMatch(/^The calibration of L1 had run out/);
    const found = page1(usualResults({ phases: ['as-found'] })).rests.points.at(-1)!.text;
    expect(found).toMatch(/scatter more/);
    expect(found).toMatch(/3 readings stand out and were kept/);
    expect(
      page1(sparseResults())
        .rests.points.map(({ text }) => text)
        .join(' '),
    ).toMatch(/redundancy is 0/);
  });
});

describe('the bars', () => {
  test('worst first, numbered as Table 1 has them', () => {
    const results = inchResults();
    const { bars } = page1(results);
    const last = Object.values(results.phases)
      .at(-1)!
      .characteristics.filter((c) => c.limit !== null);
    const sorted = [...last].sort(byUrgency).map(({ verdict }) => verdict);
    expect(bars!.rows.map(({ verdict }) => verdict)).toEqual(sorted.slice(0, bars!.rows.length));
    const numbers = bars!.rows.map(({ n }) => Number(n));
    expect(new Set(numbers).size).toBe(numbers.length);
  });

  const span = fc
    .tuple(...[0, 1, 2].map(() => fc.double({ min: 0, max: 4, noNaN: true })))
    .map((list) => [...list].sort((a, b) => a - b))
    .map(([from, value, to]) => ({ from: from!, value: value!, to: to! }));
  const bar: fc.Arbitrary<Bar> = fc.record({
    lanes: fc
      .array(fc.record({ span, sign: fc.constantFrom('+' as const, '−' as const) }), {
        minLength: 1,
        maxLength: 2,
      })
      .map((lanes) => lanes.map(({ span: own, sign }) => ({ ...own, sign }))),
    before: fc.option(span),
    colour: fc.constantFrom('left' as const, 'found' as const),
  });
  test('property: one scale, everything inside the cell, the limit at the same place in each row', () => {
    fc.assert(
      fc.property(fc.array(bar, { minLength: 1, maxLength: 5 }), (bars) => {
        const most = scaleOf(bars);
        expect(most).toBe(bars.some(({ lanes }) => lanes.some(({ to }) => to > 1.5)) ? 2 : 1.5);
        for (const one of bars) {
          const svg = barSvg(one, most);
          const limit = /class="limit" x1="([\d.]+)%"/.exec(svg)![1];
          expect(Number(limit)).toBeCloseTo(100 / most, 1);
          for (const [, x, width] of svg.matchAll(
            /<rect class="bar[^"]*" x="([\d.]+)%"[^>]*? width="([\d.-]+)%"/g,
          )) {
            expect(Number(width)).toBeGreaterThanOrEqual(0);
            expect(Number(x) + Number(width)).toBeLessThanOrEqual(100.11);
          }
          expect(svg).not.toMatch(/NaN|undefined|Infinity/);
        }
      }),
    );
  });

  test('a bound of a risk is never rounded down', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (risk) => {
        expect(Number.parseFloat(riskText(risk, english)) / 100).toBeGreaterThanOrEqual(risk - 1e-7);
      }),
    );
    expect(riskText(0.025, english)).toBe('2.5\u00a0%');
    expect(riskText(1e-12, english)).toBe('0.1\u00a0%');
  });
});

/** So many rows, all of them undecided, with names as long as they may be. */
function crowded(rows: number, paper: 'A4' | 'Letter'): Results {
  const results = usualResults();
  results.style.paper = paper;
  const phase = results.phases['as-left']!;
  phase.characteristics = Array.from({ length: rows }, (_, k) => ({
    ...characteristic({
      what: 'straightness-horizontal-local',
      rail: k % 2 ? 'A' : 'B',
      value: 19 + k / 100,
      u: 4,
      limit: 20,
      unit: 'um',
    }),
    over: 500 + k,
    verdict: 'undecided' as const,
    settling: { code: 'more-passes', data: { times: 3 } },
  }));
  phase.verdict = 'undecided';
  results.verdict = 'undecided';
  results.settings.rule = 'guarded';
  const long =
    'An office whose name is as long as anybody would ever write it into a job, and then some more of it';
  Object.assign(results.subject, {
    customer: long,
    site: long,
    issuer: long,
    title: `${long} ${long}`,
    conditionsNote: `${long} ${long}`,
  });
  results.subject.machine = { name: long, serial: 'S-1234567890-ABCDEFGH' };
  results.toleranceSet.name = long;
  results.survey.rails = results.survey.rails.map((rail) => ({ ...rail, name: long }));
  return results;
}

test('too many rows: the worst are shown, the others are counted', () => {
  const { bars } = page1(crowded(48, 'A4'));
  expect(bars!.rows).toHaveLength(15);
  expect(bars!.rests).toHaveLength(15);
  expect(bars!.rests.at(-1)!.text).toMatch(
    /^33 more rows are in Table 1: 33 are undecided\. The first of them reaches \d+\s% of its limit\.$/,
  );
});

/** All that page 1 can have on top of many rows: an amendment, what it was before, notes of an issue without an approver. */
function amended(results: Results): Results {
  const long =
    'a reason as long as nobody would give it for a report that says something else than it did before. ';
  results.issue = {
    ...({ on: '2026-05-21', by: 'O. Tressel', number: 'T-9-2', role: null } as object),
    without: ['approver', 'traceability'],
    amends: { number: 'T-9-1', because: long, changes: Array.from({ length: 9 }, (_, k) => `${k} ${long}`) },
  } as unknown as Results['issue'];
  return results;
}
const inUnits = (results: Results): Results => {
  results.style.also = { length: 'in', deviation: 'thou', slope: 'thou/ft' } as never;
  return results;
};
const brand = {
  document: {
    name: 'An office with a long name and a letterhead of as many lines as it may have',
    letterhead: ['1 Long Road', '22 Longer Road', '333 Longest Road', 'A town', 'A country'],
    accreditation:
      'Invented laboratory, number 1234, of an invented body, for invented work and for nothing else.',
  },
  logo: null,
  font: null,
} as unknown as Brand;

test('property: of the shapes that fit the one with most rows is taken, in few questions', async () => {
  await fc.assert(
    fc.asyncProperty(fc.integer({ min: 1, max: 40 }), fc.nat({ max: 39 }), async (rows, room) => {
      fc.pre(room < rows);
      let asked = 0;
      const shape = await fittingShape(
        { rows, isCut: false },
        async (one) => ++asked > 0 && one.rows <= room,
      );
      expect(shape).toEqual(room > 0 ? { rows: room, isCut: false } : { rows: 1, isCut: true });
      expect(asked).toBeLessThanOrEqual(Math.ceil(Math.log2(rows)));
    }),
  );
});

describe('on paper', () => {
  let printer: Promise<Printer> | null = null;
  afterAll(async () => (await printer)?.close());
  const papers: [string, Results, Languages, Brand | null][] = [
    ['usual', usualResults(), 'en', null],
    ['five undecided and more, A4', crowded(16, 'A4'), 'en', null],
    ['48 rows, Letter', crowded(48, 'Letter'), 'en', null],
    ['no limit', sparseResults(), 'en', null],
    ['hostile names', hostileResults(), 'en', null],
    ...(['de', 'fr', 'es', 'it'] as const).flatMap((language): [string, Results, Languages, null][] => [
      [`usual, ${language}`, usualResults(), language, null],
      [`48 rows, Letter, ${language}`, crowded(48, 'Letter'), language, null],
    ]),
    ['two languages', usualResults(), ['de', 'fr'], null],
    ['48 rows, two languages, Letter', crowded(48, 'Letter'), ['it', 'fr'], null],
    ['two units, a letterhead, French', inUnits(crowded(20, 'A4')), 'fr', brand],
    ['all at once', amended(inUnits(crowded(48, 'Letter'))), ['de', 'es'], brand],
  ];
  const pagesOf = async (html: string, fontless: string, paper: 'A4' | 'Letter') => {
    printer ??= openPrinter();
    const bytes = await (await printer).print({ html, fontless, title: 't', createdOn: '2026-01-01', paper });
    const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
    const textOf = async (n: number) => {
      const { items } = await (await pdf.getPage(n)).getTextContent();
      return items
        .map((item) => ('str' in item ? item.str : ''))
        .join(' ')
        .replace(/\s+/g, ' ');
    };
    const pages = [await textOf(1), await textOf(2)] as const;
    await pdf.destroy();
    return pages;
  };
  test('more text than any job has: the foot of page 1 is not printed, its verdict is', async () => {
    const results = crowded(16, 'A4');
    const { html } = renderPage(results, [], fontFaceCss());
    const long = html.replace('<div class="blocks">', `<p>${'word '.repeat(4000)}</p>$&`);
    const [first, second] = await pagesOf(long, long, 'A4');
    expect(first).toContain('Not decided: 16 of 16 characteristics, as left.');
    expect(second).toMatch(/1 Results/);
  });
  test.each(papers)(
    '%s: page 1 holds all of page 1, and nothing of it is on page 2',
    async (_, results, languages, office) => {
      const inLanguage = wordsOfAll(languages);
      const { html, fontless } = renderPage(results, [], fontFaceCss(), inLanguage, office);
      const [first, second] = await pagesOf(html, fontless, results.style.paper);
      const { verdict, rests, next } = viewModel(results, [], undefined, inLanguage).page1;
      const words = (text: string) => plain(inFirst(text)).replace(/\s+/g, ' ');
      expect(plain(first)).toContain(words(verdict.headline));
      expect(second).toContain(words(inLanguage.say('section.results', { n: 1 })));
      expect(first).toContain(words(next.title));
      expect(first).toContain(words(rests.title));
      // The last words of the page are there: nothing was cut off below.
      expect(plain(first).replace(/ /g, '')).toContain(
        words(rests.points.at(-1)!.text).replace(/ /g, '').slice(-25),
      );
    },
    60_000,
  );
});
