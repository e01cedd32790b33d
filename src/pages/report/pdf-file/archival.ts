/**
 * What makes a tagged PDF one for the archive and for screen readers: metadata that say so, colours that mean the same on
 * every machine, and everything that is not content marked as that.
 *
 * @see ISO 19005-3 (PDF/A-3, level A); ISO 14289-1 (PDF/UA-1). Held against veraPDF in the tests.
 */
import { readFileSync } from 'node:fs';
import { inflateSync } from 'node:zlib';
import { dictionaryText, readDictionary, textString } from './dictionary.js';
import type { DocumentOfJob } from '../print-job.js';
import { nextNumber, numberOf, type PdfFile } from './read-file.js';
import { compressedStream } from './write-file.js';

/**
 * The sRGB profile of Little CMS 2.19 ("No copyright, use freely"), its version set to 4.2 and its date to a fixed one.
 * Next to src/ and next to dist/.
 */
const SRGB = new URL('../../../../templates/srgb.icc', import.meta.url);

/** Compressed once. */
let srgb: string | undefined;

/** @param producer As the information dictionary has it: the two must agree. */
export function makeArchival(file: PdfFile, job: DocumentOfJob, producer: string): void {
  const { plain, streams, trailer } = file;
  const root = numberOf(trailer.get('Root'));
  const catalog = readDictionary(plain.get(root)!);
  const isMarked = markArtifacts(file);
  const next = nextNumber(file);
  const [profile, intent, metadata] = [next, next + 1, next + 2];
  streams.set(profile, (srgb ??= compressedStream(readFileSync(SRGB), { N: '3' })));
  plain.set(
    intent,
    dictionaryText({
      Type: '/OutputIntent',
      S: '/GTS_PDFA1',
      OutputConditionIdentifier: textString('sRGB IEC61966-2.1'),
      Info: textString('sRGB IEC61966-2.1'),
      DestOutputProfile: `${profile} 0 R`,
    }),
  );
  // Where some browser writes in a way that is not known here, nothing is claimed.
  const xmp = Buffer.from(xmpPacket(job, producer, isMarked), 'utf8').toString('latin1');
  streams.set(
    metadata,
    `${dictionaryText({ Type: '/Metadata', Subtype: '/XML', Length: String(xmp.length) })} stream\n${xmp}\nendstream`,
  );
  catalog.set('OutputIntents', `[${intent} 0 R]`);
  catalog.set('Metadata', `${metadata} 0 R`);
  plain.set(root, dictionaryText(catalog));
}

/**
 * Marks what a page draws outside its tagged content, such as what is in its margins, as an artifact.
 *
 * @returns false: a page is written in a way that is not known here; it is left as it is.
 * @see ISO 32000-1, 14.8.2.2.
 */
function markArtifacts({ plain, streams }: PdfFile): boolean {
  let isKnown = true;
  for (const body of plain.values()) {
    if (!/\/Type\s*\/Page(?![A-Za-z])/.test(body)) continue;
    const contents = readDictionary(body).get('Contents');
    if (contents === undefined) continue;
    const number = /^(\d+) 0 R$/.exec(contents)?.[1];
    const stream = number === undefined ? undefined : streams.get(Number(number));
    const drawing = stream === undefined ? null : unpacked(stream);
    const marked = drawing === null ? null : withArtifacts(drawing);
    if (marked === null) isKnown = false;
    else streams.set(Number(number), compressedStream(Buffer.from(marked, 'latin1'), {}));
  }
  return isKnown;
}

/** @returns null: packed otherwise than Chromium does it. */
function unpacked(body: string): string | null {
  const at = /stream\r?\n/.exec(body);
  if (at === null) return null;
  const head = readDictionary(body.slice(0, at.index));
  const data = Buffer.from(body.slice(at.index + at[0].length, -'\nendstream'.length), 'latin1');
  const filter = head.get('Filter');
  if (filter === undefined) return data.toString('latin1');
  return filter === '/FlateDecode' ? inflateSync(data).toString('latin1') : null;
}

const PATH = /(?:^|\s)(?:m|l|c|v|y|h|re)$/;
const PAINT = /(?:^|\s)(?:f\*?|S|s|B\*?|b\*?)$/;

/**
 * @param drawing Operators of a page as Chromium writes them: one a line, text between BT and ET.
 * @returns null: written otherwise.
 */
export function withArtifacts(drawing: string): string | null {
  const lines = drawing.split('\n');
  const out: string[] = [];
  let depth = 0;
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i]!;
    if (/(?:BDC|BMC)$/.test(line)) depth++;
    else if (line === 'EMC') depth--;
    if (depth < 0) return null;
    const end = depth > 0 ? i : endOfPiece(lines, i);
    if (end === null) return null;
    if (end === i) out.push(line);
    else {
      const piece = lines.slice(i, end);
      // What clips only, or names no paint, shows nothing.
      const shows = line === 'BT' || PAINT.test(piece[piece.length - 1]!);
      out.push(...(shows ? ['/Artifact BMC', ...piece, 'EMC'] : piece));
      i = end - 1;
    }
  }
  return depth === 0 ? out.join('\n') : null;
}

/** Behind a text object or a path with what is done with it; `i` itself where none begins. null: it has no end. */
function endOfPiece(lines: readonly string[], i: number): number | null {
  const line = lines[i]!;
  if (line === 'BT') {
    for (let k = i + 1; k < lines.length; k++) {
      if (/(?:BDC|BMC|EMC)$/.test(lines[k]!)) return null;
      if (lines[k] === 'ET') return k + 1;
    }
    return null;
  }
  // An image or a form outside the tags: none of ours has one.
  if (/\s(?:Do|sh)$/.test(line)) return null;
  if (!PATH.test(line)) return i;
  for (let k = i + 1; k < lines.length; k++) {
    const next = lines[k]!;
    if (PAINT.test(next) || /(?:^|\s)n$/.test(next)) return k + 1;
    if (!PATH.test(next) && !/^W\*?(?: n)?$/.test(next)) return null;
    if (/ n$/.test(next)) return k + 1;
  }
  return null;
}

const escaped = (text: string): string =>
  text
    // XML 1.0 has no way to write these.

    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, '')
    .replace(/[&<>"]/g, (c) => `&#${c.charCodeAt(0)};`);

/** @see ISO 16684-1 (XMP); ISO 19005-3, 6.6.2 and 6.6.4; ISO 14289-1, 5. */
function xmpPacket(job: DocumentOfJob, producer: string, isClaimed: boolean): string {
  const { title, author, subject, creator = 'waysheet', createdOn } = job;
  const date = new Date(createdOn).toISOString().replace(/\.\d+Z$/, 'Z');
  const alt = (name: string, text: string) =>
    `<dc:${name}><rdf:Alt><rdf:li xml:lang="x-default">${escaped(text)}</rdf:li></rdf:Alt></dc:${name}>`;
  const claims = `<pdfaid:part>3</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance><pdfuaid:part>1</pdfuaid:part>
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification schema</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name><pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>Part of ISO 14289</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>`;
  return `<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:xmp="http://ns.adobe.com/xap/1.0/" xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
${alt('title', title)}
${author === undefined ? '' : `<dc:creator><rdf:Seq><rdf:li>${escaped(author)}</rdf:li></rdf:Seq></dc:creator>`}
${subject === undefined ? '' : alt('description', subject)}
<xmp:CreatorTool>${escaped(creator)}</xmp:CreatorTool>
<xmp:CreateDate>${date}</xmp:CreateDate><xmp:ModifyDate>${date}</xmp:ModifyDate>
<pdf:Producer>${escaped(producer)}</pdf:Producer>
${isClaimed ? claims : ''}
</rdf:Description>
</rdf:RDF></x:xmpmeta>
<?xpacket end="r"?>`;
}
