/** What can go wrong, or is worth saying, between this program and a browser. */

/** Stable names; a caller turns them into its own diagnostics. */
export type BrowserTroubleCode =
  /** The path in WAYSHEET_BROWSER (or the option) is not a program. */
  | 'BROWSER_SETTING_WRONG'
  /** No place on this machine is private, writable and executable. */
  | 'BROWSER_NO_PRIVATE_FOLDER'
  /** The npm package does not hold the bytes that this version was tested with. */
  | 'BROWSER_PACKAGE_CHANGED'
  /** Nothing that can print was found, or nothing that was found starts. */
  | 'BROWSER_NONE'
  /** The browser ended, or stopped answering, in two attempts at one job. */
  | 'BROWSER_CRASHED'
  /** The printer was closed while the job waited or ran. */
  | 'BROWSER_CLOSED'
  /** The job took longer than its limit. */
  | 'PRINT_TIMEOUT'
  /** A font that the page declares cannot be read. */
  | 'PRINT_FONT_FAILED'
  /** A picture that the page carries within itself cannot be read. */
  | 'PRINT_IMAGE_FAILED';

/**
 * Disk or browser trouble: nothing that the readings could cause. `message` says what happened and
 * what to do; `cause` keeps the original error.
 */
export class BrowserTrouble extends Error {
  override readonly name = 'BrowserTrouble';

  constructor(
    readonly code: BrowserTroubleCode,
    message: string,
    readonly data: Readonly<Record<string, string | number>> = {},
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}

/** Something the user should be told although the work went on. */
export interface BrowserNote {
  readonly code:
    /** Chromium runs without its own sandbox; `why` = root | refused. */
    | 'BROWSER_UNSANDBOXED'
    /** A better choice of browser did not start; `browser`, `why`. */
    | 'BROWSER_SKIPPED'
    /** The page asked for something from outside; it was not fetched. `url`. */
    | 'PRINT_REQUEST_BLOCKED'
    /** A font other than the bundled one was used; `font`. */
    | 'PRINT_OTHER_FONT';
  readonly data: Readonly<Record<string, string>>;
}

/** The text of an unknown thrown value, on one line. */
export function reasonOf(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  return text.split('\n', 1)[0]!.trim();
}
