/** The files under templates/ from which an offline page is made, in addition to its register or its changes. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fontFaceCss } from '../pages/fonts/fonts.js';

export interface OfflinePageSource {
  /** Before it is compiled. */
  readonly template: string;
  readonly style: string;
  readonly script: string;
  /** The content security policy lets this script run and no other. */
  readonly scriptHash: string;
}

/** The folder is next to src/ and next to dist/. */
const read = (file: string): string =>
  readFileSync(new URL(`../../templates/${file}`, import.meta.url), 'utf8');

/** templates/NAME.hbs, with sort-table.js and NAME.js, in the font of the reports and the style sheets named. */
export function offlinePageSource(name: string, styleSheets: readonly string[]): OfflinePageSource {
  const script = read('sort-table.js') + read(`${name}.js`);
  return {
    template: read(`${name}.hbs`),
    style: [fontFaceCss(), ...styleSheets.map(read)].join('\n'),
    script,
    scriptHash: `sha256-${createHash('sha256').update(script).digest('base64')}`,
  };
}
