/**
 * What a folder of deliverables follows from, as one key: inputs (the tolerance set among them), software version,
 * method, templates and fonts, and whether and with what a PDF was printed. Same key, same deliverables.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Languages } from '../../survey/job/languages.js';
import { METHOD, VERSION } from '../../base/version.js';

export interface Origin {
  readonly key: string;
  readonly templates: string;
}

interface Hashed {
  readonly path: string;
  readonly sha256: string;
}

/**
 * @param inputs In the order of the job.
 * @param pdf Whether a PDF is printed; then the browser setting counts too.
 * @param language Asked for the run in place of the job’s own.
 */
export function originOf(
  inputs: readonly Hashed[],
  pdf: boolean,
  language?: Languages,
  env = process.env,
): Origin {
  const templates = templatesHash();
  const parts = {
    inputs: inputs.map(({ path, sha256 }) => [path, sha256]),
    software: [VERSION, METHOD],
    templates,
    printer: pdf ? printerSetting(env) : null,
    ...(language !== undefined && { language }),
  };
  return { key: createHash('sha256').update(JSON.stringify(parts)).digest('hex'), templates };
}

/** The browser that was asked for, without starting it: one that was updated in place has another size or date. */
function printerSetting(env: NodeJS.ProcessEnv): string {
  const path = env['WAYSHEET_BROWSER'];
  if (path === undefined || path === '') return 'default';
  const found = statSync(path, { throwIfNoEntry: false });
  return found === undefined ? path : `${path} ${found.size} ${Math.floor(found.mtimeMs / 1000)}`;
}

/** Next to src/ and next to dist/. */
const TEMPLATES = fileURLToPath(new URL('../../../templates', import.meta.url));

/** Of the templates folder, what reports are not made from. */
const isOfReports = (path: string): boolean =>
  !/^(?:register|changes|schemas|field-sheet|trace|audit|follow|plan|form|problem|sort-table)|\.(?:md|py|txt)$/.test(
    path,
  );

let hashed: string | undefined;

/** Of our own templates. */
export const templatesHash = (): string => (hashed ??= hashOfTemplates(TEMPLATES));

/** SHA-256 over names and bytes of the report's templates, style sheet, fonts and translations. */
export function hashOfTemplates(folder: string): string {
  const hash = createHash('sha256');
  for (const path of filesUnder(folder, '').filter(isOfReports).sort()) {
    const bytes = readFileSync(join(folder, path));
    hash.update(`${path}\0${bytes.length}\0`).update(bytes);
  }
  return hash.digest('hex');
}

function filesUnder(folder: string, inside: string): string[] {
  return readdirSync(join(folder, inside), { withFileTypes: true }).flatMap((entry) => {
    const path = inside === '' ? entry.name : `${inside}/${entry.name}`;
    return entry.isDirectory() ? filesUnder(folder, path) : entry.isFile() ? [path] : [];
  });
}
