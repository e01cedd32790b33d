/** Where a command writes: results to `out`, progress and messages to `err`. */
export interface Console {
  readonly out: (text: string) => void;
  readonly err: (text: string) => void;
  /** Whether `err` is a terminal that a line may be rewritten on. */
  readonly isInteractive: boolean;
  /** Characters in a line of `out`; left out where it is no terminal. */
  readonly columns?: number;
}

export const processConsole: Console = {
  out: (text) => void process.stdout.write(text),
  err: (text) => void process.stderr.write(text),
  columns: process.stdout.columns,
  isInteractive:
    process.stderr.isTTY === true && process.env['TERM'] !== 'dumb' && process.env['NO_COLOR'] === undefined,
};
