/** What a diagnostic says, put together from its wording. */
import type { Diagnostic, DiagnosticCode, DiagnosticData } from './diagnostic.js';
import { wording, type Causes, type Said } from './wording.js';

/** What a diagnostic says, part by part; for pages that set them apart. */
export function explain<C extends DiagnosticCode>(diagnostic: Diagnostic<C>): Said {
  const word = wording[diagnostic.code] as (data: DiagnosticData[C]) => Said;
  const { what, expected, fix, causes } = word(diagnostic.data);
  const shown = (text: string | null) => (text === null ? null : visible(text));
  return {
    what: visible(what),
    expected: shown(expected),
    fix: shown(fix),
    ...(causes !== undefined && {
      causes: {
        intro: causes.intro,
        list: causes.list.map((one) => ({ what: visible(one.what), fix: shown(one.fix) })),
      },
    }),
  };
}

/** What happened, and its causes without what to do: a sentence or two. */
export function whatHappened(diagnostic: Diagnostic): string {
  const { what, causes } = explain(diagnostic);
  return causes === undefined
    ? `${what}.`
    : `${what}. ${causes.intro}: ${numbered(causes.list.map((c) => c.what)).join('; ')}.`;
}

export const numbered = (list: readonly string[]): readonly string[] =>
  list.length < 2 ? list : list.map((text, k) => `(${k + 1}) ${text}`);

/** Each cause with its fix directly after it, as sentences. */
const causeSentences = ({ intro, list }: Causes): string =>
  ` ${intro}: ${numbered(list.map(({ what, fix }) => `${what}.${fix === null ? '' : ` ${fix}`}`)).join(' ')}`;

/** What a diagnostic says, in plain words; nothing in it can move a terminal's cursor or turn text round. */
export const describe = (diagnostic: Diagnostic): string =>
  `${wordsOf(diagnostic)}${confirmedBy(diagnostic)}`;

/** The same without who confirmed it. */
export function wordsOf(diagnostic: Diagnostic): string {
  const { what, expected, fix, causes } = explain(diagnostic);
  const listed = causes === undefined ? '' : causeSentences(causes);
  return `${what}${expected === null ? '' : `; expected: ${expected}`}.${listed}${fix === null ? '' : ` ${fix}`}`;
}

/** " Confirmed by …: …"; '' where nobody did. */
export const confirmedBy = ({ confirmed }: Diagnostic): string =>
  confirmed === undefined ? '' : ` Confirmed by ${visible(confirmed.by)}: ${visible(confirmed.because)}`;

/** What to do where it is right as it is; said once for all that is to be confirmed. */
export const HOW_TO_CONFIRM =
  'A person confirms what is right as it is, with name and reason: "waysheet check JOB --fix" asks for both, and the page of "waysheet form JOB" has a tick for each.';

/** Control characters, and those that turn the direction of text, by their number. */
export const visible = (text: string): string =>
  text.replace(
    /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]/g,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
