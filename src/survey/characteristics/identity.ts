/** What tells a characteristic apart from the others of its phase; the same in all phases and in all reports of a job. */
import * as z from 'zod';
import { referenceNames } from './characteristic.js';
import { characteristicNames } from './characteristics.js';

/** For schemas of more than this: `...identityShape`. Lengths and places along are in mm. */
export const identityShape = {
  what: z.enum(characteristicNames),
  rail: z.string(),
  reference: z.enum(referenceNames).optional(),
  over: z.number().optional().describe('Length of the window of a local characteristic, mm.'),
  against: z.string().optional().describe('The other rail of a pair, if it is not the datum.'),
  rails: z.array(z.string()).optional().describe('Rails that are judged together.'),
  between: z.tuple([z.number(), z.number()]).optional().describe('Working length, mm along the rail.'),
  side: z
    .enum(['convex', 'hollow', 'both'])
    .optional()
    .describe('For signed departures from the line through the ends: to which side they may go.'),
};

type Shape = z.infer<z.ZodObject<typeof identityShape>>;

export interface Identity extends Readonly<Omit<Shape, 'rails' | 'between'>> {
  readonly rails?: readonly string[] | undefined;
  readonly between?: readonly [number, number] | undefined;
}

/** The same where an absent condition may be null, as in the register and in the changes. */
export type IdentityOrNull = { readonly [Key in keyof Identity]: Identity[Key] | null } & Pick<
  Identity,
  'what' | 'rail'
>;

const keys = Object.keys(identityShape) as (keyof Identity)[];

/** The identity alone, of anything that has one; conditions that are absent or null are left out. */
export const identityOf = (of: IdentityOrNull): Shape =>
  Object.fromEntries(
    keys.flatMap((key) => ((of[key] ?? null) === null ? [] : [[key, of[key]]])),
  ) as unknown as Shape;

/** For maps and sets: equal for equal identities alone. */
export const identityKey = (of: IdentityOrNull): string => JSON.stringify(keys.map((key) => of[key] ?? null));
