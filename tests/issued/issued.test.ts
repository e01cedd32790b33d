/**
 * Reports of the samples as earlier versions issued them, each under the version's name: every later version must still
 * find that their figures follow from their readings. Their pages are not compared: only their own version can print
 * them. They are never made anew.
 *
 * What another version defined otherwise is named here, so that no figure is left out without a word.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { audit } from '../../src/archive/audit/audit.js';
import { exitCodes } from '../../src/cli/exit-codes.js';
import { VERSION } from '../../src/base/version.js';
import { waysheet } from '../support/command.js';
import { root } from '../support/folders.js';

const here = join(root, 'tests/issued');
const versions = readdirSync(here, { withFileTypes: true })
  .filter((entry) => entry.isDirectory() && entry.name !== VERSION)
  .map(({ name }) => name);

/** Of which nothing more than this may be left out. */
const LEFT_OUT = new Set([
  'the pages (report.pdf)',
  'the plan of moves',
  'figures with limits that differ to two sides',
  'what errors that do not show would do',
  'which readings and closures stand out',
  'what the program warned of',
  'the effects that nobody stated',
  'the wording of notes and reasons',
  'who vouches for it',
]);

describe.each(versions)('version %s', (version) => {
  test.each(readdirSync(join(here, version)))('%s: its figures are proven', async (name) => {
    const request = { job: null, tolerances: null, print: null, trust: null };
    const finding = await audit(join(here, version, name), request);
    expect(finding).toMatchObject({ figures: 'proven', pages: 'not-compared', differences: [] });
    expect(finding.madeBy).toContain(version);
    const left = finding.notCompared.map(({ what }) => what);
    expect(left).toContain('the pages (report.pdf)');
    expect(left.filter((what) => !LEFT_OUT.has(what))).toEqual([]);
  });
});

test('the command says that the pages were not compared, and ends in 5', async () => {
  const ran = await waysheet('audit', join(here, '0.4.0/TH-0412.pdf'));
  expect(ran.status).toBe(exitCodes.notCompared);
  expect(ran.out).toMatch(
    /not compared: the pages \(report\.pdf\): they were made by version 0\.4\.0.*audit-old\.sh 0\.4\.0/,
  );
});
