/** Pages that work from a disk, without a network: register.html and changes.html. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import Handlebars from 'handlebars';
import { fontFaceCss } from '../report/fonts.js';

export interface OfflinePage {
  readonly render: (view: object) => string;
  /** Its text, before it was compiled. */
  readonly template: string;
  readonly style: string;
  readonly script: string;
  /** The content security policy lets this script run and no other. */
  readonly scriptHash: string;
}

/** Beside src/ and beside dist/ alike. */
const read = (file: string): string =>
  readFileSync(new URL(`../../templates/${file}`, import.meta.url), 'utf8');

/**
 * templates/NAME.hbs, with sort-table.js and NAME.js, in the font of the reports and the style sheets named.
 * Strict: a missing field throws. Text is escaped; only our own style sheet, script and pictures are not.
 */
export function loadOfflinePage(name: string, styleSheets: readonly string[]): OfflinePage {
  const template = read(`${name}.hbs`);
  const script = read('sort-table.js') + read(`${name}.js`);
  return {
    render: Handlebars.create().compile(template, {
      strict: true,
      knownHelpersOnly: true,
      preventIndent: true,
    }),
    template,
    style: [fontFaceCss(), ...styleSheets.map(read)].join('\n'),
    script,
    scriptHash: `sha256-${createHash('sha256').update(script).digest('base64')}`,
  };
}
