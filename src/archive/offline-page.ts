/** Pages that work from a disk, without a network: register.html and changes.html. */
import Handlebars from 'handlebars';
import type { OfflinePageSource } from './offline-page-source.js';

export interface OfflinePage extends OfflinePageSource {
  readonly render: (view: object) => string;
}

/** Strict: a missing field throws. Text is escaped; only our own style sheet, script and pictures are not. */
export function compileOfflinePage(source: OfflinePageSource): OfflinePage {
  const options = { strict: true, knownHelpersOnly: true, preventIndent: true };
  return { ...source, render: Handlebars.create().compile(source.template, options) };
}
