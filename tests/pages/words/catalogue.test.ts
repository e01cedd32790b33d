import { readdirSync, readFileSync } from 'node:fs';
import { appendFile, cp } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { hashOfTemplates } from '../../../src/pages/deliverables/content-key.js';
import { en } from '../../../src/pages/words/en.js';
import { catalogueOf, wordsOf } from '../../../src/pages/words/languages.js';
import { phrase } from '../../../src/pages/words/phrases.js';
import type { MessageKey } from '../../../src/pages/words/words.js';
import { languages, type Language } from '../../../src/survey/job/languages.js';
import { temporary } from '../../support/folders.js';
import { optionsOf, parametersOf } from './messages.js';

const ROOT = join(import.meta.dirname, '../../..');
const keys = Object.keys(en) as MessageKey[];
const others = languages.filter((language): language is Exclude<Language, 'en'> => language !== 'en');

function filesUnder(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    return entry.isDirectory() ? filesUnder(path) : [path];
  });
}

describe.each(others)('%s', (language) => {
  test('all messages of English and no other, with its parameters, choosing by the same words', () => {
    const catalogue = catalogueOf(language);
    expect(Object.keys(catalogue).sort()).toEqual([...keys].sort());
    for (const key of keys) {
      expect(parametersOf(catalogue[key]), key).toEqual(parametersOf(en[key]));
      const own = optionsOf(catalogue[key]);
      expect(own, key).toEqual(expect.arrayContaining(optionsOf(en[key])));
    }
  });

  test('each message can be said', () => {
    const { say } = wordsOf(language);
    for (const key of keys) {
      const named = Object.fromEntries(parametersOf(en[key]).map((name) => [name, 2]));
      expect(say(key, named), key).not.toMatch(/[{}]|undefined/);
    }
  });

  test('a message that is the same as in English has no English word in it', () => {
    const catalogue = catalogueOf(language);
    const same = keys.filter(
      (key) => catalogue[key] === en[key] && /\p{L}{4}/u.test(en[key].replace(/\{[^{}]*\}/g, '')),
    );
    expect(same.filter((key) => !SAME.has(en[key].toLowerCase()))).toEqual([]);
  });
});

/** Words that two languages share. */
const SAME = new Set(
  [
    ...[
      'error',
      '(section {section}).',
      'software',
      'simulation',
      'document',
      'signatures',
      'signature',
      'date',
      'instrument',
      'instruments',
    ],
    ...['description', 'conditions', 'station', 'stations.', 'direction', 'direction {list}', 'distance'],
    ...['drift', 'position', 'horizontal', 'vertical', 'contents', 'name', 'residual', 'horizontal {figure}'],
    ...[
      'temperature',
      'solution',
      'verdict',
      'phase',
      'note',
      'place',
      'machine',
      'causes',
      'rails',
      'type',
      'tolerances',
    ],
    ...['instruments {list}', 'instruments: {list}', 'axe', 'point', 'bytes', 'rail {rail}', 'rails {rails}'],
    ...[
      '{rail} / {other}',
      'limite {limit}',
      'u',
      '{n} figures',
      'dates {order}',
      '{column} in {unit}',
      'figure\u00a0{n}\u2002{caption}',
      'figure\u00a01',
      'rail',
      'rate',
      'rail {rail} ({planes})',
      'joints',
      'cause',
      'position, {unit}',
      'distance, {unit}',
    ],
  ].map((text) => text.toLowerCase()),
);

test('every message is said somewhere', () => {
  const sources = [...filesUnder('src'), ...filesUnder('templates')]
    .filter(
      (path) =>
        /\.(?:ts|hbs|js)$/.test(path) && !/src\/pages\/words\/(?:en|crew|office|warnings)\.ts$/.test(path),
    )
    .map((path) => readFileSync(join(ROOT, path), 'utf8'))
    .join('\n');
  const literals = new Set([...sources.matchAll(/['"]([a-z][\w.-]*)['"]/gi)].map(([, text]) => text!));
  const patterns = [
    ...new Set(
      [...sources.matchAll(/`([a-z][\w-]*\.(?:[\w.-]|\$\{[^{}`]*\})*)`/gi)].map(([, text]) => text!),
    ),
  ]
    .filter((text) => text.includes('${'))
    .map((text) => new RegExp(`^${text.replace(/\./g, '\\.').replace(/\$\{[^{}]*\}/g, '[\\w-]+')}$`));
  const unused = keys.filter(
    (key) =>
      !literals.has(key) &&
      !key.startsWith('doc.') &&
      !patterns.some((pattern) => pattern.test(key)) &&
      !/^reason\./.test(key),
  );
  expect(unused).toEqual([]);
});

test('a changed translation makes a report another one', async () => {
  const folder = await temporary();
  await cp(join(ROOT, 'templates'), folder, { recursive: true });
  const before = hashOfTemplates(folder);
  await appendFile(join(folder, 'words/de.json'), ' ');
  expect(hashOfTemplates(folder)).not.toBe(before);
});

test('a day, a number and a list are written as the language writes them', () => {
  const written = (language: Language) => {
    const { day, number, list, say } = wordsOf(language);
    return [
      day('2026-03-14'),
      number(-12_345.6, 1),
      list(['A', 'B', 'C']),
      say('caution.suspects', { count: 1200, section: 'C' }),
    ];
  };
  expect(written('en')).toEqual([
    '2026-03-14',
    '−12\u202f345.6',
    'A, B and C',
    expect.stringMatching(/^1200 readings/),
  ]);
  expect(written('de')).toEqual([
    '14.03.2026',
    '−12\u202f345,6',
    'A, B und C',
    expect.stringMatching(/^1200 Ablesungen/),
  ]);
  expect(written('fr')).toEqual([
    '14/03/2026',
    '−12\u202f345,6',
    'A, B et C',
    expect.stringMatching(/^1200 lectures/),
  ]);
  expect(written('es')).toEqual([
    '14/03/2026',
    '−12\u202f345,6',
    'A, B y C',
    expect.stringMatching(/^1200 lecturas/),
  ]);
  expect(written('it')).toEqual([
    '14/03/2026',
    '−12\u202f345,6',
    'A, B e C',
    expect.stringMatching(/^1200 letture/),
  ]);
});

test('French has no line end before a high sign', () => {
  const { say } = wordsOf('fr');
  expect(say('undetermined.line', { names: 'x', why: 'y' })).toBe('x\u00a0: y');
  expect(say('table1.undetermined', { section: 'C' })).toContain('«\u00a0Ce que');
  expect(say('says.turned-the-wrong-way')).toMatch(/l’envers\u202f\?$/);
});

test('what results.json holds in English is said in the language, with its names', () => {
  const words = wordsOf('de');
  expect(phrase('monument M 1 as read from S2', words)).toBe('Festpunkt M 1, abgelesen von S2');
  expect(phrase('the vertical gradient over rail A of set-up S1 as stated', words)).toBe(
    'vertikaler Gradient über Schiene A der Aufstellung S1 wie angegeben',
  );
  expect(phrase('A:7 from S1, target T1, pass 2', words)).toBe('A:7 von S1, Ziel T1, Durchgang 2');
  expect(phrase('level of set-up S1 (pitch)', words)).toBe('Horizontierung der Aufstellung S1 (Nicken)');
  expect(phrase('something that nobody wrote', words)).toBe('something that nobody wrote');
});

test('a parameter that is missing is a mistake, never a hole on the page', () => {
  const { say } = wordsOf('de');
  expect(() => say('row', {})).toThrow(/row/);
});
