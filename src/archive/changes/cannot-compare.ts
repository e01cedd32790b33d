/** The folder to compare with has no reports, or the run would write to it. */
export class CannotCompare extends Error {}
