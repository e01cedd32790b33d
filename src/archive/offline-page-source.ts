/** The files under templates/ from which an offline page is made, in addition to its register or its changes. */
import { fontFaceCss } from '../pages/fonts/fonts.js';
import { policyHash, templateText } from '../pages/report/templates.js';

export interface OfflinePageSource {
  /** Before it is compiled. */
  readonly template: string;
  readonly style: string;
  readonly script: string;
  /** The content security policy lets this script run and no other. */
  readonly scriptHash: string;
}

/** templates/NAME.hbs, with sort-table.js and NAME.js, in the font of the reports and the style sheets named. */
export function offlinePageSource(name: string, styleSheets: readonly string[]): OfflinePageSource {
  const script = templateText('sort-table.js') + templateText(`${name}.js`);
  return {
    template: templateText(`${name}.hbs`),
    style: [fontFaceCss(), ...styleSheets.map(templateText)].join('\n'),
    script,
    scriptHash: policyHash(script),
  };
}
