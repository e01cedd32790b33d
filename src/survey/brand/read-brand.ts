/**
 * The look of an office, from a folder: brand.json and the files that it names, each checked. It becomes an input of every
 * report that is made with it, so that an audit has what it takes to make the pages again.
 */
import { createHash } from 'node:crypto';
import { join } from 'node:path';
import { Findings, sortDiagnostics, type Outcome, type Place } from '../../base/diagnostics/diagnostic.js';
import { decodeText } from '../../base/input/decode.js';
import type { InputFile } from '../../base/input/input-file.js';
import { readInputFile } from '../job/input-file.js';
import { parseJsonSource, type JsonSource } from '../job/json-source.js';
import { checkSchema } from '../job/schema-findings.js';
import { brandSchema, type BrandDocument } from './brand-schema.js';
import { cleanSvg } from './clean-svg.js';
import { contrastOnWhite } from './contrast.js';

/** Plain data: it crosses to worker processes. */
export interface Brand {
  readonly document: BrandDocument;
  /** A data: address of the logo as it is drawn; null: there is none. */
  readonly logo: string | null;
  /** WOFF2 in base64; null: the bundled font. */
  readonly font: { readonly regular: string; readonly bold: string | null } | null;
  /** The files, with the path that they have among a report's inputs. */
  readonly files: readonly (InputFile & { readonly base64: string })[];
}

/** In the list of inputs, where no file of a job can be (job-paths.ts). */
const BRAND_FOLDER = '../brand/';
export const BRAND_FILE = 'brand.json';

/** true: the input belongs to a brand and is no file of the job. */
export const isBrandPath = (path: string): boolean => path.startsWith(BRAND_FOLDER);

const MOST_BYTES = 2 ** 20;
const LEAST_CONTRAST = { headings: 4.5, rules: 3 } as const;

type Reader = (name: string, place: Place) => Promise<Uint8Array | Outcome<never>>;

/**
 * @param folder That holds brand.json.
 * @returns Fails: with everything that is wrong, each at its key. Warns of parts of a logo that are left out.
 */
export const readBrand = (folder: string): Promise<Outcome<Brand>> =>
  brandOf(
    async (name, place) => {
      const read = await readInputFile(folder, name, '', MOST_BYTES, place);
      return read.ok ? read.value.bytes : read;
    },
    join(folder, BRAND_FILE),
  );

/** From the inputs of a report. @returns null: it was made without one, or not all of its files are there. */
export async function brandFromInputs(inputs: ReadonlyMap<string, Uint8Array>): Promise<Brand | null> {
  if (!inputs.has(BRAND_FOLDER + BRAND_FILE)) return null;
  const made = await brandOf(
    (name) => Promise.resolve(inputs.get(BRAND_FOLDER + name) ?? { ok: false, diagnostics: [] }),
    BRAND_FILE,
  );
  return made.ok ? made.value : null;
}

async function brandOf(read: Reader, shownAs: string): Promise<Outcome<Brand>> {
  const findings = new Findings();
  const files: Brand['files'][number][] = [];
  const take = async (name: string, place: Place, as: string): Promise<Uint8Array | null> => {
    const bytes = await read(name, place);
    if (!(bytes instanceof Uint8Array)) {
      findings.list.push(...bytes.diagnostics);
      return null;
    }
    files.push({
      path: BRAND_FOLDER + name,
      bytes: bytes.length,
      sha256: createHash('sha256').update(bytes).digest('hex'),
      read: as,
      base64: Buffer.from(bytes).toString('base64'),
    });
    return bytes;
  };
  const failed = (): Outcome<never> => ({ ok: false, diagnostics: sortDiagnostics(findings.list) });
  const bytes = await take(BRAND_FILE, { file: shownAs }, 'UTF-8');
  if (bytes === null) return failed();
  const text = decodeText(bytes, shownAs);
  if (!text.ok) return text;
  const source = parseJsonSource(text.value.text, shownAs);
  if (!source.ok) return source;
  const document = checkSchema(brandSchema, source.value, findings);
  if (document === null) return failed();
  checkColours(document, source.value, findings);
  const logo = await logoOf(document, source.value, take, findings);
  const font = await fontOf(document, source.value, take, findings);
  if (findings.hasErrors) return failed();
  return { ok: true, value: { document, logo, font, files }, diagnostics: sortDiagnostics(findings.list) };
}

function checkColours({ colours = {} }: BrandDocument, source: JsonSource, findings: Findings): void {
  for (const of of ['headings', 'rules'] as const) {
    const colour = colours[of];
    if (colour === undefined) continue;
    const contrast = contrastOnWhite(colour);
    if (contrast < LEAST_CONTRAST[of])
      findings.wrong(
        `${colour}, which has a contrast of ${contrast.toFixed(1)} to 1 against white`,
        `a darker colour, with at least ${LEAST_CONTRAST[of]} to 1 (WCAG 2)`,
        source.at(['colours', of]),
      );
  }
}

type Take = (name: string, place: Place, as: string) => Promise<Uint8Array | null>;

const startsWith = (bytes: Uint8Array, ...head: readonly number[]): boolean =>
  head.every((byte, i) => bytes[i] === byte);
const MOST_PIXELS = 4000;

async function logoOf(
  { logo }: BrandDocument,
  source: JsonSource,
  take: Take,
  findings: Findings,
): Promise<string | null> {
  if (logo === undefined) return null;
  const place = source.at(['logo']);
  const bytes = await take(logo, place, logo.toLowerCase().endsWith('.svg') ? 'SVG' : 'PNG');
  if (bytes === null) return null;
  if (startsWith(bytes, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a) && bytes.length > 33) {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
    const size = [view.getUint32(16), view.getUint32(20)] as const;
    if (size.every((pixels) => pixels >= 1 && pixels <= MOST_PIXELS))
      return `data:image/png;base64,${Buffer.from(bytes).toString('base64')}`;
    findings.wrong(
      `${logo} of ${size.join(' by ')} pixels`,
      `at most ${MOST_PIXELS} by ${MOST_PIXELS} pixels`,
      place,
    );
    return null;
  }
  const clean = cleanSvg(Buffer.from(bytes).toString('utf8'));
  if (clean === null) {
    findings.wrong(
      `${logo}, which is neither a PNG file nor an SVG file that can be read`,
      'a PNG, or an SVG of well-formed XML with a viewBox or with width and height, without entities',
      place,
    );
    return null;
  }
  if (clean.leftOut.length > 0)
    findings.warn('LOGO_PARTS_LEFT_OUT', { logo, parts: clean.leftOut.join(', ') }, place);
  return `data:image/svg+xml;base64,${Buffer.from(clean.svg, 'utf8').toString('base64')}`;
}

async function fontOf(
  { font }: BrandDocument,
  source: JsonSource,
  take: Take,
  findings: Findings,
): Promise<Brand['font']> {
  if (font === undefined) return null;
  const one = async (key: 'regular' | 'bold'): Promise<string | null> => {
    const name = font[key];
    if (name === undefined) return null;
    const place = source.at(['font', key]);
    const bytes = await take(name, place, 'WOFF2');
    if (bytes === null) return null;
    // @see WOFF File Format 2.0, 4.1: signature 'wOF2'; the length of the whole file at 8.
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
    if (startsWith(bytes, 0x77, 0x4f, 0x46, 0x32) && bytes.length >= 48 && view.getUint32(8) === bytes.length)
      return Buffer.from(bytes).toString('base64');
    findings.wrong(`${name}, which is no WOFF2 file, or is not whole`, 'a font in WOFF2', place);
    return null;
  };
  const [regular, bold] = [await one('regular'), await one('bold')];
  return regular === null ? null : { regular, bold };
}
