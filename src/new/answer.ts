/** From flags and answers to a plan. */
import { offsetRows, spanRows } from './planned-rows.js';
import type { Plan } from './plan.js';
import { COUNT_FLAG, questions, takeCount, type Draft, type Question } from './questions.js';

/** Rows of one phase; a field sheet of more than this is no sheet any more. */
const MOST_ROWS = 5000;

export interface Answers {
  /** By flag, as typed. */
  readonly given: Readonly<Record<string, string | undefined>>;
  /** The job's id where nothing else is said, if it can be one. */
  readonly folderName: string;
  /** null: nobody is asked. `wrong` says why the last answer was not taken. */
  readonly ask: ((question: string, usual: string, wrong: string | null) => Promise<string>) | null;
}

export type Answered =
  | { readonly ok: true; readonly plan: Plan; readonly taken: readonly string[] }
  | { readonly ok: false; readonly wrong: readonly string[] };

/**
 * @returns The plan, and what was taken as usual because nothing was said, as flags.
 *   Fails: with all flags that do not fit. Where someone is asked, such a flag is asked again instead.
 */
export async function answer({ given, folderName, ask }: Answers): Promise<Answered> {
  const draft: Draft = { asked: {} };
  const wrong: string[] = [];
  const taken: string[] = [];
  const count = given[COUNT_FLAG];
  if (count !== undefined) {
    const why = takeCount(count.trim(), draft);
    if (why !== null) wrong.push(wrongFlag(COUNT_FLAG, count, why));
  }
  takeIfId(folderName, draft);
  for (const question of questions) {
    const { flag } = question;
    let text = given[flag]?.trim();
    let why = text === undefined ? null : question.take(text, draft);
    if (text !== undefined && why === null) continue;
    const usual = question.usual(draft);
    if (ask !== null && (question.isAsked(draft) || why !== null)) {
      do text = (await ask(question.what(draft), usual, why)).trim() || usual;
      while ((why = question.take(text, draft)) !== null);
      continue;
    }
    if (text === undefined) {
      why = question.take(usual, draft);
      if (usual !== '' && question.isAsked(draft)) taken.push(`--${flag} ${usual}`);
    }
    if (why !== null) {
      wrong.push(wrongFlag(flag, text ?? usual, why));
      takeUsual(question, draft);
    }
  }
  if (wrong.length > 0) return { ok: false, wrong };
  // eslint-disable-next-line @typescript-eslint/no-unused-vars
  const { asked, ...plan } = draft;
  const rows = offsetRows(plan as Plan).length + spanRows(plan as Plan).length;
  if (rows > MOST_ROWS)
    return { ok: false, wrong: [`the plan has ${rows} rows a phase; at most ${MOST_ROWS} can be planned`] };
  return { ok: true, plan: plan as Plan, taken };
}

/** The folder's name is the usual id where it can be one. */
function takeIfId(name: string, draft: Draft): void {
  const id = questions.find(({ flag }) => flag === 'id')!;
  id.take(name, draft);
}

/** So that later questions can still be looked at. */
function takeUsual(question: Question, draft: Draft): void {
  question.take(question.usual(draft), draft);
}

const wrongFlag = (flag: string, text: string, why: string): string =>
  `--${flag} ${JSON.stringify(text)}: ${why}`;
