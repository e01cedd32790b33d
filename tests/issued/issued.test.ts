/**
 * Reports of the samples as earlier versions issued them, each under the version's name: every later version must still
 * find that they follow from their readings, and that each figure of their pages stands. They are never made anew.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { audit, isSound } from '../../src/audit/audit.js';
import { openPrinter, type Printer } from '../../src/report/pdf.js';
import { VERSION } from '../../src/version.js';
import { root } from '../support/folders.js';

const here = join(root, 'tests/issued');
const versions = readdirSync(here, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => name);

let printer: Printer;
beforeAll(async () => {
  printer = await openPrinter();
});
afterAll(() => printer.close());

describe.each(versions)('version %s', (version) => {
  test.each(readdirSync(join(here, version)))('%s', async (name) => {
    const finding = await audit(join(here, version, name), { job: null, tolerances: null }, () =>
      Promise.resolve(printer),
    );
    expect(finding.files).toEqual([]);
    expect(finding.results).toEqual([]);
    expect(finding.pages).toEqual([]);
    expect(isSound(finding)).toBe(true);
    expect(finding.issuedBy).toContain(version);
    // By the same version and browser they are, byte for byte, what is printed now: a page that changes is another version's.
    if (version === VERSION && printer.browser.startsWith('packed'))
      expect(finding.pagesCompared).toBe('bytes');
  });
});
