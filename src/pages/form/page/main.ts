/** The page of `waysheet form`: everything that job.json says, in fields; it works from a file, without a network. */
import { describe } from '../../../base/diagnostics/messages.js';
import { checkJob, type Checked } from './checks.js';
import type { Asked } from '../asked.js';
import { confirmPanel } from './confirm.js';
import { h } from './dom.js';
import { JobDocument, type Json } from './document.js';
import { Fields } from './fields.js';
import { Plan } from './plan.js';
import { idOf, type Schema } from './schema.js';
import { sheetPanel } from './sheet.js';
import { signChoice } from './signs.js';

const dataOf = (id: string): unknown => JSON.parse(document.getElementById(id)!.textContent);
const schema = dataOf('schema') as Schema;
const job = new JobDocument(dataOf('job') as Json);
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

const fields: Fields = new Fields({
  document: job,
  root: schema,
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
          ...keys
            .filter((key) => schema.properties![key] !== undefined)
            .map((key) => fields.of([key], schema.properties![key]!, isRequired(key))),
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

job.onChange(say);
build();
say();

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
