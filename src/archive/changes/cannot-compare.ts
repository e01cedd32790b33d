/** The folder to compare with has no reports, or the run would write into it. */
export class CannotCompare extends Error {}
