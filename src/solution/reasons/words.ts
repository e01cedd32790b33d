/** Reasons in words: what is missing, and which reading would help. In English here, by messages of pages in their language. */
import { IntlMessageFormat } from 'intl-messageformat';
import { reasonMessages, settleMessages, type ReasonKey, type SettleKey } from './messages.js';
import type { Reason, Settling } from './reason.js';

type Parameters = Readonly<Record<string, string | number>>;
export interface ReasonSayer {
  readonly say: (key: ReasonKey, parameters: Parameters) => string;
  readonly mark: '.' | ',';
  /** "Twist" from its code; absent: the code stays, and so does the unit as the job writes it. */
  readonly name?: (what: string) => string;
}

const compiled = new Map<string, IntlMessageFormat>();
const messages: Readonly<Record<ReasonKey | SettleKey, string>> = { ...reasonMessages, ...settleMessages };
const english = {
  mark: '.',
  say: (key: ReasonKey | SettleKey, parameters: Parameters): string => {
    let message = compiled.get(key);
    if (message === undefined) compiled.set(key, (message = new IntlMessageFormat(messages[key], 'en')));
    return message.format(parameters) as string;
  },
} as const;

/** Numbers as they are told; what a message chooses by is a word. */
function parametersOf({ code, data }: Reason | Settling, { mark, name }: ReasonSayer): Parameters {
  const shown = Object.entries(data as Record<string, unknown>).map(([key, value]): [string, string] => {
    if (key === 'times' && code === 'readings-disagree') return [key, number((value as number).toFixed(1))];
    if (key === 'by' || key === 'apartM')
      return [key, value === null ? '' : number((value as number).toPrecision(3))];
    if (key === 'what' && code === 'limit-missed' && name !== undefined) return [key, name(String(value))];
    if (key === 'unit') return [key, name === undefined ? String(value) : String(value).replace('um', 'µm')];
    return [key, typeof value === 'number' ? number(String(value)) : String(value)];
  });
  const monuments = 'monuments' in data ? data.monuments : null;
  return {
    ...Object.fromEntries(shown),
    named: String(monuments !== null),
    monument1: monuments?.[0] ?? '',
    monument2: monuments?.[1] ?? '',
  };

  function number(text: string): string {
    return text.replace('.', mark);
  }
}

/** Whether all can be said: a document of another version may know others. */
export const areKnown = (reasons: readonly { readonly code: string }[]): reasons is readonly Reason[] =>
  reasons.length > 0 && reasons.every(({ code }) => isKey(`reason.${code}`));

const isKey = (key: string): key is ReasonKey => Object.hasOwn(reasonMessages, key);

/** "What is missing; what else. To determine it: which reading would help; and that." */
export function reasonWords(reasons: readonly Reason[], sayer: ReasonSayer = english): string {
  const { say } = sayer;
  const all = reasons.map((reason) => {
    const { code, data } = reason;
    const isCoarse = code === 'limit-missed' && data.apartM !== null;
    const parameters = parametersOf(reason, sayer);
    const fix = `reason.${code}.fix`;
    return {
      missing: say(isCoarse ? 'reason.limit-missed.coarse' : `reason.${code}`, parameters),
      fix: isKey(fix) ? say(fix, parameters) : null,
    };
  });
  const once = (texts: readonly string[]) => [...new Set(texts)];
  const plain = all.filter(({ fix }) => fix === null);
  const fixed = all.filter(({ fix }) => fix !== null);
  const missing = [...plain.map((one) => one.missing), ...once(fixed.map((one) => one.missing))].join('; ');
  const fix = once(fixed.map((one) => one.fix!)).join('; ');
  return fix === '' ? missing : say('reason.with-fix', { missing, fix });
}

/** In one sentence. */
export const settleWords = (settling: Settling): string =>
  english.say(`settle.${settling.code}`, parametersOf(settling, english));
