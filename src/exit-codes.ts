/** What a command tells the shell. */
export const exitCodes = {
  done: 0,
  /** Anything else: disk, browser, a defect of the program. */
  failed: 1,
  usage: 2,
  refused: 3,
  auditDifference: 4,
} as const;
export type ExitCode = (typeof exitCodes)[keyof typeof exitCodes];
