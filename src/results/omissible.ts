/** What a report should have, and may be issued without where that is said. @see ISO/IEC 17025:2017, 7.8.2.1 o and 6.5. */
export const omissible = ['approver', 'traceability'] as const;
export type Omissible = (typeof omissible)[number];
