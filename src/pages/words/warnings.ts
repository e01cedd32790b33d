/**
 * Sentences of results.json that warn of something or were confirmed, one message for each sentence of
 * base/diagnostics/wording.ts that a report can print (phrases.ts). Part of the catalogue (en.ts).
 */
export const warnings = {
  'doc.w.calibration':
    'The calibration of instrument {instrument} was due on {day}, before the survey on {day2}.',
  'doc.w.repeat':
    'The {phase} readings of {instrument} ({axis}) repeat each other only to {value}; its stated uncertainty is {value2} ({count} degrees of freedom).',
  'doc.w.repeat.fix':
    'State in job.json the u that readings of this kind have ("reading": "u"), or "seat" of the target.',
  'doc.w.no-value': 'There will be no value for the tolerance of {what}, rail {rail}: {why}.',
  'doc.w.undetermined': 'The {phase} readings do not determine {what}: {why}.',
  'doc.w.unchecked':
    '{count} of {all} {phase} readings are not checked by another: a mistake in one of them would not be seen.',
  'doc.w.unchecked.one':
    '1 of {all} {phase} readings is not checked by another: a mistake in it would not be seen.',
  'doc.w.unchecked.all':
    'None of the {all} {phase} readings is checked by another: a mistake in one of them would not be seen.',
  'doc.w.unchecked.fix': 'A second pass, or a closing reading, would check them.',
  'doc.w.unread': 'Read {count} of {declared} stations of rail {rail}, {phase}: not {stations}.',
  'doc.w.unread.left-out':
    'Read {count} of {declared} stations of rail {rail}, {phase}: not {stations} (left out by use = no: {numbers}).',
  'doc.w.height-stations': 'in height {stations}',
  'doc.w.sideways-stations': 'sideways {stations}',
  'doc.w.holds':
    'What is said of the rail holds from {value} to {value2}, not from {value3} to {value4}: over {value5} nothing tells how it lies.',
  'doc.w.holds-stations':
    'What is said of the rail holds for the stations that were read: over {value} nothing tells how it lies.',
  'doc.w.unread.fix': 'Read {points}, or take these stations out of job.json.',
  'doc.w.no-note.one': 'A row is left out (use = no) without a note that says why.',
  'doc.w.no-note': '{count} rows are left out (use = no) without a note that says why.',
  'doc.w.no-note.fix': 'Write the reason into the column "note": the report prints it.',
  'doc.w.missing': 'Pass {pass} on rail {rail} from {setup} has no {axes} reading at {stations}.',
  'doc.w.missing-doubled':
    'Pass {pass} on rail {rail} from {setup} has no {axes} reading at {stations}, and two at {stations2}.',
  'doc.w.missing.fix': 'Read it, or note why it was not read.',
  'doc.w.missing-doubled.fix': 'Check whether a station number is wrong.',
  'doc.w.limit-small':
    'The limit of {what}, rail {rail}, is {value}, less than the standard uncertainty of what it judges, {value2}.',
  'doc.w.limit-large': 'The limit of {what}, rail {rail}, is {value}; the value that was read is {value2}.',
  'doc.w.limit.fix':
    'Over {value}, {value2} to {value3} is usual (common practice): look at the number and at the unit of the limit.',
  'doc.w.side':
    'Rail {rail} is at {value} across, and set-up {setup}, from which it was read, at {value2}: on the other side of the datum rail.',
  'doc.w.side.fix': 'Look at the sign of "across" of both; + is left, looking along the rails.',
  'doc.w.span':
    'The spans from rail {rail} to rail {rail2} read about {value}, and by their "across" in job.json they are {value2} apart.',
  'doc.w.span.fix': 'Look at "across" of both, and at the unit of the spans.',
  'doc.w.idle': '{code} of "{file}" is confirmed, but is not found any more.',
  'doc.w.idle.fix': 'Delete the entry under "confirmed".',
  'doc.w.monument': 'Monument {ids} was not read from set-up {setup}, {phase}.',
  'doc.w.monuments': 'Monuments {ids} were not read from set-up {setup}, {phase}.',
  'doc.w.monument-would':
    'Monument {ids} was not read from set-up {setup}, {phase}: read there too, the uncertainty of {what} would be {value} times smaller.',
  'doc.w.monuments-would':
    'Monuments {ids} were not read from set-up {setup}, {phase}: read there too, the uncertainty of {what} would be {value} times smaller.',
  'doc.w.monument.fix': 'Read it from {setup}, or take it out of job.json.',
  'doc.w.monuments.fix': 'Read them from {setup}, or take them out of job.json.',
  'doc.w.noise':
    'The {phase} readings disagree {value} times as much as the stated uncertainty of the instruments explains (redundancy {count}).',
  'doc.w.noise.fix': 'All uncertainties are multiplied by it.',
  'doc.w.misfit':
    'The {phase} readings disagree {value} times as much as the stated uncertainty of the instruments explains ({count} checks).',
  'doc.w.misfit.scatter': 'One change explains it: all readings scatter {value} times as much as stated.',
  'doc.w.closure':
    'From set-up {setup}, the last {axis} reading of {point} differs from the first by {value}; up to {value2} is usual.',
  'doc.w.closure-drift':
    'From set-up {setup}, the last {axis} reading of {point} differs from the first by {value}; a steady drift explains {value2}, and up to {value3} more is usual.',
  'doc.w.closure.fix': 'The instrument may have moved or drifted.',
  'doc.w.closure-drift.fix': 'The instrument may have moved, or may not have drifted steadily.',
  'doc.w.prior': 'The {phase} readings contradict {effect} (standardised residual {value}).',
  'doc.w.near-range':
    'The reading {value} is at {count} % of the range of instrument {instrument}, {value2}.',
  'doc.w.near-range.fix': 'Errors grow away from the centre of the range.',
  'doc.w.setup-unused': 'Set-up {setup} is not used.',
  'doc.w.column-unused': 'The column "{column}" is not used.',
  'doc.w.confirmed': 'Confirmed by {by}: {because}',
  'doc.w.holds-at':
    'What is said of the rail holds at {value} only, not from {value3} to {value4}: over {value5} nothing tells how it lies.',
} as const;
