/** Kinds of options that several commands have. Each message continues a sentence that begins with the option's name. */
import * as z from 'zod';
import { languages, languagesSchema } from '../survey/job/languages.js';

const about = (value: string, description: string) => ({ value, description });

/** Free text or a path; undefined where it is not given. */
export const text = (value: string, description: string) =>
  z.string().meta(about(value, description)).optional();

/** Free text or a path that is always needed. */
export const neededText = (value: string, description: string) =>
  z
    .string({ error: 'is needed' })
    .refine((given) => given.trim() !== '', 'must not be empty')
    .meta(about(value, description));

/** The same with a default. */
export const textOr = (usual: string, value: string, description: string) =>
  z.string().meta(about(value, description)).default(usual);

export const flag = (description: string) => z.boolean().meta({ description }).default(false);

/** A whole number from 1 to `most`. @param what 'a number of seconds': what the message says it takes. */
export const whole = (what: string, most: number, value: string, description: string) =>
  z
    .string()
    .meta(about(value, description))
    .refine((given) => /^\d{1,9}$/.test(given) && Number(given) >= 1 && Number(given) <= most, {
      error: ({ input }) => `takes ${what} from 1 to ${most}, not '${String(input)}'`,
    })
    .transform(Number);

/** Seconds with a fraction. */
export const seconds = (least: number, most: number, description: string) =>
  z
    .string()
    .meta(about('SECONDS', description))
    .refine(
      (given) => /^\d{1,6}(?:\.\d{1,6})?$/.test(given) && Number(given) >= least && Number(given) <= most,
      { error: ({ input }) => `takes a number of seconds from ${least} to ${most}, not '${String(input)}'` },
    )
    .transform(Number);

/** A day of the calendar, ISO 8601. */
export const day = (description: string) =>
  z
    .string()
    .meta(about('DAY', description))
    .refine((given) => z.iso.date().safeParse(given).success, {
      error: ({ input }) => `takes a day such as 2026-03-16, not '${String(input)}'`,
    });

/** One of some words. */
export const oneOf = <const T extends readonly [string, ...string[]]>(
  known: T,
  value: string,
  description: string,
) =>
  z
    .enum(known, { error: ({ input }) => `is one of ${known.join(', ')}, not '${String(input)}'` })
    .meta(about(value, description));

/** Of reports, in place of the one that the job asks for. */
export const language = () =>
  z
    .string()
    .meta(
      about(
        'LANG',
        `Language of the reports: ${languages.join(', ')}; two next to each other: de,en. Default: that of the job.`,
      ),
    )
    .transform((given, context) => {
      const parts = given.split(',');
      const known = languagesSchema.safeParse(parts.length === 1 ? given : parts);
      if (known.success) return known.data;
      context.issues.push({
        code: 'custom',
        input: given,
        message: `is one of ${languages.join(', ')}, or two of them such as de,en, not '${given}'`,
      });
      return z.NEVER;
    })
    .optional();
