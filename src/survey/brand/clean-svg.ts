/**
 * An SVG of unknown origin → the same picture of known parts: a list of elements and attributes that only draw. What is
 * not on the list is left out, so no script, no link, no style sheet and no foreign document can be in the result.
 * XML is read by saxes (strict, no external entities).
 */
import { SaxesParser } from 'saxes';

const ELEMENTS = new Set(
  'svg g defs symbol use title desc path rect circle ellipse line polyline polygon text tspan linearGradient radialGradient stop clipPath mask'.split(
    ' ',
  ),
);
const ATTRIBUTES = new Set(
  (
    'id viewBox width height x y x1 y1 x2 y2 cx cy r rx ry fx fy d points transform preserveAspectRatio version ' +
    'fill fill-opacity fill-rule stroke stroke-width stroke-opacity stroke-linecap stroke-linejoin stroke-miterlimit stroke-dasharray stroke-dashoffset ' +
    'opacity color clip-path clip-rule mask clipPathUnits maskUnits maskContentUnits offset stop-color stop-opacity gradientUnits gradientTransform spreadMethod ' +
    'font-family font-size font-weight font-style text-anchor letter-spacing dx dy display visibility'
  ).split(' '),
);
/** Values that name something else may name a part of the same picture alone. */
const NAMES_OTHERS = /url\s*\(|:|\\|@import|expression|javascript/i;
const OWN_PART = /^url\(#[\w-]+\)$/;

export interface CleanSvg {
  readonly svg: string;
  /** Elements and attributes that were left out, in words. */
  readonly leftOut: readonly string[];
}

const escaped = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');

/** @returns null: it is no well-formed XML, or its root is no `svg` with a size. */
export function cleanSvg(text: string): CleanSvg | null {
  const leftOut = new Set<string>();
  let out = '';
  let depth = 0;
  /** Depth of an element that is left out with all that is in it. */
  let skipped: number | null = null;
  let isSized = false;
  let isFaulty = false;
  const parser = new SaxesParser({ fragment: false });
  parser.on('error', () => (isFaulty = true));
  // Entities that a document declares for itself are a way to make a small file large.
  parser.on('doctype', (doctype) => {
    if (doctype.includes('<!ENTITY')) isFaulty = true;
  });
  parser.on('opentag', ({ name, attributes }) => {
    depth++;
    if (skipped !== null) return;
    if (!ELEMENTS.has(name) || (depth === 1) !== (name === 'svg')) {
      if (depth === 1) isFaulty = true;
      leftOut.add(`<${name}>`);
      skipped = depth;
      return;
    }
    const kept = Object.entries(attributes).flatMap(([key, value]) => {
      const isLink = (key === 'href' || key === 'xlink:href') && name === 'use' && /^#[\w-]+$/.test(value);
      if (isLink) return [` href="${value}"`];
      if (key === 'xmlns' || key.startsWith('xmlns:')) return [];
      const isPlain = ATTRIBUTES.has(key) && (!NAMES_OTHERS.test(value) || OWN_PART.test(value.trim()));
      if (!isPlain) leftOut.add(key);
      return isPlain ? [` ${key}="${escaped(value)}"`] : [];
    });
    if (depth === 1) isSized = 'viewBox' in attributes || ('width' in attributes && 'height' in attributes);
    out += `<${name}${depth === 1 ? ' xmlns="http://www.w3.org/2000/svg"' : ''}${kept.join('')}>`;
  });
  parser.on('closetag', ({ name }) => {
    if (skipped === null) out += `</${name}>`;
    else if (skipped === depth) skipped = null;
    depth--;
  });
  parser.on('text', (own) => {
    if (skipped === null && depth > 0) out += escaped(own);
  });
  try {
    parser.write(text).close();
  } catch {
    return null;
  }
  return isFaulty || !isSized ? null : { svg: out, leftOut: [...leftOut].sort() };
}
