/** changes.html: one page that works from a disk, without a network, and without its script as plain tables. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import Handlebars from 'handlebars';
import { fontFaceCss } from '../../report/fonts.js';
import { changesView } from './changes-view.js';
import type { Changes } from './changes-schema.js';

/** Beside src/ and beside dist/ alike. */
const read = (file: string): string =>
  readFileSync(new URL(`../../../templates/${file}`, import.meta.url), 'utf8');

interface Page {
  readonly render: (view: object) => string;
  readonly style: string;
  readonly script: string;
  /** The content security policy lets this script run and no other. */
  readonly scriptHash: string;
}

let page: Page | undefined;

/** Strict: a missing field throws. Text is escaped; only our own style sheet and script are not. */
function loadPage(): Page {
  const script = read('changes.js');
  return {
    render: Handlebars.create().compile(read('changes.hbs'), {
      strict: true,
      knownHelpersOnly: true,
      preventIndent: true,
    }),
    style: [fontFaceCss(), read('register.css'), read('changes.css')].join('\n'),
    script,
    scriptHash: `sha256-${createHash('sha256').update(script).digest('base64')}`,
  };
}

export function changesHtml(changes: Changes): string {
  const { render, style, script, scriptHash } = (page ??= loadPage());
  const view = changesView(changes);
  const pageSize = `@page { size: ${view.paper === 'Letter' ? 'letter' : 'A4'} landscape; }`;
  return render({ ...view, style: `${style}\n${pageSize}`, script, scriptHash });
}
