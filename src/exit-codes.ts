/** What a command tells the shell. */
export const exitCodes = {
  done: 0,
  /** Anything else: disk, browser, a defect of the program. */
  failed: 1,
  usage: 2,
  refused: 3,
  auditDifference: 4,
  /** Nothing differs, but not everything was compared. */
  notCompared: 5,
} as const;
export type ExitCode = (typeof exitCodes)[keyof typeof exitCodes];
