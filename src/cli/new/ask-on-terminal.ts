/** Questions on a terminal, one line each, with the usual answer in brackets. */
import { createInterface } from 'node:readline/promises';

export interface Terminal {
  readonly input: NodeJS.ReadableStream;
  readonly output: NodeJS.WritableStream;
}

/** The user ended the questions: Ctrl-D, Ctrl-C, or a closed input. */
export class QuestionsEnded extends Error {}

export interface Asking {
  readonly ask: (question: string, usual: string, said: string | null) => Promise<string>;
  /** The answer, as it was typed. */
  readonly line: (words: string) => Promise<string>;
  readonly close: () => void;
}

const KEYS = 'An empty line takes the answer in brackets, ? explains, < goes back; Ctrl-C writes nothing.';

/** @param keys Printed first: what can be typed. */
export function askOnTerminal({ input, output }: Terminal, keys = KEYS): Asking {
  const lines = createInterface({ input, output });
  output.write(`${keys}\n`);
  // A question that is waiting when the input closes would never be answered.
  const ended = new Promise<never>((_, reject) => {
    lines.once('close', () => reject(new QuestionsEnded()));
  });
  ended.catch(() => undefined);
  const line = (words: string) => Promise.race([ended, lines.question(words)]);
  return {
    ask: (question, usual, said) =>
      line(`${said === null ? '' : `  ${said}\n`}${question}${usual === '' ? '' : ` [${usual}]`}: `),
    line,
    close: () => lines.close(),
  };
}
