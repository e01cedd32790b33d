/**
 * The sections of a report after page 1, in the order of printing. Their numbers and letters come from here; what each one
 * is made of is its descriptor (sections/made.ts).
 */
const LIST = {
  body: ['results', 'figures', 'moves'],
  annex: ['survey', 'stations', 'checks', 'method'],
} as const;

export type SectionId = (typeof LIST)[keyof typeof LIST][number];

export const sectionIds: readonly SectionId[] = [...LIST.body, ...LIST.annex];

const annex: readonly string[] = LIST.annex;

/** "2", or of an annex "B". Messages that refer to a section take it as a parameter. */
export const sectionNumber = (id: SectionId): string =>
  annex.includes(id)
    ? String.fromCharCode('A'.charCodeAt(0) + annex.indexOf(id))
    : String(1 + sectionIds.indexOf(id));
