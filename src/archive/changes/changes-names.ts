/** Files of a comparison, in the output folder. */
export const changesNames: readonly string[] = ['json', 'csv', 'html', 'pdf'].map((end) => `changes.${end}`);
