/** The look of an office: what is taken from its folder, and what is refused. */
import { cp, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { describe as words } from '../../../src/base/diagnostics/messages.js';
import { cleanSvg } from '../../../src/survey/brand/clean-svg.js';
import { contrastOnWhite } from '../../../src/survey/brand/contrast.js';
import { brandFromInputs, readBrand } from '../../../src/survey/brand/read-brand.js';
import { sample, temporary } from '../../support/folders.js';

async function folderWith(change: Record<string, unknown>, files: Record<string, string | Buffer> = {}) {
  const folder = await temporary();
  await cp(sample('office-brand'), folder, { recursive: true });
  const path = join(folder, 'brand.json');
  const brand = JSON.parse(await readFile(path, 'utf8')) as object;
  await writeFile(path, JSON.stringify({ ...brand, ...change }));
  for (const [name, text] of Object.entries(files)) await writeFile(join(folder, name), text);
  return folder;
}
const saidOf = async (folder: string) =>
  (await readBrand(folder)).diagnostics.map((d) => words(d)).join('\n');

test('the sample brand is taken whole, and again from the inputs of a report', async () => {
  const read = await readBrand(sample('office-brand'));
  expect(read.diagnostics).toEqual([]);
  if (!read.ok) throw new Error('refused');
  const { files } = read.value;
  expect(files.map(({ path }) => path)).toEqual(['../brand/brand.json', '../brand/logo.svg']);
  const inputs = new Map(
    files.map(({ path, base64 }) => [path, new Uint8Array(Buffer.from(base64, 'base64'))]),
  );
  expect(await brandFromInputs(inputs)).toEqual(read.value);
  expect(await brandFromInputs(new Map())).toBeNull();
});

test('a font of the office is taken, and is checked to be WOFF2 and whole', async () => {
  const font = await readFile(new URL('../../../templates/fonts/WaysheetSans-Bold.woff2', import.meta.url));
  const ask = { font: { regular: 'own.woff2' } };
  expect((await readBrand(await folderWith(ask, { 'own.woff2': font }))).ok).toBe(true);
  expect(await saidOf(await folderWith(ask, { 'own.woff2': font.subarray(0, 500) }))).toMatch(/not whole/);
  expect(await saidOf(await folderWith(ask, { 'own.woff2': 'OTTO' }))).toMatch(/no WOFF2 file/);
  expect(await saidOf(await folderWith(ask))).toMatch(/own\.woff2/);
});

test('everything that is wrong is said at once', async () => {
  const said = await saidOf(
    await folderWith(
      { colours: { headings: '#9fc5e8', rules: '#eeeeee' }, logo: 'photo.png', foot: 'x', letterhead: [] },
      { 'photo.png': 'no picture' },
    ),
  );
  expect(said).toMatch(/foot/);
  const rest = await saidOf(
    await folderWith(
      { colours: { headings: '#9fc5e8', rules: '#eeeeee' }, logo: 'photo.png' },
      { 'photo.png': 'no picture' },
    ),
  );
  expect(rest).toMatch(/#9fc5e8.*contrast of 1\.8 to 1/);
  expect(rest).toMatch(/#eeeeee.*contrast of 1\.2 to 1/);
  expect(rest).toMatch(/neither a PNG file nor an SVG file/);
});

// WCAG 2, understanding SC 1.4.3: #767676 on white is 4.54 to 1, #777777 is 4.48 to 1; black is 21 to 1 by definition.
test.each([
  ['#767676', 4.54],
  ['#777777', 4.48],
  ['#000000', 21],
  ['#ffffff', 1],
])('contrast of %s on white is %f', (colour, ratio) => {
  expect(contrastOnWhite(colour)).toBeCloseTo(ratio, 2);
});

describe('a logo of SVG', () => {
  const svg = (inside: string, more = '') =>
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"${more}>${inside}</svg>`;
  test.each([
    ['a script', '<script>alert(1)</script><path d="M0 0"/>', '<script>'],
    ['a handler', '<path d="M0 0" onload="alert(1)"/>', 'onload'],
    ['a picture from elsewhere', '<image href="https://example.org/a.png"/><path d="M0 0"/>', '<image>'],
    ['a link', '<a href="javascript:alert(1)"><path d="M1 1"/></a><path d="M0 0"/>', '<a>'],
    ['a style sheet', '<style>@import url(https://example.org)</style><path d="M0 0"/>', '<style>'],
    ['a foreign document', '<foreignObject><p>x</p></foreignObject><path d="M0 0"/>', '<foreignObject>'],
    ['a fill from elsewhere', '<path d="M0 0" fill="url(https://example.org/a#b)"/>', 'fill'],
    ['a part of another file', '<use href="other.svg#a"/><path d="M0 0"/>', 'href'],
  ])('is drawn without %s, and that is said', (_, inside, left) => {
    const clean = cleanSvg(svg(inside))!;
    expect(clean.leftOut).toContain(left);
    expect(clean.svg).toContain('<path d="M0 0"');
    expect(clean.svg).not.toMatch(/script|onload|example\.org|javascript|alert|other\.svg/);
  });
  test('keeps what only draws', () => {
    const inside =
      '<defs><linearGradient id="g"><stop offset="0" stop-color="#123456"></stop></linearGradient></defs><g fill="url(#g)"><use href="#g"></use><text x="1">A &amp; B</text></g>';
    expect(cleanSvg(svg(inside))).toEqual({ svg: svg(inside), leftOut: [] });
  });
  test.each([
    ['no XML', '<svg viewBox="0 0 1 1"><path></svg>'],
    ['another document', '<html><body/></html>'],
    ['no size', '<svg xmlns="http://www.w3.org/2000/svg"/>'],
    [
      'entities of its own',
      '<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg viewBox="0 0 1 1"><text>&a;</text></svg>',
    ],
  ])('is refused: %s', (_, text) => expect(cleanSvg(text)).toBeNull());
  test('property: whatever comes in, only listed parts come out', () => {
    const name = fc.constantFrom(
      'svg',
      'g',
      'path',
      'script',
      'a',
      'style',
      'image',
      'set',
      'iframe',
      'SCRIPT',
    );
    const key = fc.constantFrom('d', 'fill', 'onclick', 'href', 'style', 'xlink:href', 'id');
    const value = fc.constantFrom('M0 0', 'url(#a)', 'url(http://a)', 'javascript:1', '#b', '"&lt;script>');
    const one = fc
      .tuple(name, key, value)
      .map(([n, k, v]) => `<${n} ${k}="${v.replaceAll('"', '&quot;')}">x</${n}>`);
    fc.assert(
      fc.property(fc.array(one, { maxLength: 8 }), (parts) => {
        const out = cleanSvg(svg(parts.join(''), ' xmlns:xlink="http://www.w3.org/1999/xlink"'))!.svg;
        return (
          !/<(script|a|style|image|set|iframe)\b/i.test(out) && !/ on\w+=|http:\/\/a|javascript:/i.test(out)
        );
      }),
    );
  });
});
