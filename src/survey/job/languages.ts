/** Languages of what a customer or a crew reads. Numbers of results.json, commands and messages are English in all. */
export const languages = ['en', 'de', 'fr', 'es', 'it'] as const;
export type Language = (typeof languages)[number];
