/** What must be confirmed, as the form shows it: findings of one code and one file, when the page was made. */
export interface Asked {
  readonly code: string;
  readonly file: string | null;
  /** What was found, each finding in words. */
  readonly messages: readonly string[];
}
