/** What the register's pages are made from, and whether they have to be made: without what makes them. */
import { VERSION } from '../../base/version.js';
import { sha256 } from '../../pages/deliverables/manifest.js';
import { offlinePageSource, type OfflinePageSource } from '../offline-page-source.js';

let source: OfflinePageSource | undefined;

export const pageSource = (): OfflinePageSource =>
  (source ??= offlinePageSource('register', ['register.css']));

let ownKey: string | undefined;

/** What a register's pages follow from, as one key. @param json The register's text. */
export function pageKey(json: string): string {
  const { template, style, script } = pageSource();
  ownKey ??= sha256(Buffer.from([VERSION, template, style, script].join('\0')));
  return sha256(Buffer.from(`${ownKey}\0${json}`));
}
