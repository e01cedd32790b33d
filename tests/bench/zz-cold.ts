import { costOf } from '../support/processor-time.js';
const [job, out, ...roots] = process.argv.slice(2);
for (const r of roots) {
  const best = { start: [9e9, 9e9, 9e9], report: [9e9, 9e9, 9e9] } as Record<string, number[]>;
  for (let k = 0; k < 3; k++) {
    const s = await costOf(['--input-type=module', '-e', `const {describeBrowser}=await import('${r}/dist/${r.endsWith('old') ? 'report/browser' : 'pages/report/browser'}/launch-browser.js');await describeBrowser();`]);
    const c = await costOf([`${r}/dist/cli.js`, 'report', job!, '--out', out!]);
    for (const [n, x] of [['start', s], ['report', c]] as const) { const b = best[n]!; if (x.node + x.browser < b[0]! + b[1]!) best[n] = [x.node, x.browser, x.wall]; }
  }
  const t = (n: string) => best[n]![0]! + best[n]![1]!;
  console.log(r, JSON.stringify(best), 'cpu ratio', (t('report') / t('start')).toFixed(2), 'wall ratio', (best.report![2]! / best.start![2]!).toFixed(2));
}
