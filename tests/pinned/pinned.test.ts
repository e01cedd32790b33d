/**
 * No number changes unnoticed. What stands in tests/pinned/<METHOD> was made by the program when METHOD was raised; it is
 * no proof that a number is right (the second opinion, the published figures and the study are that), only that it is
 * still the same. `npm run pin` says how it may change.
 */
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { gunzipSync } from 'node:zlib';
import { compareResults } from '../../src/archive/compare-results.js';
import { METHOD } from '../../src/base/version.js';
import { madeAnew, names, type Pinned } from './made-anew.js';

const path = fileURLToPath(new URL(`./${METHOD}.json.gz`, import.meta.url));

describe(`METHOD ${METHOD}`, () => {
  const pinned = existsSync(path)
    ? (JSON.parse(gunzipSync(readFileSync(path)).toString('utf8')) as Pinned[])
    : [];

  test('every job is pinned under this METHOD', () => {
    expect(
      pinned.map(({ id }) => id),
      'a METHOD without its numbers: npm run pin',
    ).toEqual(names());
  });

  test.each(names())('%s: old and new agree in every digit and on the page', async (id) => {
    const old = pinned.find((p) => p.id === id)!;
    const made = await madeAnew(id);
    const differences = compareResults(old.results, made.results, (place) => place.startsWith('software'));
    expect(differences.slice(0, 20)).toEqual([]);
    expect(made.page).toBe(readFileSync(new URL(`./pages/${id}.txt`, import.meta.url), 'utf8'));
  });
});
