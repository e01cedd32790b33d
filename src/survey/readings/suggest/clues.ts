/** What a header of another program says about the readings below it: rail, axis, pass, set-up, and kind of column. */
import type { Axis } from '../../job/job.js';
import { soundOnes } from '../../job/declared.js';
import type { Frame } from '../../job/resolve-job.js';
import { conceptsOf, headerWords, type Concept } from './header-words.js';

export interface Clues {
  readonly rail: string | null;
  readonly setup: string | null;
  readonly target: string | null;
  readonly axis: Axis | null;
  readonly pass: string | null;
  /** Everything that one of its words can mean. */
  readonly concepts: ReadonlySet<Concept>;
  /** The unit as the header writes it. */
  readonly unit: string | null;
  /** Words without a meaning here. */
  readonly strange: readonly string[];
}

const AXES = ['vertical', 'horizontal', 'along'] as const;

export function cluesOf(header: string, frame: Frame): Clues {
  const { words: written, unit } = headerWords(header);
  const rails = idsByWord(frame.rails.keys());
  for (const [word, id] of railNames(frame)) if (!rails.has(word)) rails.set(word, id);
  const [setups, targets] = [idsByWord(frame.setups.keys()), idsByWord(frame.targets?.keys() ?? [])];
  const words = written.flatMap((word) => splitRailAndAxis(word, rails));
  const concepts = new Set<Concept>();
  const strange: string[] = [];
  let rail: string | null = null;
  let setup: string | null = null;
  let target: string | null = null;
  let pass: string | null = null;
  let axis: Axis | null = null;
  for (const [i, word] of words.entries()) {
    const pair = i + 1 < words.length ? word + words[i + 1]! : '';
    const means = conceptsOf(word);
    // Ids of two words (S 1 of S1) come first; single letters are ids before they are abbreviations.
    setup ??= setups.get(pair) ?? (setups.has(word) ? setups.get(word)! : null);
    target ??= targets.get(pair) ?? targets.get(word) ?? null;
    rail ??= rails.get(pair) ?? rails.get(word) ?? null;
    if (rails.has(word) && word.length <= 2) continue;
    if (/^\d+$/.test(word)) {
      if (isPassNumber(words, i)) pass ??= String(Number(word));
      continue;
    }
    for (const concept of means) concepts.add(concept);
    axis ??= AXES.find((a) => means.has(a)) ?? null;
    if (means.size === 0 && !setups.has(pair) && !targets.has(pair) && !rails.has(pair) && !rails.has(word))
      strange.push(word);
  }
  return { rail, setup, target, axis, pass, concepts, unit, strange };
}

/** Ids in lower case, without the characters between letters and digits. */
const idsByWord = (ids: Iterable<string>): Map<string, string> =>
  new Map([...ids].map((id) => [id.toLowerCase().replace(/[^\p{L}\p{N}]/gu, ''), id]));

/** Words of rails' names that tell one rail from the others: `north` of "North rail". */
function railNames(frame: Frame): Map<string, string> {
  const words = new Map<string, string | null>();
  for (const { id, name } of soundOnes(frame.rails)) {
    for (const word of new Set(headerWords(name ?? '').words)) {
      if (conceptsOf(word).size > 0 || word.length < 3) continue;
      words.set(word, words.has(word) ? null : id);
    }
  }
  return new Map([...words].flatMap(([word, id]) => (id === null ? [] : [[word, id]])));
}

/** `av` is rail A, vertical; `vb` vertical, rail B. */
function splitRailAndAxis(word: string, rails: ReadonlyMap<string, string>): string[] {
  if (rails.has(word) || conceptsOf(word).size > 0) return [word];
  for (let i = 1; i < word.length; i++) {
    const [one, other] = [word.slice(0, i), word.slice(i)];
    const isAxis = (part: string) => AXES.some((axis) => conceptsOf(part).has(axis));
    if ((rails.has(one) && isAxis(other)) || (isAxis(one) && rails.has(other))) return [one, other];
  }
  return [word];
}

/** A number is that of a pass after a word for pass or reading, an axis or a rail; not after `station` or `set-up`. */
function isPassNumber(words: readonly string[], i: number): boolean {
  const before = conceptsOf(words[i - 1] ?? '');
  if (before.has('setup') || before.has('target') || before.has('monument')) return false;
  if (before.has('pass') || before.has('reading') || AXES.some((axis) => before.has(axis))) return true;
  return words.length > 1 && !before.has('station') && !before.has('rail');
}

/**
 * What the name of a file says about all its readings: a rail or a set-up. A letter by itself counts only after a word for rail
 * ("rail-A", "schiene_b") or at an end of the name ("as-left-B"): "a" is a word as well.
 */
export function cluesOfFile(file: string, frame: Frame): { rail: string | null; setup: string | null } {
  const name = file.replace(/^.*[\\/]/, '').replace(/\.\w+$/, '');
  const { words } = headerWords(name);
  const names = new Map([...railNames(frame), ...idsByWord(frame.rails.keys())]);
  const setups = idsByWord(frame.setups.keys());
  const isAfterRail = (i: number) => conceptsOf(words[i - 1] ?? '').has('rail');
  const isAtEnd = (i: number) => words.length > 1 && i === words.length - 1;
  const pairAt = (i: number) => `${words[i]}${words[i + 1] ?? ''}`;
  const railIds = words.flatMap((word, i) => {
    const id = names.get(word) ?? names.get(pairAt(i));
    return id !== undefined && (word.length > 1 || isAfterRail(i) || isAtEnd(i) || words.length === 1)
      ? [id]
      : [];
  });
  const setupIds = words.flatMap((word, i) => setups.get(pairAt(i)) ?? setups.get(word) ?? []);
  return { rail: onlyOne(railIds), setup: onlyOne(setupIds) };
}

const onlyOne = (ids: readonly string[]): string | null => (new Set(ids).size === 1 ? ids[0]! : null);
