/**
 * report.html as it is read on a screen: the figures are part of the page, and a small script tells of the station under
 * pointer, finger or arrow keys. Nothing is fetched; what may run and what may style is named by its hash.
 */
import { groupBy } from '../../base/lists.js';
import { isKnown } from '../../results/known.js';
import type { Results, StationResult } from '../../results/results-schema.js';
import { deviationsFrom } from '../../solution/characteristics/measures.js';
import { referenceNames, type ReferenceName } from '../../survey/job/job-schema.js';
import { inOtherUnits, inUnitsOf } from './both-units.js';
import { figuresOf, lastPhase, phasesOf, quantityWithUnit } from './figures.js';
import { measuredText, reportUnits, withUnit } from '../../results/words/format-quantity.js';
import { nameText, phaseText, referenceText } from '../words/names.js';
import { inFirst } from '../words/pair.js';
import { english, type Words } from '../words/words.js';
import type { ReportChart } from './sections/pictures.js';
import { embedded, policyHash, templateText } from './templates.js';

/** @param page As it is printed, with `<img src="chart:KEY" alt="…">` for each picture. */
export function livePage(
  page: string,
  results: Results,
  charts: readonly ReportChart[],
  words: Words = english,
): string {
  const [script, css] = [templateText('live.js'), templateText('live.css')];
  const style = /<style>([^]*?)<\/style>/.exec(page)![1]! + css;
  const bySource = new Map(charts.map((chart) => [`chart:${chart.key}`, chart]));
  return page
    .replace(/<style>[^]*?<\/style>/, () => `<style>${style}</style>`)
    .replace(
      /<meta http-equiv="Content-Security-Policy"[^>]*>/,
      () =>
        `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; font-src data:; style-src '${policyHash(style)}'; script-src '${policyHash(script)}'">`,
    )
    .replace(/<img src="(chart:[^"]*)"[^>]*>/g, (_, source: string) => figure(bySource.get(source)!))
    .replace(
      '</body>',
      () =>
        `<script type="application/json" id="stations-data">${embedded(stationsInUnits(results, words))}</script>\n<script type="application/json" id="live-words">${embedded(liveWords(results, words))}</script>\n<script>${script}</script>\n</body>`,
    );
}

const figure = ({ svg, phone, title }: ReportChart): string =>
  `<span class="drawn" data-title="${inFirst(title).replace(/&/g, '&amp;').replace(/"/g, '&quot;').replace(/</g, '&lt;')}">${inPage(svg, 'wide')}${phone === undefined ? '' : inPage(phone, 'narrow')}</span>`;

/** Without the font, which the page has. */
const inPage = (svg: string, name: string): string =>
  svg
    .trim()
    .replace(/<style>[^]*?<\/style>/, '')
    .replace(' xmlns="http://www.w3.org/2000/svg"', '')
    .replace('<svg', `<svg class="${name}"`);

/** By unit: the job's own, and the other one if the page can be switched to it. */
const stationsInUnits = (results: Results, words: Words) =>
  results.style.also === undefined
    ? [results, inOtherUnits(results)].map((one) => stationsOf(one, words))
    : [inUnitsOf(results, (one) => stationsOf(one, words))];

/** One line for all reference lines, or one for each of `referenceNames`. */
type Told = string | readonly string[];

/** What is known of each station: places with their uncertainty in each phase, and the cells that they come from. */
function stationsOf(results: Results, words: Words): Record<string, Told[]> {
  const { say } = words;
  const figures = figuresOf(results, words);
  const unit = figures.units.deviation;
  const told: Record<string, Told[]> = {};
  const add = (rail: string, station: number, line: Told) => (told[`${rail}:${station}`] ??= []).push(line);
  for (const { name, phase } of phasesOf(results)) {
    const from = deviationsByReference(results, phase.stations);
    for (const station of phase.stations) {
      const known = placesOf(station).flatMap(([what, quantity]) =>
        isKnown(quantity) ? [{ what, quantity }] : [],
      );
      if (known.length === 0) continue;
      const ofPhase = (line: string) => say('of-phase', { phase: phaseText(name, words), line });
      const texts = known.map(({ what, quantity }) =>
        say(`place.${what}`, { figure: quantityWithUnit(figures, quantity, unit, { signed: true }) }),
      );
      add(station.rail, station.station, ofPhase(texts.join('; ')));
      const lines = referenceNames.map((reference) => {
        const parts = known.flatMap(({ what, quantity }) => {
          const value = from.get(keyOf(reference, station, what));
          if (value === undefined) return [];
          const text = measuredText(value, figures.k * quantity.u, unit, { signed: true }).value;
          return [say(`place.${what}`, { figure: withUnit(text, unit) })];
        });
        return parts.length === 0
          ? ''
          : ofPhase(say('place.by', { places: parts.join('; '), reference: say(`reference.${reference}`) }));
      });
      if (lines.some(Boolean)) add(station.rail, station.station, lines);
    }
    const cells = new Map<string, Map<string, Set<number>>>();
    for (const { rail, station, file, row, setup } of phase.residuals) {
      if (rail === null || station === null || file === null || row === null) continue;
      const key = `${rail}\n${station}`;
      const of = cells.get(key) ?? new Map<string, Set<number>>();
      cells.set(key, of);
      const from = setup === null ? file : say('place.file-setup', { file, setup });
      of.set(from, (of.get(from) ?? new Set()).add(row));
    }
    for (const [key, of] of cells) {
      const [rail, station] = key.split('\n') as [string, string];
      const places = [...of].map(([from, rows]) =>
        say('place.rows', { from, count: rows.size, rows: [...rows].join(', ') }),
      );
      add(
        rail,
        Number(station),
        say('place.read', { phase: phaseText(name, words), places: places.join('; ') }),
      );
    }
  }
  return told;
}

const keyOf = (reference: ReferenceName, { rail, station }: StationResult, what: string): string =>
  `${reference} ${rail}:${station} ${what}`;

/**
 * Deviations from each reference line but the least-squares one, from which they are stated already, µm; by the functions with which
 * straightness is judged. Without an uncertainty: those of a phase are about least squares.
 */
export function deviationsByReference(
  results: Pick<Results, 'survey'>,
  stations: readonly StationResult[],
): Map<string, number> {
  const direction = new Map(results.survey.rails.map((rail) => [rail.id, rail.direction]));
  const found = new Map<string, number>();
  for (const own of groupBy(stations, ({ rail }) => rail).values())
    for (const plane of ['vertical', 'horizontal', 'along'] as const) {
      const given = own.flatMap((station) => {
        const quantity = station.deviation[plane];
        return quantity === undefined ? [] : [{ station, quantity }];
      });
      // The ends of a part that is known are not the ends of the rail.
      const read = given.flatMap(({ station, quantity }) =>
        isKnown(quantity)
          ? [{ station, at: station[direction.get(station.rail)!], value: quantity.value }]
          : [],
      );
      if (read.length < 3 || read.length < given.length) continue;
      read.sort((a, b) => a.at - b.at);
      const x = Float64Array.from(read, ({ at }) => at / 1000);
      const d = Float64Array.from(read, ({ value }) => value);
      for (const reference of referenceNames) {
        if (reference === 'least-squares') continue;
        deviationsFrom(reference, x, d).forEach((value, k) =>
          found.set(keyOf(reference, read[k]!.station, `own-${plane}`), value),
        );
      }
    }
  return found;
}

const placesOf = ({ height, offset, ahead, deviation }: StationResult) =>
  [
    ['height', height],
    ['sideways', offset],
    ['ahead', ahead],
    ['own-vertical', deviation.vertical],
    ['own-horizontal', deviation.horizontal],
    ['own-along', deviation.along],
  ] as const;

/** "Straightness, vertical: least squares; …": the reference lines of the straightness that has a limit. */
function verdictLines(results: Results, words: Words): string {
  const judged = lastPhase(results).phase.characteristics.flatMap(({ what, limit, reference }) =>
    limit !== null && reference !== null && reference !== undefined && what !== 'coplanarity'
      ? [`${nameText(what, words)}: ${referenceText(reference, words)}`]
      : [],
  );
  return [...new Set(judged)].join('; ');
}

/** What the script says; `{…}` is filled there. */
function liveWords(results: Results, words: Words) {
  const { say, mark } = words;
  const [first, last] = [phasesOf(results)[0]!.name, lastPhase(results).name];
  return {
    mark,
    keys: say('live.keys', { title: '{title}' }),
    phases: say('live.phases'),
    inFigures: say('live.in-figures'),
    // What was found alone is drawn with what the moves make of it.
    'as-found': phaseText(first, words),
    'as-left': last === 'as-found' ? say('chart.expected') : phaseText(last, words),
    reference: say('live.reference'),
    references: referenceNames.map((reference) => say(`reference.${reference}`)),
    judged: say('live.judged', { lines: verdictLines(results, words) || 'none' }),
    unit: say('live.unit'),
    colon: say('live.colon'),
    units: [results, inOtherUnits(results)].map(({ style }) => {
      const { length, deviation } = reportUnits(style);
      return [length.label, deviation.label].join(', ');
    }),
    drawn: say('live.drawn', { unit: reportUnits(results.style).deviation.label }),
    rows: say('live.rows'),
    rowsOf: say('live.rows-of', { table: '{table}' }),
  };
}
