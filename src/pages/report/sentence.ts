/** Small joints of English. */
import { counted } from '../../base/diagnostics/counted.js';
import { inEach } from '../words/pair.js';

/** Ends a text that came from elsewhere with one full stop. */
export const sentence = (text: string): string =>
  inEach(text.trim(), (trimmed) => (trimmed === '' || /[.!?]$/.test(trimmed) ? trimmed : `${trimmed}.`));

/** A sign that is spoken of stays with what it is said of: no line ends after it. */
export const withSigns = (text: string): string => text.replace(/(?<=^|[\s(])([+±\u2212]) /g, '$1\u00a0');

export const capitalised = (text: string): string =>
  inEach(text, (one) => one.charAt(0).toUpperCase() + one.slice(1));

/** How many of n a text names before it says "and 4 more": one beyond `most` is named rather than counted. */
export const namedOf = (n: number, most: number): number => (n <= most + 1 ? n : most);

/** ", with 1 confirmation": somebody vouches for what looked wrong. */
export const confirmedWords = ({ confirmed = 0 }: { readonly confirmed?: number | undefined }): string =>
  confirmed === 0 ? '' : `, with ${counted(confirmed, 'confirmation')}`;
