/** The page in which job.json is filled in, as one self-contained file. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import Handlebars from 'handlebars';
import { fontFaceCss } from '../fonts/fonts.js';
import type { Asked } from './asked.js';
import { schemasFolder } from '../schemas/folder.js';

export interface FormPage {
  /** job.json as it is; '' begins one. */
  readonly job: string;
  /** Where it belongs, for people; '' for nowhere yet. */
  readonly folder: string;
  readonly software: string;
  /** The program's name. */
  readonly command: string;
  /** What must be confirmed, or was: by code and file. */
  readonly asked?: readonly Asked[];
}

/** What a job that is begun on the page has to say anyhow. */
const BEGUN = JSON.stringify({
  format: 'waysheet-job/1',
  id: '',
  units: { length: 'mm', reading: 'um' },
  rails: [],
  instruments: [],
  setups: [],
  readings: [],
});

const template = (file: string): string =>
  readFileSync(new URL(`../../../templates/${file}`, import.meta.url), 'utf8');

/** JSON within a page: no text of it can end the element that holds it. */
const embedded = (json: string): string =>
  json.replace(/[<\u2028\u2029]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`);

/**
 * @param script The page's own code, bundled (dist/pages/form/page.js).
 * @throws {SyntaxError} the job is no JSON: what is wrong with it is for `check` to say.
 */
export function formPage({ job, folder, software, command, asked = [] }: FormPage, script: string): string {
  const value: unknown = JSON.parse(job === '' ? BEGUN : job);
  const id = (value as { id?: unknown } | null)?.id;
  const schema = readFileSync(new URL('job.schema.json', schemasFolder), 'utf8');
  const render = Handlebars.create().compile(template('form.hbs'), { strict: true, knownHelpersOnly: true });
  return render({
    title: typeof id === 'string' && id !== '' ? `Job ${id}` : 'A new job',
    folder,
    software,
    command,
    style: [fontFaceCss(), template('form.css')].join('\n'),
    script,
    scriptHash: `sha256-${createHash('sha256').update(script).digest('base64')}`,
    schema: embedded(JSON.stringify(JSON.parse(schema))),
    job: embedded(JSON.stringify(value)),
    asked: embedded(JSON.stringify(asked)),
  });
}
