/** Pages that work from a disk, without a network: register.html and changes.html. */
import { compiledTemplate } from '../pages/report/templates.js';
import type { Words } from '../pages/words/words.js';
import type { OfflinePageSource } from './offline-page-source.js';

export interface OfflinePage extends OfflinePageSource {
  readonly render: (words: Words, view: object) => string;
}

/** Only our own style sheet, script and pictures are not escaped. */
export const compileOfflinePage = (source: OfflinePageSource): OfflinePage => ({
  ...source,
  render: compiledTemplate(source.template),
});
