/** Pages that work from a disk, without a network: register.html and changes.html. */
import Handlebars from 'handlebars';
import { fillCells } from '../pages/report/fill-cells.js';
import type { OfflinePageSource } from './offline-page-source.js';

export interface OfflinePage extends OfflinePageSource {
  readonly render: (view: object) => string;
}

/** Strict: a missing field throws. Text is escaped; only our own style sheet, script and pictures are not. */
export function compileOfflinePage(source: OfflinePageSource): OfflinePage {
  const options = { strict: true, knownHelpersOnly: true, preventIndent: true };
  const page = Handlebars.create().compile<object>(source.template, options);
  return { ...source, render: (view) => fillCells(page(view)) };
}
