/**
 * Sentences that results.json holds in English words, said in another language: a text that is what a message `doc.…` of
 * the English catalogue makes of some names is said by the same message of the other language, with the same names. A text
 * that no message makes stays as it is.
 */
import { en } from './en.js';
import { axisText } from './names.js';
import type { MessageKey, Words } from './words.js';

interface Pattern {
  readonly key: MessageKey;
  readonly names: readonly string[];
  readonly text: RegExp;
}

let compiled: readonly Pattern[] | undefined;

/** Longer sentences first: "tilt of A:3" is not what "{…} of …" would make of it. */
const patterns = (): readonly Pattern[] =>
  (compiled ??= (Object.entries(en) as [MessageKey, string][])
    .filter(([key]) => key.startsWith('doc.'))
    .sort(([, a], [, b]) => b.length - a.length)
    .map(([key, message]) => {
      const names: string[] = [];
      const source = message.replace(/\{(\w+)\}|[^{]+/g, (part, name?: string) => {
        if (name === undefined) return part.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&');
        names.push(name);
        // A name holds no colon: what comes after one is another part of the sentence.
        return name === 'values' || name === 'new' ? '(.+)' : '((?:(?!: ).)+?)';
      });
      return { key, names, text: new RegExp(`^${source}$`, 'u') };
    }));

export function phrase(text: string, words: Words): string {
  if (words.language === 'en') return text;
  for (const { key, names, text: pattern } of patterns()) {
    const found = pattern.exec(text);
    if (found === null) continue;
    return words.say(
      key,
      Object.fromEntries(names.map((name, k) => [name, part(name, found[k + 1]!, words)])),
    );
  }
  return text;
}

/** Names of messages that hold another sentence of the document. */
const PHRASES: ReadonlySet<string> = new Set(['effect', 'reading', 'stations']);

const angles = ['yaw', 'pitch', 'roll'] as const;

/** What a name of a message stands for: an axis and an angle have words of their own, so have an effect and a reading. */
function part(name: string, text: string, words: Words): string {
  const angle = angles.find((one) => one === text);
  if (name === 'angle' && angle !== undefined) return words.say(`angle.${angle}`);
  if (name === 'axis') return axisText(text, words);
  if (name === 'values')
    return text
      .split(', ')
      .map((value) => {
        const [own, ...figure] = value.split(' ');
        return [axisText(own!, words), ...figure].join(' ').replace('.', words.mark);
      })
      .join(', ');
  if (name === 'value') return text.replace('.', words.mark);
  if (name === 'numbers' || name === 'ids')
    return words.list(
      text
        .split(/, | and /)
        .map((one) => one.replace(/^(\d+) to (\d+)$/, (_, from, to) => words.say('range', { from, to }))),
    );
  return PHRASES.has(name) ? phrase(text, words) : text;
}
