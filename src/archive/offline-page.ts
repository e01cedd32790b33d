/** Pages that work from a disk, without a network: register.html and changes.html. */
import Handlebars from 'handlebars';
import { fillCells } from '../pages/report/fill-cells.js';
import { sayHelper, templateOptions } from '../pages/report/say-helper.js';
import type { Words } from '../pages/words/words.js';
import type { OfflinePageSource } from './offline-page-source.js';

export interface OfflinePage extends OfflinePageSource {
  readonly render: (words: Words, view: object) => string;
}

/** Strict: a missing field throws. Text is escaped; only our own style sheet, script and pictures are not. */
export function compileOfflinePage(source: OfflinePageSource): OfflinePage {
  const page = Handlebars.create().compile<object>(source.template, templateOptions);
  return {
    ...source,
    render: (words, view) =>
      fillCells(page({ ...view, language: words.language }, { helpers: sayHelper(words) })),
  };
}
