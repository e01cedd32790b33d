/** The page in which job.json is filled in, as one self-contained file. */
import { readFileSync } from 'node:fs';
import { fontFaceCss } from '../fonts/fonts.js';
import type { Asked } from './asked.js';
import { compiledTemplate, embedded, policyHash, templateText } from '../report/templates.js';
import { english } from '../words/words.js';
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

/**
 * @param script The page's own code, bundled (dist/pages/form/page.js).
 * @throws {SyntaxError} the job is no JSON: what is wrong with it is for `check` to say.
 */
export function formPage({ job, folder, software, command, asked = [] }: FormPage, script: string): string {
  const value: unknown = JSON.parse(job === '' ? BEGUN : job);
  const id = (value as { id?: unknown } | null)?.id;
  const schema = readFileSync(new URL('job.schema.json', schemasFolder), 'utf8');
  return compiledTemplate(templateText('form.hbs'))(english, {
    title: typeof id === 'string' && id !== '' ? `Job ${id}` : 'A new job',
    folder,
    software,
    command,
    style: [fontFaceCss(), templateText('form.css')].join('\n'),
    script,
    scriptHash: policyHash(script),
    schema: embedded(JSON.parse(schema)),
    job: embedded(value),
    asked: embedded(asked),
  });
}
