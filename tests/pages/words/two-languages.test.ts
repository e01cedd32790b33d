/** A report in two languages: every sentence is there in both, every figure once, and results.json does not know of it. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { en } from '../../../src/pages/words/en.js';
import { wordsOf, wordsOfAll } from '../../../src/pages/words/languages.js';
import { asTwoLanguages, inFirst, inSecond, isPair, pairOf } from '../../../src/pages/words/pair.js';
import type { MessageKey } from '../../../src/pages/words/words.js';
import { languages, languagesOf, runLanguage } from '../../../src/survey/job/languages.js';
import { waysheet } from '../../support/command.js';
import { changeJob, copyOf, sample, temporary } from '../../support/folders.js';

test('a sentence made of sentences is in each language what that language alone makes of it', () => {
  const plain = (Object.keys(en) as MessageKey[]).filter((key) => !en[key].includes('{'));
  const language = fc.constantFrom(...languages);
  fc.assert(
    fc.property(language, language, fc.constantFrom(...plain), fc.constantFrom(...plain), (a, b, x, y) => {
      const both = wordsOfAll([a, b]);
      const said = both.say('list.and', { first: both.say(x), last: both.list([both.say(y), 'B:3', '4']) });
      const alone = (of: typeof a) => {
        const { say, list } = wordsOf(of);
        return say('list.and', { first: say(x), last: list([say(y), 'B:3', '4']) });
      };
      expect([inFirst(said), inSecond(said)]).toEqual([alone(a), alone(b)]);
      expect(isPair(said)).toBe(alone(a) !== alone(b));
    }),
  );
});

test('on the page the second language is below the first; figures and attributes are said once', () => {
  const both = pairOf('Höhe', 'Height');
  expect(asTwoLanguages(`<p title="${both}"><span>${both}</span> 3</p>`, 'en')).toBe(
    '<p title="Höhe"><span>Höhe</span> 3<span class="translated" lang="en"><span>Height</span> 3</span></p>',
  );
  expect(asTwoLanguages(`<td class="number">3 ${pairOf('bis', 'to')} 5</td>`, 'en')).toBe(
    '<td class="number">3 bis 5</td>',
  );
  expect(asTwoLanguages(`<th>${both}<span class="detail">A</span></th>`, 'en')).toBe(
    '<th>Höhe<span class="translated" lang="en">Height</span><span class="detail">A</span></th>',
  );
  const quiet = pairOf('Schiene A zu B', 'rail A to B');
  expect(asTwoLanguages(`<th>3<span class="detail">${quiet}</span></th>`, 'en')).toBe(
    '<th>3<span class="detail">Schiene A zu B<span class="translated" lang="en">rail A to B</span></span></th>',
  );
  const names = pairOf('A Outer rail (Bezug)', 'A Outer rail (datum)');
  expect(asTwoLanguages(`<dd>${names}</dd>`, 'en')).toBe('<dd>A Outer rail (Bezug)</dd>');
});

test('a report in two languages: same results, both verdicts on the page, proven by an audit', async () => {
  const [job, out] = [await copyOf('TH-0412'), await temporary()];
  await changeJob(job, (document: { language: unknown }) => (document.language = ['it', 'es']));
  expect((await waysheet('report', job, '--out', out, '--no-pdf')).status).toBe(0);
  expect(
    (
      await waysheet(
        'report',
        sample('TH-0412'),
        '--out',
        join(out, 'one'),
        '--no-pdf',
        '--language',
        'de,fr',
      )
    ).status,
  ).toBe(0);
  const read = (path: string) => readFile(join(out, path), 'utf8');
  const [own, page] = [await read('TH-0412/results.json'), await read('TH-0412/report.html')];
  for (const language of ['it', 'es'] as const)
    expect(page).toContain(
      wordsOf(language).say('verdict.conforms', {
        rails: 2,
        phase: wordsOf(language).say('phase.as-left'),
        open: 0,
        all: 8,
      }),
    );
  expect(page).not.toMatch(/[\ufdd0-\ufdd2]/);
  // Only the job file, which names the languages, is another.
  const withoutInputs = (text: string) => ({ ...(JSON.parse(text) as { inputs: unknown }), inputs: null });
  expect(withoutInputs(own)).toEqual(withoutInputs(await read('one/TH-0412/results.json')));
  const { status, out: said } = await waysheet('audit', join(out, 'one/TH-0412'), '--json');
  expect((JSON.parse(said) as { differences: unknown[] }[])[0]!.differences).toEqual([]);
  expect(status).not.toBe(4);
});

test('an unknown or repeated language is refused with what there is', async () => {
  const said = async (language: unknown) => {
    const job = await copyOf('TH-0412');
    await changeJob(job, (document: { language: unknown }) => (document.language = language));
    return (await waysheet('check', job)).out;
  };
  expect(await said(['de', 'nl'])).toMatch(/"en" "de" "fr" "es" "it"/);
  expect(await said('nl')).toMatch(/"en" "de" "fr" "es" "it"/);
  expect(await said(['de', 'de'])).toMatch(/two different languages/);
  const { status, err } = await waysheet('report', sample('TH-0412'), '--language', 'de,nl');
  expect([status, err]).toEqual([
    2,
    expect.stringContaining('en, de, fr, es, it, or two of them such as de,en'),
  ]);
});

test('the run says first, then the job, then the brand', () => {
  const brand = { document: { language: 'fr' as const } };
  expect(languagesOf({ language: 'it', job: { language: 'de' }, brand })).toBe('it');
  expect(languagesOf({ job: { language: ['de', 'en'] }, brand })).toEqual(['de', 'en']);
  expect(languagesOf({ job: { language: null }, brand })).toBe('fr');
  expect(languagesOf({ job: { language: null } })).toBeNull();
  expect(runLanguage({ brand })).toBe('fr');
  expect(runLanguage({ language: ['es', 'en'], brand })).toBe('es');
});
