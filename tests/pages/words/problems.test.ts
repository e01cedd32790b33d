import { describe, expect, test } from 'vitest';
import { wording, type Said } from '../../../src/base/diagnostics/wording.js';
import { crewFinding, type CrewFinding } from '../../../src/pages/report/crew-finding.js';
import type { Diagnostic } from '../../../src/base/diagnostics/diagnostic.js';
import { explain } from '../../../src/base/diagnostics/messages.js';
import { clause, sentences } from '../../../src/pages/words/phrases.js';
import { problemsIn, wordsOf } from '../../../src/pages/words/languages.js';
import { fileReasons } from '../../../src/survey/job/input-file.js';
import { jsonReasons, parseJsonSource } from '../../../src/survey/job/json-source.js';
import { languages, type Language } from '../../../src/survey/job/languages.js';
import { parametersOf } from './messages.js';

const others = languages.filter((language): language is Exclude<Language, 'en'> => language !== 'en');

/** Words that no other of the five languages has. */
const ENGLISH =
  /\b(?:the|is|are|this|there|has|have|were|would|cannot|which|whether|check|delete|write|named)\b/iu;
/** Code words that stay, in quotes or after "use". */
const CODE = /"[^"]*"|«[^»]*»|„[^“]*“|\bjob\.json\b|rail and station|rail et station|\bdie (?=\p{Ll})/gu;

const WAYS = [
  ...['misfit', 'small', 'too-good', 'large', 'rough', 'coarse'],
  ...['spacing', 'setup', 'rails', 'near', 'side', 'span'],
];
const REASONS = ['whole', 'no-rail', 'none', 'datum', 'cross-rail', 'along-rail', 'no-joints', 'no-distance'];
const BECAUSE = [
  ...['cross-rail', 'along-rail', 'slope-instrument', 'not-local', 'no-side', 'unsigned', 'no-set'],
  ...['no-group', 'no-pair', 'group', 'no-reference', 'not-slope', 'offset-file', 'not-of-kind'],
  ...['fixed-reading', 'mapped-and-fixed', 'no-unit', 'words-of-reading'],
];
/** What a name of a wording may hold, each once; the first is usual. */
const VALUES: Readonly<Record<string, readonly (string | number)[]>> = {
  way: WAYS,
  because: BECAUSE,
  path: ['readings/a.csv', 'job.json', 'a\\b.csv'],
  phase: ['as-left'],
  axis: ['vertical', 'all'],
  kind: ['rail', 'set-up', 'target', 'monument', 'instrument'],
  column: ['station', 'rail, station'],
  drop: ['zip', 'folder'],
  causes: ['the vertical readings from S1 have the other sign'],
  mend: [
    'Look up how the target faced in a.csv, rows 2 to 4.',
    'In job.json, set-up S1: "plus": { "vertical": "above" } in place of "below".',
  ],
  'MISFIT_EXPLAINED.count': [1],
  'SIGN_ASSUMED.plus': ['"plus": { "vertical": "above" }'],
  near: ['the readings of a.csv are 25.4 times too small'],
  apart: ['read A:3 once more.'],
  wanted: ['Q7'],
  what: ['twist'],
  missing: ['in height 3 to 5'],
  holds: ['from 0 mm to 3000 mm'],
  whole: ['from 0 mm to 4000 mm'],
  why: ['rail B was not read in the vertical plane'],
  found: ['Q7', '0'],
  prior: ['squareness of instrument L1'],
  size: ['12 µm'],
  usual: ['3 to 9 µm'],
};
/** What may be blank. */
const BLANK = new Set(
  `KEY_UNKNOWN.nearest KEY_UNKNOWN.known CSV_COLUMN_UNKNOWN.nearest CSV_MAPPED_MISSING.nearest CSV_MAPPED_MISSING.found
  CSV_COLUMN_MISSING.found CELL_NOT_A_NUMBER.meant CELL_WRONG.found READING_RAIL_UNKNOWN.meant READING_RAIL_UNKNOWN.known
  READING_SETUP_UNKNOWN.known READING_MONUMENT_UNKNOWN.known TARGET_UNKNOWN.known ID_UNKNOWN.known SETUP_READS_NOTHING.phase
  FILE_REPEATED.phase PASSES_IDENTICAL.by UNIT_IMPLAUSIBLE.units NOISE_FAR_ABOVE_CLAIM.near MISFIT_UNEXPLAINED.near
  MISFIT_EXPLAINED.apart STATIONS_MISSING.doubled STATIONS_UNREAD.end STATIONS_UNREAD.leftOut MONUMENT_UNREAD.what
  TARGET_ONCE.likely CONFIRMATION_IDLE.file CLOSURE_EXCEEDED.drift`.split(/\s+/),
);
const NUMBERS =
  /^(?:count|count2|bytes|limit|packed|cells|columns|characters|offset|number|rows?|others|declared|read|redundancy|first|header|blank|station|from|to|ratio|factor|seconds|of|percent|degrees|last|method)$/;

/** A finding of each code with every value that a name of it may hold. */
function findingsOf(code: keyof typeof wording): Diagnostic[] {
  const found: Diagnostic[] = [];
  const valuesOf = (name: string) => VALUES[`${code}.${name}`] ?? VALUES[name];
  const make = (given: Readonly<Record<string, string | number>>): string[] => {
    const asked: string[] = [];
    const data = new Proxy({} as Record<string, string | number>, {
      get: (_, name: string) => {
        asked.push(name);
        return given[name] ?? valuesOf(name)?.[0] ?? (NUMBERS.test(name) ? 7 : 'Q7');
      },
    });
    (wording[code] as (of: unknown) => Said)(data);
    found.push({ code, severity: 'warning', data } as unknown as Diagnostic);
    return [...asked];
  };
  for (const way of WAYS)
    for (const name of new Set(make({ way })))
      for (const value of [
        ...(valuesOf(name) ?? (NUMBERS.test(name) ? [0, 1, 7, 9] : ['Q8'])),
        ...(BLANK.has(`${code}.${name}`) ? [''] : []),
      ]) {
        const reasons = code.startsWith('TOLERANCE') ? REASONS : ['Q7'];
        for (const reason of reasons) make({ way, reason, [name]: value });
      }
  return found;
}

const codes = (Object.keys(wording) as (keyof typeof wording)[]).filter(
  (code) => code !== 'JOB_NOT_REPORTED',
);

/** "plus": in the quotes of each language. */
const KEY_WITH_COLON =
  /["“”»]\s?:\s?(?:\{|true|["“„«])|["“„«]\s?(?:plus|across|seat|readings|ignoreRows|confirmed)\s?["“”»]/u;

test.each(languages)(
  '%s: what a crew reads of a finding is words, and names no key of job.json',
  (language) => {
    const words = wordsOf(language);
    const keyed = new Set<string>();
    const silent = new Set<string>();
    const offices = new Set<string>();
    for (const code of codes)
      for (const finding of findingsOf(code)) {
        const { text, office } = crewFinding(finding, words);
        if (KEY_WITH_COLON.test(text)) keyed.add(`${code}: ${text}`);
        if (text.trim() === '') silent.add(code);
        if (office !== '') offices.add(code);
        if (language !== 'en' && ENGLISH.test(`${text} ${office}`.replace(CODE, '')))
          keyed.add(`${text} | ${office}`);
      }
    expect([...keyed]).toEqual([]);
    expect([...silent]).toEqual([]);
    expect([...offices]).toEqual(
      expect.arrayContaining([
        'SIGN_ASSUMED',
        'REPEATABILITY_ABOVE_CLAIM',
        'SIGN_CHECK_TURNED',
        'MISFIT_EXPLAINED',
      ]),
    );
  },
);

test.each(others)('%s: of several causes, each is said with what to do about it', (language) => {
  const [one, two] = [
    'In job.json, set-up S1: "heading": 12.',
    'Look up how the target faced in a.csv, row 2.',
  ].map((first) =>
    crewFinding(
      {
        code: 'MISFIT_EXPLAINED',
        severity: 'error',
        data: {
          way: 'misfit',
          ...{ phase: 'as-left', sigma0: '9', redundancy: 9, count: 2, apart: '' },
          causes:
            'the vertical readings from S1 have the other sign\nthe vertical readings from S2 have the other sign',
          mend: `${first}\nLook up how the target faced in a.csv, rows 2 to 4.`,
        },
      } as unknown as Diagnostic,
      wordsOf(language),
    ),
  ) as [CrewFinding, CrewFinding];
  for (const text of [one.text, one.office, two.text]) expect(text.replace(CODE, '')).not.toMatch(ENGLISH);
  expect(one.text.match(/\([12]\)/g)).toEqual(['(1)', '(2)', '(2)']);
  expect(one.office).toMatch(/\(1\)/);
  expect(two.text.match(/\([12]\)/g)).toEqual(['(1)', '(2)', '(1)', '(2)']);
  expect(two.office).toBe('');
});

test('a crew is told what to do, and the office what to write', () => {
  const english = wordsOf('en');
  const [assumed, repeats] = [
    {
      code: 'SIGN_ASSUMED',
      severity: 'warning',
      data: { setups: 'S1', plus: '"plus": { "vertical": "above" }' },
    },
    {
      code: 'REPEATABILITY_ABOVE_CLAIM',
      severity: 'warning',
      data: { phase: 'as-left', instrument: 'L1', axis: 'vertical', s: '9 um', claimed: '3 um', degrees: 12 },
    },
  ].map((finding) => crewFinding(finding as unknown as Diagnostic, english));
  expect(assumed!.text).toMatch(/positive reading is\. Move the target by a known amount/);
  expect(assumed!.office).toBe(
    'For the office: Write the side as "plus" at the set-up; now "plus": { "vertical": "above" } is assumed.',
  );
  expect(repeats!.text).toMatch(/degrees of freedom\)\. Tell the office/);
  expect(repeats!.office).toMatch(/"reading": "u"/);
});

describe.each(others)('%s', (language) => {
  const messages = problemsIn(language);
  const words = wordsOf(language);

  test('the messages of the other languages, with the same parameters', () => {
    expect(Object.keys(messages)).toEqual(Object.keys(problemsIn('de')));
    for (const [english, message] of Object.entries(messages))
      expect(parametersOf(message), english).toEqual(parametersOf(english));
  });

  test('whatever a wording can say is said in this language, to its end', () => {
    const left = new Set<string>();
    const seen = new Set<string>();
    const look = (english: string, say: (text: string) => string) => {
      if (seen.has(english)) return;
      seen.add(english);
      const own = say(english);
      if (ENGLISH.test(own.replace(CODE, ''))) left.add(`${english} → ${own}`);
    };
    for (const code of codes) {
      for (const { what, expected, fix, causes } of findingsOf(code).map(explain)) {
        look(what, (text) => clause(text, words));
        for (const text of [
          expected,
          fix,
          causes?.intro,
          ...(causes?.list ?? []).flatMap((c) => [c.what, c.fix]),
        ])
          if (text) look(text, (one) => sentences(one, words));
      }
    }
    expect([...left]).toEqual([]);
  });

  test('why a file is not read, and what is wrong with a document, is said in this language', () => {
    const reasons = [
      ...Object.values(fileReasons),
      ...Object.values(jsonReasons),
      ...['it is not a file', 'the system says EIO'],
      ...['', '{ “id”: 1 }', '['.repeat(500)].flatMap((text) => {
        const read = parseJsonSource(text, 'job.json');
        return read.ok
          ? []
          : read.diagnostics.map(({ data }) => String((data as { reason?: string }).reason));
      }),
    ];
    for (const reason of reasons) {
      const [own, english] = [words, wordsOf('en')].map((of) =>
        clause(`This is not valid JSON: ${reason}`, of),
      );
      expect(own).not.toContain(reason);
      expect(english).toContain(reason);
    }
  });
});
