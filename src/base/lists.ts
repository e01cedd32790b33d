/** Lists by what their items have in common, and the greatest of a list. */

/** Items by their key, in the order of the first of each; items whose key is null are left out. */
export function groupBy<T, K>(list: Iterable<T>, keyOf: (item: T) => K | null): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const item of list) {
    const key = keyOf(item);
    if (key !== null) addTo(groups, key, item);
  }
  return groups;
}

/** Adds an item to the list of its key. */
export function addTo<T, K>(groups: Map<K, T[]>, key: K, item: T): void {
  const known = groups.get(key);
  if (known === undefined) groups.set(key, [item]);
  else known.push(item);
}

/** The first item with the greatest value; null: there is none. */
export function greatestBy<T>(list: readonly T[], valueOf: (item: T) => number): T | null {
  let greatest: T | null = null;
  for (const item of list) if (greatest === null || valueOf(item) > valueOf(greatest)) greatest = item;
  return greatest;
}

/** The first item with the least value; null: there is none. */
export const leastBy = <T>(list: readonly T[], valueOf: (item: T) => number): T | null =>
  greatestBy(list, (item) => -valueOf(item));
