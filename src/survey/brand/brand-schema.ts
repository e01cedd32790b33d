/** brand.json: how an office wants its reports to look. Everything but the name is optional. */
import * as z from 'zod';
import { languagesSchema } from '../job/languages.js';

const line = (most: number) => z.string().trim().min(1).max(most);
const colour = z.string().regex(/^#[0-9a-fA-F]{6}$/);
const file = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._-]*$/);

export const brandSchema = z
  .strictObject({
    format: z.literal('waysheet-brand/1'),
    name: line(80).describe('Name of the office, next to the logo.'),
    logo: file.optional().describe('An SVG or PNG file in the same folder.'),
    colours: z
      .strictObject({
        headings: colour.optional().describe('Of headings: at least 4.5 to 1 against white.'),
        rules: colour.optional().describe('Of the rule under the letterhead: at least 3 to 1 against white.'),
      })
      .optional(),
    letterhead: z.array(line(80)).max(3).optional().describe('Lines under the name: address, telephone.'),
    accreditation: line(160).optional().describe('Printed at the right of the letterhead.'),
    language: languagesSchema
      .optional()
      .describe(
        'Language of a report whose job names none; a list of two: the second small below the first.',
      ),
    footer: line(90).optional().describe('At the foot of every page, in place of the issuer.'),
    terms: line(1500).optional().describe('At the end of the report.'),
    signatories: z
      .array(z.strictObject({ name: line(60), role: line(60) }))
      .max(3)
      .optional()
      .describe('Who may approve: a row to sign for each, where the job names nobody.'),
    font: z
      .strictObject({ regular: file, bold: file.optional() })
      .optional()
      .describe('WOFF2 files in the same folder, for headings and letterhead.'),
  })
  .describe('The look of an office: logo, colours, letterhead, footer, terms, signatories.');
export type BrandDocument = z.infer<typeof brandSchema>;
