/**
 * English. A key says where a message is used; a message is a whole sentence or a whole label. Plain English: short main
 * clauses, the words of the trade, one word for one thing (DEVELOPERS.md).
 */
import { crew } from './crew.js';

export const en = {
  ...crew,
  'page.of': 'Page {page} of {pages}',
  'head.draft': 'draft, not approved',
  'head.serial': 'serial no. {serial}',
  'title.machine': '{name}, serial no. {serial}',
  'title.unknown': 'Machine rails, {job}',
  'title.report': '{kind} {report}',
  'validity.what-if': 'What if',
  'validity.draft': 'Draft: not issued and not approved (page 2)',
  'validity.issued': 'Issued {on} by {by}',

  'issued.without-approver': 'Issued although nobody is recorded who approved it.',
  'issued.without-traceability':
    'Issued although certificate or calibration due date is not recorded of {instruments}: its readings are not shown to be traceable.',

  'fact.customer': 'Customer',
  'fact.place': 'Place',
  'fact.issuer': 'Issued by',
  'fact.read': 'Read',
  'fact.rails': 'Rails',
  'fact.limits': 'Limits',
  'fact.state': 'State',
  'fact.machine': 'Machine',
  'fact.serial': 'Serial no.',
  'fact.prepared': 'Prepared',
  'fact.method': 'Method edition',
  'fact.job': 'Job',
  'fact.issuer-address': 'Issuer’s address',
  'fact.customer-address': 'Customer’s address',
  'fact.revision': 'Revision',
  'fact.procedure': 'Procedure',
  'fact.providers': 'External providers',
  'fact.software': 'Software',
  'fact.simulation': 'Simulation',
  'fact.document': 'Document',
  'read.by': '{days}, by {by}',
  'rail.datum': '{rail} (datum)',
  'more.count': '{count} more',
  'limits.given': 'as given in the job, no document named',
  'limits.none': 'no limit is stated',

  'verdict.conforms': '{rails, plural, one {The rail conforms} other {The rails conform}}, {phase}.',
  'verdict.does-not-conform':
    '{rails, plural, one {The rail does not conform} other {The rails do not conform}}, {phase}.',
  'verdict.undecided':
    'Not decided: {open} of {all, plural, one {# characteristic} other {# characteristics}}, {phase}.',
  'verdict.reported': 'Reported without a verdict, {phase}.',

  'found.no-limit': 'No limit applies to what was measured. The figures are reported as they are.',
  'found.inside.guarded':
    '{all, plural, one {The one characteristic with a limit lies inside it, its whole {coverage} interval included.} other {All # characteristics with a limit lie inside it, the whole {coverage} interval included.}}',
  'found.inside.risk':
    '{all, plural, one {The one characteristic with a limit lies inside it at the accepted risk.} other {All # characteristics with a limit lie inside it at the accepted risk.}}',
  'found.inside.simple':
    '{all, plural, one {The one characteristic with a limit lies inside it.} other {All # characteristics with a limit lie inside it.}}',
  'found.counts.guarded':
    '{outside, plural, =0 {None of {all} characteristics lies outside its limit.} one {One of {all} characteristics lies outside its limit, the whole interval included.} other {# of {all} characteristics lie outside their limits, the whole interval included.}} {open, plural, =0 {} one {One is undecided: its interval reaches over the limit.} other {# are undecided: the interval reaches over the limit.}} {inside, plural, =0 {} one {One conforms.} other {# conform.}}',
  'found.counts.simple':
    '{outside, plural, =0 {None of {all} characteristics lies outside its limit.} one {One of {all} characteristics lies outside its limit.} other {# of {all} characteristics lie outside their limits.}} {inside, plural, =0 {} one {One conforms.} other {# conform.}}',
  'found.missing':
    '{count, plural, one {One has no value: the readings do not determine it.} other {# have no value: the readings do not determine them.}}',
  'before.counts':
    '{phase}, {outside, plural, =0 {none did not conform} one {one did not conform} other {# did not conform}}{open, plural, =0 {} one {, one was undecided} other {, # were undecided}}.',
  'before.conformed': '{phase}, all conformed.',
  'farthest.outside': 'Farthest outside: {name}: {figure}; limit {limit} (row {row}).',
  'farthest.open': 'Reaches farthest over its limit: {name}: {figure}; limit {limit} (row {row}).',
  'farthest.inside': 'Nearest to its limit: {name}: {figure}; limit {limit} (row {row}).',
  'figure.at': '{figure} at {at}',
  'figure.up-to': 'up to {figure}',
  'rule.guarded':
    'Rule: guarded acceptance, JCGM 106: the whole {coverage} interval inside the limit; risk of wrong acceptance at most {risk}.',
  'rule.risk':
    'Rule: guarded acceptance, JCGM 106: the upper end at the accepted risk inside the limit; risk of wrong acceptance at most {risk}, one-sided.',
  'rule.simple':
    'Rule: simple acceptance, JCGM 106: the value inside the limit; the risk of wrong acceptance at a limit is up to 50 %.',

  'bars.caption': 'Per cent of each limit.',
  'bars.judged': '{phase}: value and {coverage} interval',
  'bars.before': '{phase}',
  'bars.signs': '+ and −: ends of a signed figure',
  'bars.limit': 'limit',
  'bars.rest':
    '{count, plural, one {One more row is in Table 1} other {# more rows are in Table 1}}: {counts}. The first of them reaches {share} of its limit.',
  'bars.alt': '{from} to {to} of its limit',
  'head.characteristic': 'Characteristic, worst first',
  'head.where': 'Characteristic, and where it is decided',
  'head.value': 'Value',
  'head.interval': '{coverage} interval or ± U',
  'head.at': 'Decided at',
  'head.limit': 'Limit',
  'head.verdict': 'Verdict',
  'head.guard': 'Guard band',
  'head.risk': 'Risk at most',
  'row.whole-rail': 'whole rail',

  'next.title': 'What to do next (opinion)',
  'next.nothing.lead': 'Nothing has to be moved',
  'next.nothing': '(section {moves}).',
  'next.approve.lead': 'Approve and sign',
  'next.approve': 'on page 2. Until then this report is a draft.',
  'next.air.lead': 'At the next survey, {what}:',
  'next.air': 'it is the largest effect that the interval does not hold.',
  'next.read.lead': 'Read again first.',
  'next.read': 'More readings can decide {rows}. Section {moves} says which.',
  'next.missing.lead': 'Read what is missing',
  'next.missing': 'for {rows}. Annex C says which reading would give the value.',
  'next.too-close.lead': 'Move, or agree on the limit.',
  'next.too-close':
    'No reading of this kind would decide {rows}: what is measured lies too close to the limit.',
  'next.move.lead': 'Move',
  'next.move': 'what section {moves} lists. Nothing else has to move.',
  'next.survey.lead': 'Survey again.',
  'next.survey': '{rows} {count, plural, one {is} other {are}} then expected to conform.',
  'next.survey.plain': 'The limits are held only when a new survey says so.',
  'next.state-limits.lead': 'State limits',
  'next.state-limits': 'in the job, where a verdict is wanted.',
  'what.air': 'read the air at two heights',
  'what.air-sideways': 'read the air at both sides',
  'what.level-zero-along': 'read from a set-up turned by half a circle',
  'what.level-zero-across': 'read from a set-up turned by half a circle',
  'what.bow': 'note the temperature of the rails’ top and foot',
  'what.seating': 'state how well the target sits down ("seat")',
  'what.cone': 'have the cone of the planes stated',
  'what.target-scale': 'have the targets’ scale stated',
  'what.target-roll': 'have the targets’ roll stated',

  'rests.title': 'What this rests on',
  'rests.not-in': 'Not in the interval: nothing was stated of',
  'rests.size': 'If it is',
  'rests.reading': 'a reading moves',
  'rests.turns': 'A verdict turns at',
  'rests.turns.row': '{size}, row {row}',
  'rests.turns.none': 'none turns',
  'rests.more': 'Also not in the interval: {effects}.',
  'rests.more.one': '{effect}, {reading}',
  'rests.all-stated': 'Every effect that was looked for is stated, and is in the interval.',
  'effect.air': 'air, warmer above or below',
  'effect.air-sideways': 'air, warmer at one side',
  'effect.level-zero-along': 'level’s own zero, along',
  'effect.level-zero-across': 'level’s own zero, across',
  'effect.bow': 'top warmer than foot, growing',
  'effect.seating': 'seating of the targets, random',
  'effect.cone': 'cone of the planes',
  'effect.target-scale': 'scale of the targets',
  'effect.target-roll': 'roll of the targets',
  'stations.lead': 'Stations.',
  'stations.all': 'All {stations} stations of {rails, plural, one {one rail} other {# rails}} were read',
  'stations.some':
    '{read} of {stations} stations of {rails, plural, one {one rail} other {# rails}} were read; not read: {missing}. What is said holds for the others',
  'stations.readings':
    '{lead}; {readings, plural, one {one reading} other {# readings}}, {spare, plural, =0 {none more than is needed} one {one more than is needed} other {# more than are needed}}.',
  'stations.left-out':
    '{count, plural, =0 {No reading was left out.} one {One reading was left out (annex C).} other {# readings were left out (annex C).}}',
  'unseen.lead': 'Nothing checks',
  'unseen.turns': '{what}: an unseen error of {size} would turn row {row}',
  'unseen.moves': '{what}: no unseen error up to 2 mm would turn a verdict',
  'unseen.all': '{list}.',
  'unseen.none.lead': 'Ties.',
  'unseen.none': 'Every tie between set-ups is checked by a second one.',
  'unseen.single.lead': 'Ties.',
  'unseen.single': 'No tie between set-ups is needed.',
  'unseen.nothing.lead': 'Nothing checks',
  'unseen.nothing': 'any reading: redundancy is 0. A mistake in any of them would not show.',
  'confirmed.lead': 'Confirmed.',
  'confirmed.none': 'Nothing had to be confirmed by hand.',
  'confirmed.some':
    '{count, plural, one {One thing that looked wrong was confirmed by {by} (annex C).} other {# things that looked wrong were confirmed by {by} (annex C).}}',
  'known.lead': 'To know.',

  'table1.caption': 'Every characteristic with a limit, {phase}. Row numbers are those of Figure 1.',
  'table1.together': 'Rails together',
  'table1.note':
    '± is the expanded uncertainty {expanded}. A range (straightness, parallelism, twist, coplanarity) has a value and an interval, which need not lie evenly about it: noise makes a range come out too large. Of a signed figure both ends are given, the one that lies nearest to its limit first. At: the stations that make the value. Guard band: how far inside its limit the value must lie to conform. Risk: of wrong acceptance where a row conforms, of wrong rejection (rej.) where it does not; the greatest that the interval’s proof allows.',
  'table1.figure1': 'In Figure 1 a signed figure is measured from the middle of its zone.',
  'risk.rejection': 'rej. {risk}',
  opinion: 'This section is an opinion. It follows from the results and is not part of them.',
  'stations.caption':
    'Stations {phase}: deviation from each rail’s own least-squares line, and height against the datum rail, in {unit}, each ± U. + is up, or to the left.',
  'stations.before': 'As found, heights and offsets of all stations: stations.csv, beside this report.',
  'stations.thinned':
    'Of this long survey: the ends, every {nth}th station, and those where a deviation is greatest or least. All are in stations.csv.',
  'stations.signs': '–: not read. n.d.: not determined.',
  'trace.instrument':
    '{instrument}: readings are traceable through certificate {certificate}, {laboratory, select, none {calibration laboratory not recorded} other {issued by {laboratory}}}{day, select, none {} other { on {day}}}.',
  'trace.none': '{instrument}: no certificate is recorded; traceability of its readings is not shown.',
  'end.report': 'End of report {report}',
} as const;
