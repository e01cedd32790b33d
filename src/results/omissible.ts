/** Items that a report should have. It may be issued without them if the report says so. @see ISO/IEC 17025:2017, 7.8.2.1 o and 6.5. */
export const omissible = ['approver', 'traceability'] as const;
export type Omissible = (typeof omissible)[number];
