/** Small parts of sentences. */
import { counted } from '../../base/diagnostics/counted.js';
import { inEach } from '../words/pair.js';

/** Ends a text of unknown origin with one full stop. */
export const sentence = (text: string): string =>
  inEach(text.trim(), (trimmed) => (trimmed === '' || /[.!?]$/.test(trimmed) ? trimmed : `${trimmed}.`));

/** No line break after a sign that belongs to the next word. */
export const withSigns = (text: string): string => text.replace(/(?<=^|[\s(])([+±\u2212]) /g, '$1\u00a0');

export const capitalised = (text: string): string =>
  inEach(text, (one) => one.charAt(0).toUpperCase() + one.slice(1));

/** Number of names before "and 4 more": a single name beyond `most` is printed. */
export const namedOf = (n: number, most: number): number => (n <= most + 1 ? n : most);

/** ", with 1 confirmation": a person confirmed something unusual. */
export const confirmedWords = ({ confirmed = 0 }: { readonly confirmed?: number | undefined }): string =>
  confirmed === 0 ? '' : `, with ${counted(confirmed, 'confirmation')}`;
