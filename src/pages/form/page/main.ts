/** The page of `waysheet form`: everything that job.json says, in fields; it works from a file, without a network. */
import { describe } from '../../../base/diagnostics/messages.js';
import { checkJob, type Checked } from './checks.js';
import type { Asked } from '../asked.js';
import { confirmPanel } from './confirm.js';
import { h } from './dom.js';
import { JobDocument, type Json } from './document.js';
import { Fields, folded, idListOf, idLists, opened } from './fields.js';
import { Plan } from './plan.js';
import { idOf, words, type Schema } from './schema.js';
import { sheetPanel } from './sheet.js';
import { signChoice } from './signs.js';

const dataOf = (id: string): unknown => JSON.parse(document.getElementById(id)!.textContent);
const schema = dataOf('schema') as Schema;
const job = new JobDocument(dataOf('job') as Json);
/** The job that the page was made of. */
const begun = job.text;
const place = `form of ${location.pathname}`;
const [undo, redo] = ['undo', 'redo'].map((id) => document.getElementById(id) as HTMLButtonElement) as [
  HTMLButtonElement,
  HTMLButtonElement,
];
const asked = dataOf('asked') as readonly Asked[];

/** What belongs together, in the order in which a job is told. */
const PARTS: readonly (readonly [title: string, keys: readonly string[]])[] = [
  [
    'The job',
    ['format', 'id', 'title', 'issuer', 'customer', 'site', 'machine', 'surveyed', 'prepared', 'conditions'],
  ],
  ['Units and paper', ['units', 'report']],
  ['Rails', ['rails']],
  ['Instruments', ['instruments', 'targets']],
  ['Set-ups and monuments', ['setups', 'monuments']],
  ['Readings', ['readings']],
  ['What must hold', ['tolerances', 'grade', 'decision']],
];
const told = new Set(PARTS.flatMap(([, keys]) => keys));

let checked: Checked = checkJob(job.text);
const sheets = new Map<number, HTMLElement>();

const done = document.getElementById('done')!;
const fields: Fields = new Fields({
  document: job,
  root: schema,
  say: (text) => (done.textContent = text),
  extra: (path) => {
    if (path.length === 2 && path[0] === 'setups') return signChoice(job, path[1] as number);
    if (path.length === 2 && path[0] === 'readings') {
      const index = path[1] as number;
      const known = sheets.get(index);
      if (known !== undefined) return known;
      const panel = sheetPanel({
        document: job,
        index,
        frame: () => checked.frame,
        refresh: () => redraw(path),
      });
      sheets.set(index, panel);
      return panel;
    }
    return null;
  },
});

/** The fields of an entry, with what was set otherwise than through them. */
function redraw(path: readonly (string | number)[]): void {
  const old = document.getElementById(idOf(path));
  const items = (schema.properties![String(path[0])]!.items ?? {}) as Schema;
  old?.replaceWith(fields.of(path, items, true));
}

const isRequired = (key: string): boolean => schema.required?.includes(key) === true;
const parts = [
  ...PARTS,
  ['More', Object.keys(schema.properties!).filter((key) => !told.has(key) && key !== '$schema')] as const,
];
const plan = new Plan(job, (path) => {
  for (const key of ['along', 'across']) {
    const input = document.getElementById(idOf([...path, key])) as HTMLInputElement | null;
    if (input) input.value = String(job.at([...path, key]));
  }
});

/** What is rarely said is closed while it is not said, and so are groups. */
function part(title: string, keys: readonly string[]): HTMLElement[] {
  // A key with one possible value is shown where it has another.
  const known = keys.filter((key) => {
    const own = schema.properties![key];
    return own !== undefined && (own.const === undefined || job.at([key]) !== own.const);
  });
  const made = (key: string) => fields.of([key], schema.properties![key]!, isRequired(key));
  const isClosed = (key: string) =>
    job.at([key]) === undefined && (title === 'More' || fields.isGroup(schema.properties![key]!));
  const closed = known.filter(isClosed).map((key) => [words(key), made(key)] as const);
  const open = known.filter((key) => !isClosed(key)).map(made);
  return closed.length === 0 ? open : [...open, folded(closed)];
}

function build(): void {
  sheets.clear();
  document
    .getElementById('parts')!
    .replaceChildren(
      ...[confirmPanel(job, asked)].filter((panel) => panel !== null),
      ...parts.map(([title, keys]) =>
        h(
          'section',
          { class: 'part' },
          h('h2', {}, title),
          ...(title === 'Rails' ? [plan.element] : []),
          ...part(title, keys),
        ),
      ),
    );
}

const problems = document.getElementById('problems')!;
const count = document.getElementById('count')!;
const text = document.getElementById('json') as HTMLTextAreaElement;

function say(): void {
  checked = checkJob(job.text);
  text.value = job.text;
  undo.disabled = !job.canUndo;
  redo.disabled = !job.canRedo;
  for (const list of idLists)
    document
      .getElementById(idListOf(list))!
      .replaceChildren(...idsIn(list).map((value) => h('option', { value })));
  const errors = checked.diagnostics.filter(({ severity }) => severity === 'error').length;
  const warnings = checked.diagnostics.length - errors;
  count.textContent =
    errors + warnings === 0
      ? 'Nothing is missing in job.json.'
      : `${errors} to be corrected, ${warnings} to be known.`;
  problems.replaceChildren(
    ...checked.diagnostics.slice(0, 40).map((d) => {
      const path = d.at?.column ?? '';
      const target = elementFor(path);
      const words = `${path === '' ? '' : `${path}: `}${describe(d)}`;
      if (target === null) return h('li', { class: d.severity }, words);
      return h(
        'li',
        { class: d.severity },
        h(
          'a',
          {
            href: `#${target.id}`,
            click: (event) => {
              event.preventDefault();
              opened(target);
              target.focus();
              target.scrollIntoView({ block: 'center' });
            },
          },
          words,
        ),
      );
    }),
  );
}

/** The field that a key path of a diagnostic is of, or what holds it. */
function elementFor(column: string): HTMLElement | null {
  const steps = column
    .replace(/\[(\d+)\]/g, '.$1')
    .split('.')
    .filter((s) => s !== '');
  for (let n = steps.length; n > 0; n--) {
    const id = steps.slice(0, n).join('.');
    const found = document.getElementById(id) ?? document.getElementById(`add.${id}`);
    if (found !== null) return found;
  }
  return null;
}

/** Ids that the job declares. */
function idsIn(list: string): string[] {
  const entries = job.at([list]);
  return Array.isArray(entries)
    ? entries.flatMap((e) =>
        typeof e === 'object' && e !== null && 'id' in e && e['id'] ? [String(e['id'])] : [],
      )
    : [];
}

document.body.append(...idLists.map((list) => h('datalist', { id: idListOf(list) })));
job.onChange(say);
job.onChange(remember);
build();
say();
recall();

function step(go: () => void, said: string): void {
  go();
  build();
  done.textContent = said;
}
undo.addEventListener('click', () => step(() => job.undo(), 'The last change is undone.'));
redo.addEventListener('click', () => step(() => job.redo(), 'It is done again.'));
document.addEventListener('keydown', (event) => {
  const isTyping = event.target instanceof Element && event.target.matches('input, textarea, select');
  if (isTyping || !(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z') return;
  event.preventDefault();
  (event.shiftKey ? redo : undo).click();
});

/** What was typed outlasts a reload: kept in this browser, for this page and the job that it was made of. */
function remember(): void {
  try {
    localStorage.setItem(place, JSON.stringify({ of: begun, text: job.text }));
  } catch {
    // No room, or not allowed: then it is not kept.
  }
}
function recall(): void {
  try {
    const kept = JSON.parse(localStorage.getItem(place) ?? 'null') as { of: string; text: string } | null;
    if (kept === null || kept.of !== begun || kept.text === begun) return;
    step(
      () => job.replace(JSON.parse(kept.text) as Json),
      'What was typed before is shown. Undo goes back to the file.',
    );
  } catch {
    // Nothing that can be shown.
  }
}

const other = document.getElementById('other') as HTMLInputElement;
other.addEventListener('change', () => {
  const [file] = other.files ?? [];
  void file?.text().then((words) => {
    const said = document.getElementById('opened')!;
    try {
      job.replace(JSON.parse(words) as Json);
      build();
      said.textContent = `${file.name} is shown.`;
    } catch (error) {
      said.textContent = `${file.name} is no JSON: ${(error as Error).message}`;
    }
  });
});

document.getElementById('save')!.addEventListener('click', () => {
  const link = h('a', {
    href: URL.createObjectURL(new Blob([job.text], { type: 'application/json' })),
    download: 'job.json',
  });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
});
document.getElementById('copy')!.addEventListener('click', () => {
  text.select();
  void navigator.clipboard?.writeText(job.text).catch(() => undefined);
});
