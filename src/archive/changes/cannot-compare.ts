/** The folder to compare with holds no reports, or is one that the run would write to. */
export class CannotCompare extends Error {}
