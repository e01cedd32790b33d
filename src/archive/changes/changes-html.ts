/** changes.html: one page that works from a disk and without a network. Without its script it has plain tables. */
import { compileOfflinePage, type OfflinePage } from '../offline-page.js';
import { offlinePageSource } from '../offline-page-source.js';
import { wordsOf } from '../../pages/words/languages.js';
import { changesView } from './changes-view.js';
import type { Changes } from './changes-schema.js';

let page: OfflinePage | undefined;

export function changesHtml(changes: Changes, words = wordsOf(changes.language ?? 'en')): string {
  const { render, style, script, scriptHash } = (page ??= compileOfflinePage(
    offlinePageSource('changes', ['register.css', 'changes.css']),
  ));
  const view = changesView(changes, words);
  const pageSize = `@page { size: ${view.paper === 'Letter' ? 'letter' : 'A4'} landscape; }`;
  return render(words, { ...view, style: `${style}\n${pageSize}`, script, scriptHash });
}
