/**
 * What ISO/IEC 17025:2017 asks of a report (7.8.2.1 a to p, 7.8.3, 7.8.4, 7.8.6, 7.8.7), item by item, on the text of the
 * printed PDF. The wording of the items is from excerpts (clause letters as cited there), not from the standard itself.
 */
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { fontFaceCss } from '../../../src/pages/fonts/fonts.js';
import { renderPage } from '../../../src/pages/report/html.js';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import type { Results } from '../../../src/results/results-schema.js';
import { changeJob, copyOf, resultsOf } from '../../support/folders.js';

let printer: Printer;
let results: Results;
const pages: string[] = [];
const all = () => pages.join(' ');

beforeAll(async () => {
  const folder = await copyOf('TH-2031');
  await changeJob(folder, (job) => {
    job.contacts = { issuer: '1 Tern Lane, Hollow (invented)', customer: '2 Quay Road (invented)' };
    job.approved = { by: 'E. Quill', on: '2026-03-17', role: 'head of the office' };
    job.procedure = 'TP-7, edition 3';
    job.revision = 'C';
    job.externalProviders = [{ name: 'Fen Rigging (invented)', did: 'lifting' }];
    job.phases = { 'as-left': { machineState: 'bridge parked at station 1' } };
    for (const instrument of job.instruments)
      instrument.calibrated = { by: 'Osprey Calibration (invented)', on: '2025-09-30' };
  });
  results = await resultsOf(folder);
  printer = await openPrinter();
  const { html, fontless } = renderPage(results, [], fontFaceCss());
  const bytes = await printer.print({ html, fontless, title: 't', createdOn: '2026-03-17', paper: 'A4' });
  const pdf = await getDocument({ data: new Uint8Array(bytes), verbosity: 0 }).promise;
  for (let n = 1; n <= pdf.numPages; n++) {
    const { items } = await (await pdf.getPage(n)).getTextContent();
    const text = items.map((item) => ('str' in item ? item.str : '')).join(' ');
    pages.push(text.replace(/[\u00a0\u202f\s]+/g, ' '));
  }
  await pdf.destroy();
});
afterAll(() => printer.close());

describe('7.8.2.1', () => {
  test.each([
    ['a: a title that says what it is', 1, /Acceptance report TH-2031/],
    ['b: name of who issues it', 1, /Tern Hollow Alignment Office/],
    ['c: where the work was done', 1, /Place Marrow Quay, plate shop/],
    ['e: customer', 1, /Customer Marrow Quay Shipyard/],
    ['g: the machine, unambiguously', 1, /Gantry mill .* serial no\. H-2207/],
    ['i: days of measurement', 1, /2026-03-12 to 2026-03-\s?14/],
    ['n: exclusions', 1, /rows? of readings (?:was|were) left out/],
    ['the limits with their document', 1, /Bed rails, drawing H-2207/],
    ['condition of the machine', 1, /bridge parked at station 1/],
    [
      '7.8.6: rule with its risk',
      1,
      /guarded acceptance, JCGM 106: .* risk of wrong acceptance at most 2\.5\s%/,
    ],
    ['7.8.7: what to do next is marked as an opinion', 1, /What to do next \(opinion\)/],
    ['l: only the items measured', 2, /relate only to the items measured/],
    ['o: who approved it, in which role', 2, /Approved by E\. Quill head of the office 2026-03-17/],
    [
      '7.8.6.2: each row with limit, interval, guard band, risk and verdict',
      2,
      /Limit .* interval .* Guard band Risk at most Verdict/,
    ],
  ] as const)('%s', (_, page, wanted) => expect(pages[page - 1]).toMatch(wanted));

  test.each([
    ['b, e: addresses', /1 Tern Lane, Hollow \(invented\)/],
    ['e: address of the customer', /2 Quay Road/],
    ['f: method, with its edition', /method 2026-12/],
    ['f: procedure', /TP-7, edition 3/],
    ['p: external providers', /Fen Rigging \(invented\) \(lifting\)/],
    ['7.8.3: temperature', /19\.4 to 20\.8 °C/],
    [
      '7.8.4: certificate, laboratory and day of calibration',
      /traceable through certificate DEMO-CAL-7702, issued by Osprey Calibration \(invented\) on 2025-09-30/,
    ],
    ['7.8.4: calibration due', /2026-09-30/],
    ['7.8.4: uncertainty with its factor', /expanded uncertainty U = 2·u/],
    ['7.8.4: before and after adjustment', /As found verdict As left/],
    ['7.8.7: section 3 is an opinion', /This section is an opinion/],
    ['m: units', /40 [µμ]m/],
  ] as const)('%s', (_, wanted) => expect(all()).toMatch(wanted));

  test('d: every page has report number and page of pages; the end is marked once, on the last', () => {
    pages.forEach((text, k) => {
      expect(text).toContain('Acceptance report TH-2031');
      expect(text).toContain(`Page ${k + 1} of ${pages.length}`);
    });
    expect(pages.filter((text) => text.includes('End of report TH-2031'))).toHaveLength(1);
    expect(pages.at(-1)).toContain('End of report TH-2031');
  });

  test('tables are numbered through, and Figure 1 is the first figure', () => {
    const numbers = [...all().matchAll(/Table (\d+) [A-Z]/g)].map(([, n]) => Number(n));
    expect([...new Set(numbers)]).toEqual(Array.from({ length: Math.max(...numbers) }, (_, k) => k + 1));
    expect(pages[0]).toContain('Figure 1');
  });

  test('no accreditation and no conformity with the standard is claimed', () => {
    expect(all()).not.toMatch(/17025|accredit/i);
  });
});
