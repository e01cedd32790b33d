/** What a crew reads at the machine: `check --leave`, `follow`, `plan`. Part of the catalogue (en.ts). */
export const crew = {
  'leave.all-decided': 'You may go. Every tolerance is decided.',
  'leave.no-limits': 'You may go. Everything that was planned is read; no tolerance is stated.',
  'leave.nothing-decides':
    'You may go. {open, plural, one {One tolerance is not decided, and nothing that a crew can still read would decide it.} other {# tolerances are not decided, and nothing that a crew can still read would decide them.}}',
  'leave.problems':
    'Do not go yet. {count, plural, one {One problem is to be put right or confirmed.} other {# problems are to be put right or confirmed.}}',
  'leave.to-read': 'Do not go yet. Not everything that was planned is read.',
  'leave.to-repeat': 'Do not go yet. One reading is to be taken again: {what}, {axis}.',
  'leave.to-decide':
    'Do not go yet. {open, plural, one {One tolerance is not decided, and readings at the machine can decide it.} other {# tolerances are not decided, and readings at the machine can decide some of them.}}',

  'leave.label.read': 'Read',
  'leave.label.problems': 'Problems',
  'leave.label.closures': 'Closures',
  'leave.label.repeat': 'To repeat',
  'leave.label.again': 'Looked again',
  'leave.label.tolerances': 'Tolerances',

  'leave.blank':
    '{count, plural, one {One planned row holds no reading: {rows}.} other {# planned rows hold no reading: {rows}.}} A row that is not to be read says so with use = no.',
  'leave.nothing-read': 'No reading can be used yet.',
  'leave.closures.none':
    'No point was read twice from one set-up. Nothing shows whether an instrument moved.',
  'leave.closures.held':
    'Every point that was read again closes. The widest is {point} from {setup}, {axis}: {closure}; {allowed} is usual.',
  'leave.closures.exceeded':
    '{exceeded, plural, one {One point does not close.} other {# points do not close.}} The widest is {point} from {setup}, {axis}: {closure}; {allowed} is usual.',
  'leave.repeat.none': 'No reading has to be taken again.',
  'leave.repeat.contradicted':
    '{what}, {axis} ({place}): the others contradict it. {must, select, yes {Chance alone hardly does that. Read it again, and leave out the wrong one with use = no.} other {Chance can do that. Read it again if there is time.}}',
  'leave.repeat.not-closed':
    '{what}, {axis} ({place}): the last reading differs from the first. {must, select, yes {Chance alone hardly does that. Read it again, and look whether the instrument moved.} other {Chance can do that. Read it again if there is time.}}',
  'leave.repeat.helps-most':
    '{what}, {axis} ({place}): one more reading there helps most. It makes an open interval {narrower} narrower.',
  'leave.again.both': 'Level and zero of {setups} were looked at again.',
  'leave.again.level': 'The level of {setups} was looked at again.',
  'leave.again.zero': 'The zero of {setups} was looked at again.',
  'leave.again.not.level':
    'Not the level of {setups}: after the last point, read the height of an earlier point once more before the instrument is taken down.',
  'leave.again.not.zero':
    'Not the zero of {setups}: after the last point, read an earlier point sideways once more before the instrument is taken down.',
  'leave.again.none': 'No readings from a set-up.',
  'leave.decided': '{name}: {value}, limit {limit}: {verdict}.',
  'leave.open.missing': '{name}: no value. {why}',
  'leave.open.reading':
    '{name}: {value}, limit {limit}: undecided. {what}, {axis}, read once more would decide it, if the value stays where it is.',
  'leave.open.passes':
    '{name}: {value}, limit {limit}: undecided. {times} times as many passes would decide it, if the value stays where it is.',
  'leave.open.way':
    '{name}: {value}, limit {limit}: undecided. It would be decided by {way}, if the value stays where it is.',
  'leave.open.suspect':
    '{name}: {value}, limit {limit}: undecided. The readings disagree more than they should; find the wrong one first.',
  'leave.open.nothing':
    '{name}: {value}, limit {limit}: undecided. {times, plural, =0 {Nothing that a crew can still read would decide it} other {Only # times as many passes would decide it, and no crew reads so many}}: adjust the rail, or agree on the limit or the rule.',
  'leave.open.nothing-missing': '{name}: no value, and no reading at the machine gives one. {why}',
  'leave.more': 'and {count} more',
  'plan.title': '{job}: what the planned survey will be able to tell',
  'plan.unread': 'Nothing is read yet. Uncertainties are those of usual shapes of rails.',
  'plan.read': 'Readings are there. Uncertainties are those of the shape that they show.',
  'plan.terms':
    'U is the expanded uncertainty, k = {k}. Accepted is what conforms under the rule in force: {rule, select, simple {simple acceptance, the value inside the limit} other {guarded acceptance, the limit less what the rule asks for}}.',
  'plan.chances':
    'Of {count} simulated surveys of a rail at 50, 80, 95 and 120 % of its limit, so many end with each verdict. The rails have usual shapes; the judge is that of the report; the seed is fixed.',
  'plan.line':
    '{name}: limit {limit}; U = {expanded}, most of it from {source} ({share}); accepted {accepted}.',
  'plan.line.no-limit': '{name}: U = {expanded}, most of it from {source} ({share}).',
  'plan.accepted.to': 'up to {to}',
  'plan.accepted.from-to': 'from {from} to {to}',
  'plan.accepted.from': 'from {from}',
  'plan.accepted.none': 'nowhere: U is as large as the limit',
  'plan.count.conforms': '{count, plural, one {# conforms} other {# conform}}',
  'plan.count.does-not-conform': '{count, plural, one {# does not} other {# do not}}',
  'plan.count.undecided': '{count} undecided',
  'plan.at': '{at}: {counts}',
  'plan.undetermined.title': 'What cannot be determined',
  'plan.undetermined': '{name}: {why}',
  'plan.helps.title': 'What would help, best first',
  'plan.help': '{what}: U is {shrinks} smaller on average; most for {name}, from {from} to {to}.',
  'plan.cheapest.title': 'The cheapest survey that decides',
  'plan.cheapest.means':
    'Decides means: a rail at 80 % of the limit conforms, and one at 120 % does not, in 95 of 100 simulated surveys. A set-up counts as 20 readings (common practice, no source).',
  'plan.cheapest':
    '{arrangement}, {passes, plural, =1 {passes as planned} other {# times the planned passes}}: {rows, plural, one {one row} other {# rows}} from {setups, plural, =0 {no set-up} one {one set-up} other {# set-ups}}. It decides {decided} of {all, plural, one {one limit} other {# limits}}.',
  'plan.cheapest.cannot': 'Not decided by up to 8 times the passes, or by other set-ups: {names}.',
  'plan.cheapest.none':
    'Up to 8 times the passes, or other set-ups, decide none of the limits. A better instrument or another rule would.',
  'plan.arrangement.as-planned': 'Set-ups as planned',
  'plan.arrangement.middle': 'Instruments in the middle of what they read',
  'plan.arrangement.new-setups': 'Everything once more from newly levelled set-ups',
  'plan.arrangement.other-end': 'Everything once more from the other end',
  'plan.head.characteristic': 'Characteristic',
  'plan.head.limit': 'Limit',
  'plan.head.expanded': 'U',
  'plan.head.accepted': 'Accepted',
  'plan.head.source': 'Most of U from',
  'plan.head.chances': 'At {at} of the limit',
  'plan.scatter':
    'Two readings of one point from one set-up differ by less than {near} in 95 of 100 cases at {nearAt}, and by less than {far} at {farAt}. If more than one in ten differ by more, stop and look for the reason.',
  'source.readings': 'the readings themselves',
  'source.distance': 'distance from the instrument',
  'source.level': 'the level',
  'source.direction-carry-over': 'carrying the direction over',
  'source.height-carry-over': 'carrying the height over',
  'source.target-assemblies': 'target assemblies',
  'source.drift': 'drift of the planes',
  'source.air': 'the air',
  'source.cone': 'the cone of the planes',
  'source.target-scale': 'scale of the targets',
  'source.target-roll': 'roll of the targets',
  'source.seating': 'seating of the targets',
  'source.rail-tilt': 'tilt of the rail',
  'source.temperature': 'temperatures',
  'follow.title': '{job}: {leave}',
  'follow.lost':
    'The connection is lost: waysheet follow ended, or is busy. Start it again and open the address that it prints.',
  'follow.saved': 'Survey {job}, last saved {saved}',
  'follow.saved.none': 'Survey {job}, nothing saved yet',
  'follow.head.next': 'Next reading',
  'follow.head.problems': 'What the check says',
  'follow.head.to-read': 'Still to be read',
  'follow.head.lines': 'Read so far',
  'follow.head.rows': 'Against the tolerances, so far',
  'follow.next.row': '{point} from {setup}, pass {pass} ({file}, row {row})',
  'follow.to-read': '{count, plural, one {one row} other {# rows}}: {points}',
  'follow.to-read.setup': 'From {setup}, pass {pass}',
  'follow.to-read.file': '{file}',
  'follow.to-read.other': '{count, plural, one {one row} other {# rows}}: {rows}',
  'follow.more': 'and {count} more',
  'follow.unsolved': 'Not to be worked out yet: {count, plural, one {one problem} other {# problems}}',
  'follow.so-far': '{phase}, so far: {mark} {verdict}',
  'follow.limit': 'limit {limit}',
  'follow.note': 'note',
  'follow.confirm': 'to be confirmed',
  'follow.error': 'error',
  'follow.foot':
    'This page renews itself while “waysheet follow” runs. It is no report: what it says holds for the readings that were saved so far.',
  'adjust.label': 'The rail that is adjusted',
  'adjust.step': '{adjuster}, read at {point}, {axis}',
  'adjust.all-done': 'Every move is within its band',
  'adjust.read-again': 'Read the whole rail again.',
  'adjust.way': '{unit} to {way}; done within {band}',
  'adjust.way.first': '{unit} to {way}, as planned; not read again yet',
  'adjust.turned': 'It moved the wrong way: {did}. Turn the other way, or look at the sign of the reading.',
  'adjust.response': 'The moves so far did {percent} % of what was asked.',
  'adjust.raise': 'raise',
  'adjust.lower': 'lower',
  'adjust.left': 'left',
  'adjust.right': 'right',
  'adjust.line.open': '{adjuster}, {axis}: {asked}',
  'adjust.line.begun': '{adjuster}, {axis}: {asked} asked, {left} still to go',
  'adjust.line.done': '✓ {adjuster}, {axis}: {asked}, done',
  'leave.axis.vertical': 'height',
  'leave.axis.horizontal': 'sideways',
  'leave.axis.along': 'along',
  'leave.axis.slope': 'slope',
  'leave.axis.span': 'span',
} as const;
