/** Reasons in a crew's words: what is missing, and how to fix it. */
import type { Reason, Settling } from './reason.js';
import { reasonWording, settleWording, type Said } from './wording.js';

/** "What is missing; what else. To determine it: how to fix it; and that." */
export function reasonWords(reasons: readonly Reason[]): string {
  const all = reasons.map(({ code, data }) => (reasonWording[code] as (of: typeof data) => Said)(data));
  const plain = all.filter((one) => typeof one === 'string');
  const fixable = all.filter((one) => typeof one !== 'string');
  const once = (texts: readonly string[]) => [...new Set(texts)];
  const missing = [...plain, ...once(fixable.map((one) => one.missing))].join('; ');
  const fix = once(fixable.map((one) => one.fix)).join('; ');
  return fix === '' ? missing : `${missing}. To determine it: ${fix}`;
}

/** What would decide a verdict, in one sentence. */
export const settleWords = ({ code, data }: Settling): string =>
  (settleWording[code] as (of: typeof data) => string)(data);
