/** A report in the look of an office carries that look: an audit makes its pages again, and a batch makes it anew when the look changes. */
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { audit } from '../../../src/archive/audit/audit.js';
import { claimOf } from '../../../src/archive/batch/unchanged.js';
import { cssString } from '../../../src/pages/report/css-string.js';
import { manifestSchema, type Manifest } from '../../../src/pages/deliverables/manifest.js';
import { openPrinter, type Printer } from '../../../src/pages/report/pdf.js';
import { makeDeliverables } from '../../../src/pipeline.js';
import { loadJob, withBrand } from '../../../src/solution/intake/load-job.js';
import { readBrand, type Brand } from '../../../src/survey/brand/read-brand.js';
import { sample, temporary } from '../../support/folders.js';
import { lie } from './kit.js';

let printer: Printer;
let brand: Brand;
let folder: string;
let manifest: Manifest;
let html: string;

beforeAll(async () => {
  printer = await openPrinter();
  const [read, loaded] = [await readBrand(sample('office-brand')), await loadJob(sample('TH-0412'))];
  if (!read.ok || !loaded.ok) throw new Error('refused');
  brand = read.value;
  const { files } = await makeDeliverables(
    sample('TH-0412'),
    withBrand(loaded.value, brand),
    loaded.diagnostics,
    Promise.resolve(printer),
  );
  folder = await lie(files, join(await temporary(), 'TH-0412'));
  const text = (name: string) => Buffer.from(files.get(name)!).toString('utf8');
  manifest = manifestSchema.parse(JSON.parse(text('manifest.json')));
  html = text('report.html');
});
afterAll(() => printer.close());

test('logo, letterhead, footer, terms and signatories are on the pages; the manifest names the files by their hash', () => {
  const { document, logo } = brand;
  const texts = [document.name, ...document.letterhead!, document.terms!, document.accreditation!];
  for (const text of [...texts, ...document.signatories!.map(({ name }) => name)])
    expect(html).toContain(text);
  // An equals sign is escaped in an attribute.
  expect(html.replaceAll('&#x3D;', '=')).toContain(`src="${logo!}"`);
  expect(html).toContain(cssString(document.footer!));
  for (const { path, sha256 } of brand.files)
    expect(manifest.inputs).toContainEqual(
      expect.objectContaining({ path, sha256, attachedAs: path.replace('../', '').replace('/', '--') }),
    );
});

test('the audit takes the look from the report and proves the pages', async () => {
  const finding = await audit(folder, {
    job: null,
    tolerances: null,
    print: () => Promise.resolve(printer),
    trust: null,
  });
  const { figures, pages } = finding;
  expect([figures, pages, finding.differences]).toEqual(['proven', 'proven', []]);
});

test('another look, or none, is another report', () => {
  const claim = (look: Brand | null) =>
    claimOf(sample('TH-0412'), folder, manifest, { pdf: true, given: null, brand: look });
  expect(claim(brand)).not.toBeNull();
  expect(claim(null)).toBeNull();
  const [first, ...others] = brand.files;
  expect(claim({ ...brand, files: [{ ...first!, sha256: '0'.repeat(64) }, ...others] })).toBeNull();
});
