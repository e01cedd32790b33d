/**
 * A finding for people in the hall: what happened and what to do, in words. A sentence that names keys of job.json is for the
 * office, which writes that file.
 */
import * as z from 'zod';
import type { Diagnostic } from '../../base/diagnostics/diagnostic.js';
import { confirmedBy, explain, numbered } from '../../base/diagnostics/messages.js';
import { jobSchema } from '../../survey/job/job-schema.js';
import { sentences } from '../words/phrases.js';
import type { Words } from '../words/words.js';

export interface CrewFinding {
  readonly text: string;
  /** What the office does in job.json; '': nothing. */
  readonly office: string;
}

let keys: ReadonlySet<string> | undefined;

/** Every key that job.json may have, at any place. */
const keysOfJob = (): ReadonlySet<string> =>
  (keys ??= new Set(keysIn(z.toJSONSchema(jobSchema, { io: 'input', unrepresentable: 'any' }))));

const keysIn = (node: unknown): string[] =>
  typeof node !== 'object' || node === null
    ? []
    : Object.entries(node).flatMap(([name, child]) => [
        ...(name === 'properties' ? Object.keys(child as object) : []),
        ...keysIn(child),
      ]);

/** A column of a readings file has its word before it, and `"use" = no` is written there too. */
const namesKey = (sentence: string): boolean =>
  [...sentence.matchAll(/(?<!column )"(\w+)"(:?)(?! =)/g)].some(
    ([, name, colon]) => colon === ':' || keysOfJob().has(name!),
  );

/** @returns Those without keys, and those with keys. */
function apart(text: string | null): readonly [plain: string | null, keyed: string | null] {
  const all = text?.split(/(?<=[.?]) (?=["A-Z])/) ?? [];
  const kept = (list: readonly string[]) => (list.length === 0 ? null : list.join(' '));
  return [kept(all.filter((one) => !namesKey(one))), kept(all.filter(namesKey))];
}

export function crewFinding(diagnostic: Diagnostic, words: Words): CrewFinding {
  const { what, expected, fix, causes } = explain(diagnostic);
  const happened = `${what}${expected === null ? '' : `; expected: ${expected}`}.`;
  const listed =
    causes === undefined ? [] : [`${causes.intro}: ${numbered(causes.list.map((c) => c.what)).join('; ')}.`];
  const said = (text: string | null) => (text === null ? '' : sentences(text, words));
  const fixes = causes?.list.map((cause) => apart(cause.fix)) ?? [];
  const [plain, keyed] = [0, 1].map((k) => {
    const own = numbered(fixes.map((parts) => said(parts[k]!)));
    return [...own.filter((_, i) => fixes[i]![k] !== null), said(apart(fix)[k]!)];
  }) as [string[], string[]];
  const isKeyed = namesKey(happened);
  const office = joined([isKeyed ? said(happened) : '', ...keyed]);
  return {
    text: joined([
      isKeyed ? '' : said(happened),
      ...listed.map(said),
      ...plain,
      office !== '' && joined(plain) === '' ? words.say('follow.tell-office') : '',
      confirmedBy(diagnostic).trim(),
    ]),
    office: office === '' ? '' : words.say('follow.office', { text: office }),
  };
}

const joined = (texts: readonly string[]): string => texts.filter((text) => text !== '').join(' ');
