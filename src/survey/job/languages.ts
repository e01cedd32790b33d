/** Languages of what a customer or a crew reads. Numbers of results.json, commands and messages are English in all. */
import * as z from 'zod';

export const languages = ['en', 'de', 'fr', 'es', 'it'] as const;
export type Language = (typeof languages)[number];

/** One language, or two next to each other in the report; sheets are in the first. */
export const languagesSchema = z.union([
  z
    .tuple([z.enum(languages), z.enum(languages)])
    .refine(([first, second]) => first !== second, 'two different languages'),
  z.enum(languages),
]);
export type Languages = z.infer<typeof languagesSchema>;

export const firstLanguage = (of: Languages): Language => (typeof of === 'string' ? of : of[0]);

/** Of a whole run. */
export interface Asked {
  readonly language?: Languages | undefined;
  readonly brand?: { readonly document: { readonly language?: Languages | undefined } } | null;
}

/** Of the run, else of the job, else of the office; null: nobody names one. */
export const languagesOf = ({
  language,
  job,
  brand,
}: Asked & { readonly job: { readonly language: Languages | null } }): Languages | null =>
  language ?? job.language ?? brand?.document.language ?? null;

/** Of the pages of a whole run: register and changes. */
export function runLanguage(asked: Asked): Language | undefined {
  const of = languagesOf({ ...asked, job: { language: null } });
  return of === null ? undefined : firstLanguage(of);
}
