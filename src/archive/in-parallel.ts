/** Runs actions that wait for the disk, a few at a time; results in the order of the items. */
export async function inParallel<T, R>(items: readonly T[], action: (item: T) => Promise<R>): Promise<R[]> {
  const results = new Array<R>(items.length);
  let next = 0;
  const work = async () => {
    for (let i = next++; i < items.length; i = next++) results[i] = await action(items[i]!);
  };
  await Promise.all(Array.from({ length: 8 }, work));
  return results;
}
