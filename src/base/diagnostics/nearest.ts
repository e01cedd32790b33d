/** The known word nearest to a misspelt one, for "did you mean". */

/**
 * Edit distance after Damerau (optimal string alignment): insertions, deletions, substitutions and swaps of
 * neighbours count 1 each. Upper and lower case are the same letter here.
 */
export function editDistance(one: string, other: string): number {
  const a = one.toLowerCase();
  const b = other.toLowerCase();
  let before: number[] = [];
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const cost = a[i - 1] === b[j - 1] ? 0 : 1;
      let least = Math.min(row[j - 1]! + 1, above[j]! + 1, above[j - 1]! + cost);
      const swapped = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (swapped) least = Math.min(least, before[j - 2]! + 1);
      row.push(least);
    }
    before = above;
    above = row;
  }
  return above[b.length]!;
}

/** Words longer than this are never compared: nobody misspells by that much. */
const LONGEST = 64;

/**
 * The known word with the least edit distance, the first of equals; '' when none is near. Near means at most
 * a third of the longer word, and at least 1, so `B1` is near `B` but `left` is not near `up`.
 */
export function nearest(word: string, known: Iterable<string>): string {
  if (word.length > LONGEST) return '';
  let best = '';
  let least = Infinity;
  for (const candidate of known) {
    if (candidate.length > LONGEST) continue;
    const allowed = Math.max(1, Math.floor(Math.max(word.length, candidate.length) / 3));
    const distance = editDistance(word, candidate);
    if (distance <= allowed && distance < least) [best, least] = [candidate, distance];
  }
  return best;
}
