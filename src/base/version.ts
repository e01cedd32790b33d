/** Version in every report. A test keeps it equal to package.json. */
export const VERSION = '0.6.0';

/**
 * Edition of the method: the model, the adjustment, the intervals. It changes if the same readings could give another
 * number. The CHANGELOG says which numbers change and by how much.
 */
export const METHOD = '2026-12.5';

/** The program as every document names it. */
export const SOFTWARE = { name: 'waysheet', version: VERSION, method: METHOD } as const;
