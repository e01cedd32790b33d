/** From flags and answers to a plan. */
import { offsetRows, slopeRows, spanRows } from './planned-rows.js';
import type { Plan } from './plan.js';
import { questions, type Draft, type Question } from './questions.js';

/** Most rows of one phase that fit on a field sheet. */
const MOST_ROWS = 5000;

export interface Answers {
  /** By flag, as typed. */
  readonly given: Readonly<Record<string, string | undefined>>;
  /** The job's id where nothing else is said, if it can be one. */
  readonly folderName: string;
  /** null: nobody is asked. `said` is what comes before the question: why the last answer was not taken, an explanation. */
  readonly ask: ((question: string, usual: string, said: string | null) => Promise<string>) | null;
  /** The plan in words, to be looked at before the files are written. */
  readonly summary?: (plan: Plan) => string;
}

export type Answered =
  | { readonly ok: true; readonly plan: Plan; readonly taken: readonly string[] }
  | { readonly ok: false; readonly wrong: readonly string[] };

/** What is typed to go back one question, and to have one explained. */
const BACK = /^(?:<|back)$/i;
const WHY = /^\?+$/;

/** What was taken for each question so far. */
interface Taken {
  readonly text: string;
  readonly from: 'flag' | 'asked' | 'usual';
}

/**
 * @returns The plan, and what was taken as usual because nothing was said, as flags.
 *   Fails: with all flags that do not fit. Where someone is asked, such a flag is asked again instead.
 */
export async function answer({ given, folderName, ask, summary }: Answers): Promise<Answered> {
  const wrong: string[] = [];
  const texts: Taken[] = [];
  let draft = begin(folderName);
  const take = (question: Question, taken: Taken): string | null => {
    const why = question.take(taken.text, draft);
    if (why === null) texts.push(taken);
    return why;
  };
  /** To the last question that was asked; false: there is none. */
  const back = (): boolean => {
    const last = texts.findLastIndex(({ from }) => from === 'asked');
    if (last < 0) return false;
    const kept = texts.splice(0).slice(0, last);
    draft = begin(folderName);
    kept.forEach((taken, k) => take(questions[k]!, taken));
    return true;
  };
  for (;;) {
    while (texts.length < questions.length) {
      const question = questions[texts.length]!;
      const { flag } = question;
      const text = given[flag]?.trim();
      // A question that the user went back to is asked, even if a flag answers it.
      let why = text === undefined ? null : take(question, { text, from: 'flag' });
      if (text !== undefined && why === null) continue;
      const usual = question.usual(draft);
      if (ask !== null && (question.isAsked(draft) || why !== null)) {
        let said = why;
        for (;;) {
          const typed = (await ask(question.what(draft), usual, said)).trim();
          if (BACK.test(typed)) {
            if (back()) break;
            said = 'This is the first question.';
          } else if (WHY.test(typed)) said = question.explain;
          else if ((said = take(question, { text: typed || usual, from: 'asked' })) === null) break;
        }
        continue;
      }
      if (text === undefined) why = take(question, { text: usual, from: 'usual' });
      if (why === null) continue;
      wrong.push(`--${flag} ${JSON.stringify(text ?? usual)}: ${why}`);
      // So that later questions can still be looked at.
      question.take(question.usual(draft), draft);
      texts.push({ text: usual, from: 'flag' });
    }
    if (wrong.length > 0) return { ok: false, wrong };
    const plan = planOf(draft);
    const rows = offsetRows(plan).length + spanRows(plan).length + slopeRows(plan).length;
    const tooMany = `the plan has ${rows} rows a phase; at most ${MOST_ROWS} can be planned`;
    if (ask === null || summary === undefined) {
      if (rows > MOST_ROWS) return { ok: false, wrong: [tooMany] };
      return { ok: true, plan, taken: usualFlags(texts, draft) };
    }
    const said = `${summary(plan)}${rows > MOST_ROWS ? `\n${tooMany}: go back` : ''}`;
    const typed = (await ask('Make this folder: yes, or back', 'yes', said)).trim();
    if (/^(?:n|no)$/i.test(typed)) return { ok: false, wrong: ['stopped; nothing was written'] };
    if (/^(?:|y|yes)$/i.test(typed) && rows <= MOST_ROWS) return { ok: true, plan, taken: [] };
    back();
  }
}

/** The folder's name is the usual id where it can be one. */
function begin(folderName: string): Draft {
  const draft: Draft = { asked: {} };
  questions.find(({ flag }) => flag === 'id')!.take(folderName, draft);
  return draft;
}

function planOf(draft: Draft): Plan {
  // eslint-disable-next-line @typescript-eslint/no-unused-vars
  const { asked, ...plan } = draft;
  return plan as Plan;
}

const usualFlags = (texts: readonly Taken[], draft: Draft): string[] =>
  questions.flatMap((question, k) => {
    const { text, from } = texts[k]!;
    return from === 'usual' && text !== '' && question.isAsked(draft) ? [`--${question.flag} ${text}`] : [];
  });
