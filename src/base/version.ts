/** What a report is stamped with. Kept equal to package.json by a test. */
export const VERSION = '0.6.0';

/**
 * Edition of the method: the model, the adjustment, the intervals. It changes whenever the same readings could
 * give another number; the message of the release's tag says which numbers and by how much.
 */
export const METHOD = '2026-12.3';

/** As every document names what made it. */
export const SOFTWARE = { name: 'waysheet', version: VERSION, method: METHOD } as const;
