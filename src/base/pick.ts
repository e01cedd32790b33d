/** Some of the properties of an object, in this order. */
export const pick = <T extends object, K extends keyof T>(of: T, ...keys: K[]): Pick<T, K> =>
  Object.fromEntries(keys.map((key) => [key, of[key]])) as Pick<T, K>;

/** All properties but some. */
export const omit = <T extends object, K extends keyof T>(of: T, ...keys: K[]): Omit<T, K> =>
  Object.fromEntries(Object.entries(of).filter(([key]) => !(keys as string[]).includes(key))) as Omit<T, K>;
