/**
 * Deutsch. Terms of the standards as their German editions have them, from memory: DIN ISO 230-1 (Geradheit, Parallelität,
 * Rechtwinkligkeit), DIN EN ISO 1101 (Bezug), VIM and GUM in the German of DIN (Messunsicherheit, erweiterte
 * Messunsicherheit, Überdeckungsintervall, Erweiterungsfaktor), ISO/IEC 17025. The table of terms is glossary.ts.
 */
import type { Catalogue } from './words.js';

export const de: Catalogue = {
  'name.straightness-vertical': 'Geradheit, vertikal',
  'name.straightness-horizontal': 'Geradheit, horizontal',
  'name.straightness-vertical-local': 'Geradheit örtlich, vertikal',
  'name.straightness-horizontal-local': 'Geradheit örtlich, horizontal',
  'name.level-along': 'Neigung längs der Schiene',
  'name.parallelism-vertical': 'Parallelität, vertikal',
  'name.parallelism-horizontal': 'Parallelität, horizontal',
  'name.height-difference': 'Höhenunterschied',
  'name.cross-level': 'Querneigung',
  'name.twist': 'Verwindung',
  'name.span': 'Spurweite',
  'name.coplanarity': 'Koplanarität',
  'name.squareness': 'Rechtwinkligkeit',
  'name.joint-step-vertical': 'Stufe am Stoß, vertikal',
  'name.joint-step-horizontal': 'Stufe am Stoß, horizontal',
  'name.joint-slope-vertical': 'Knick am Stoß, vertikal',
  'name.joint-slope-horizontal': 'Knick am Stoß, horizontal',
  'name.rate-of-change-vertical': 'Änderungsrate, vertikal',
  'name.rate-of-change-horizontal': 'Änderungsrate, horizontal',

  'reason.rail-unread':
    '{isDatum, select, true {die Bezugsschiene} other {Schiene}} {rail} wurde in der {plane, select, vertical {vertikalen} other {horizontalen}} Ebene nicht abgelesen',
  'reason.straightness-stations':
    'die Geradheit braucht drei Messstellen der Schiene {rail}, die in der {plane, select, vertical {vertikalen} other {horizontalen}} Ebene abgelesen sind',
  'reason.straightness-stations-has':
    'die Geradheit braucht drei Messstellen; auf Schiene {rail} sind in der {plane, select, vertical {vertikalen} other {horizontalen}} Ebene {has} abgelesen',
  'reason.window-stations':
    'kein Abschnitt von {overMm} mm auf Schiene {rail} enthält drei abgelesene Messstellen',
  'reason.rate-stations':
    'eine Änderungsrate braucht drei Messstellen der Schiene {rail}, die in der {plane, select, vertical {vertikalen} other {horizontalen}} Ebene abgelesen sind',
  'reason.rate-apart':
    'auf Schiene {rail} liegen keine zwei Messstellen weniger als {overMm} mm auseinander',
  'reason.slope-stations':
    'eine Neigung braucht zwei Messstellen der Schiene {rail}, die in der vertikalen Ebene abgelesen sind',
  'reason.plane-stations':
    'eine Ebene braucht mindestens vier Messstellen, die nicht auf einer Geraden liegen',
  'reason.square-cross-rail':
    'die Rechtwinkligkeit braucht zwei längs abgelesene Messstellen der Querschiene {rail}',
  'reason.square-datum-rail':
    'die Rechtwinkligkeit braucht zwei in der horizontalen Ebene abgelesene Messstellen der Bezugsschiene',
  'reason.matching-stations':
    'keine in der {plane, select, vertical {vertikalen} other {horizontalen}} Ebene abgelesene Messstelle der Schiene {rail} liegt zwischen abgelesenen Messstellen der Schiene {other}',
  'reason.no-matching-stations':
    'die Schienen {rail} und {other} haben keine in der vertikalen Ebene abgelesenen Messstellen am selben Ort',
  'reason.two-matching-stations':
    'die {what, select, twist {Verwindung} other {Parallelität}} braucht zwei Messstellen am selben Ort; Schiene {rail} und Schiene {other} haben eine',
  'reason.same-place-across': 'die Schienen {rail} und {other} liegen quer am selben Ort',
  'reason.no-joints': 'Schiene {rail} hat keine Stöße',
  'reason.joint-stations':
    'der Teil der Schiene {rail} {side, select, before {vor} other {nach}} ihrem Stoß bei {jointMm} mm hat weniger als zwei in der {plane, select, vertical {vertikalen} other {horizontalen}} Ebene abgelesene Messstellen abseits des Stoßes',
  'reason.datum-no-line':
    'die Bezugsschiene {rail} hat keine Ausgleichsgerade: zu wenige ihrer Messstellen wurden in der horizontalen Ebene abgelesen',
  'reason.datum-no-horizontal-line':
    'die Bezugsschiene hat in der horizontalen Ebene keine Ausgleichsgerade',
  'reason.own-line': 'eine eigene Gerade braucht drei abgelesene Messstellen',
  'reason.set-up-no-heights': 'von Aufstellung {setup} wurde in der vertikalen Ebene nichts abgelesen',
  'reason.set-up-no-offsets':
    'von Aufstellung {setup} wurde weder in der horizontalen Ebene noch längs etwas abgelesen',
  'reason.nothing-ties-it':
    'die Ablesungen dieses Zustands verbinden es mit nichts, was es bestimmen würde',
  'reason.not-levelled':
    'Aufstellung {setup} wurde nicht horizontiert, und keine Ablesung einer Wasserwaage ersetzt das',
  'reason.not-levelled.fix':
    'die Ebene der Aufstellung {setup} horizontieren oder ihre Schiene mit einer Wasserwaage ablesen',
  'reason.height-not-carried':
    'die Höhe wurde von Aufstellung {from} nicht auf Aufstellung {to} übertragen: kein Ziel wurde von beiden aus auf demselben Punkt abgelesen',
  'reason.height-not-carried.fix':
    'ein Ziel mit unveränderter Stange von {from} und von {to} aus auf einem Punkt der ersten Schiene ablesen und danach von {to} aus auf der zweiten Schiene',
  'reason.targets-not-compared':
    'die Ziele {first} und {second} wurden in der {plane, select, vertical {vertikalen} other {horizontalen}} Ebene nicht verglichen: kein Punkt wurde von einer Aufstellung aus mit beiden abgelesen',
  'reason.targets-not-compared.fix':
    '{first} und {second} von einer Aufstellung aus auf demselben Punkt ablesen oder eines von beiden auf beiden Schienen',
  'reason.direction-not-carried':
    'die Richtung der Aufstellung {to} ist nicht mit der von Aufstellung {from} verbunden: kein Paar von Festpunkten wurde von {from} und von {to} aus abgelesen',
  'reason.direction-not-carried.fix':
    '{named, select, false {zwei Ziele auf Festpunkten, die quer zu den Schienen weit auseinander liegen,} other {die Festpunkte {monument1} und {monument2}}} in der Querebene (längs) von {from} und von {to} aus ablesen',
  'reason.part-not-tied':
    'der von {to} aus abgelesene Teil der Schiene {rail} ist quer nicht mit dem von {from} aus abgelesenen verbunden: zu wenige gemeinsame Messstellen',
  'reason.part-not-tied.fix':
    'zwei oder mehr Messstellen der Schiene {rail} von {from} und von {to} aus ablesen',
  'reason.span-not-measured': 'der Abstand quer von Schiene {rail} zu Schiene {other} wurde nicht gemessen',
  'reason.span-not-measured.fix':
    'die Spurweite zwischen den Schienen {rail} und {other} an mindestens einer Messstelle messen',
  'reason.sight-free': 'die Ziellinie von {sight} hat eine eigene Richtung, die nichts bestimmt',
  'reason.sight-free.fix':
    'sie mit einer Neigungsablesung verbinden oder mit Ablesungen derselben Messstellen von einer Aufstellung aus',
  'reason.step-not-read':
    'auf Schiene {rail} sind Messstelle {from} und Messstelle {to} durch keine Ablesung verbunden',
  'reason.step-not-read.fix':
    'den Schritt von {rail}:{from} nach {rail}:{to} ablesen oder beide von einer Aufstellung aus',
  'reason.squareness-not-known': 'die Rechtwinkligkeit des Messgeräts {instrument} ist nicht bekannt',
  'reason.squareness-not-known.fix':
    'die Standardunsicherheit der Querebene des Messgeräts {instrument} angeben',
  'reason.limit-missed':
    '{what} der Schiene {rail} verfehlt die Grenze um {by} {unit}, Unsicherheit eingerechnet',
  'reason.limit-missed.coarse':
    '{what} der Schiene {rail} verfehlt die Grenze um {by} {unit}, Unsicherheit eingerechnet; Stellelemente im Abstand von {apartM} m sind gröber als die Form',
  'reason.no-plan-in-search':
    'die Suche hat keine Liste von Stellwegen gefunden; dass es keine gibt, ist nicht bewiesen',
  'reason.moves-too-small':
    'nur Stellwege würden helfen, die kleiner sind als das, was verlangt wird ({leastUm} µm, das vom Ort Bekannte oder das dünnste Blech): neu ablesen oder sich über die Grenze einigen',
  'reason.nothing-can-move': 'nichts, was gestellt werden darf, ändert es',
  'reason.no-stations-beside-datum':
    'Schiene {rail} hat keine Messstellen neben denen der Bezugsschiene',
  'reason.place-to-datum-open':
    'die Ablesungen bestimmen nicht, wie Schiene {rail} zur Bezugsschiene liegt',
  'reason.with-fix': '{missing}. Um es zu bestimmen: {fix}',

  'leave.all-decided': 'Sie können abreisen. Über jede Toleranz ist entschieden.',
  'leave.no-limits':
    'Sie können abreisen. Alles Geplante ist abgelesen; eine Toleranz ist nicht angegeben.',
  'leave.nothing-decides':
    'Sie können abreisen. {open, plural, one {Über eine Toleranz ist nicht entschieden, und nichts, was noch abgelesen werden kann, würde sie entscheiden.} other {Über # Toleranzen ist nicht entschieden, und nichts, was noch abgelesen werden kann, würde sie entscheiden.}}',
  'leave.problems':
    'Noch nicht abreisen. {count, plural, one {Ein Problem ist zu beheben oder zu bestätigen.} other {# Probleme sind zu beheben oder zu bestätigen.}}',
  'leave.to-read': 'Noch nicht abreisen. Nicht alles Geplante ist abgelesen.',
  'leave.to-repeat': 'Noch nicht abreisen. Eine Ablesung ist zu wiederholen: {what}, {axis}.',
  'leave.to-decide':
    'Noch nicht abreisen. {open, plural, one {Über eine Toleranz ist nicht entschieden, und Ablesungen an der Maschine können sie entscheiden.} other {Über # Toleranzen ist nicht entschieden, und Ablesungen an der Maschine können einige davon entscheiden.}}',
  'leave.label.read': 'Abgelesen',
  'leave.label.problems': 'Probleme',
  'leave.label.closures': 'Rückblicke',
  'leave.label.repeat': 'Zu wiederholen',
  'leave.label.again': 'Nachgeprüft',
  'leave.label.tolerances': 'Toleranzen',
  'leave.blank':
    '{count, plural, one {Eine geplante Zeile enthält keine Ablesung: {rows}.} other {# geplante Zeilen enthalten keine Ablesung: {rows}.}} Eine Zeile, die nicht abgelesen werden soll, wird mit use = no gekennzeichnet.',
  'leave.nothing-read': 'Noch ist keine Ablesung verwendbar.',
  'leave.closures.none':
    'Kein Punkt wurde von einer Aufstellung zweimal abgelesen. Nichts zeigt, ob sich ein Messgerät bewegt hat.',
  'leave.closures.held':
    'Jeder erneut abgelesene Punkt stimmt überein. Am weitesten weicht {point} von {setup} ab, {axis}: {closure}; {allowed} ist üblich.',
  'leave.closures.exceeded':
    '{exceeded, plural, one {Ein Punkt stimmt nicht überein.} other {# Punkte stimmen nicht überein.}} Am weitesten weicht {point} von {setup} ab, {axis}: {closure}; {allowed} ist üblich.',
  'leave.repeat.none': 'Keine Ablesung ist zu wiederholen.',
  'leave.repeat.contradicted':
    '{what}, {axis} ({place}): die anderen widersprechen ihr. {must, select, yes {Durch Zufall allein kommt das kaum vor. Noch einmal ablesen und die falsche mit use = no weglassen.} other {Das kann Zufall sein. Noch einmal ablesen, wenn Zeit ist.}}',
  'leave.repeat.not-closed':
    '{what}, {axis} ({place}): die letzte Ablesung weicht von der ersten ab. {must, select, yes {Durch Zufall allein kommt das kaum vor. Noch einmal ablesen und prüfen, ob sich das Messgerät bewegt hat.} other {Das kann Zufall sein. Noch einmal ablesen, wenn Zeit ist.}}',
  'leave.repeat.helps-most':
    '{what}, {axis} ({place}): eine weitere Ablesung dort hilft am meisten. Ein offenes Intervall wird dadurch um {narrower} schmaler.',
  'leave.again.both': 'Horizontierung und Nullpunkt von {setups} wurden nachgeprüft.',
  'leave.again.level': 'Die Horizontierung von {setups} wurde nachgeprüft.',
  'leave.again.zero': 'Der Nullpunkt von {setups} wurde nachgeprüft.',
  'leave.again.not.level':
    'Nicht die Horizontierung von {setups}: nach dem letzten Punkt die Höhe eines früheren Punkts noch einmal ablesen, bevor das Messgerät abgebaut wird.',
  'leave.again.not.zero':
    'Nicht der Nullpunkt von {setups}: nach dem letzten Punkt einen früheren Punkt seitlich noch einmal ablesen, bevor das Messgerät abgebaut wird.',
  'leave.again.none': 'Keine Ablesungen von einer Aufstellung.',
  'leave.decided': '{name}: {value}, Grenze {limit}: {verdict}.',
  'leave.open.missing': '{name}: kein Wert. {why}',
  'leave.open.reading':
    '{name}: {value}, Grenze {limit}: nicht entschieden. {what}, {axis}, noch einmal abgelesen würde entscheiden, wenn der Wert bleibt, wo er ist.',
  'leave.open.passes':
    '{name}: {value}, Grenze {limit}: nicht entschieden. {times}-mal so viele Durchgänge würden entscheiden, wenn der Wert bleibt, wo er ist.',
  'leave.open.way':
    '{name}: {value}, Grenze {limit}: nicht entschieden. Entscheiden würde: {way}, wenn der Wert bleibt, wo er ist.',
  'leave.open.suspect':
    '{name}: {value}, Grenze {limit}: nicht entschieden. Die Ablesungen widersprechen sich mehr, als sie dürften; zuerst die falsche suchen.',
  'leave.open.nothing':
    '{name}: {value}, Grenze {limit}: nicht entschieden. {times, plural, =0 {Nichts, was noch abgelesen werden kann, würde entscheiden} other {Nur #-mal so viele Durchgänge würden entscheiden, und so viele liest niemand ab}}: die Schiene nachstellen oder sich über Grenze oder Regel einigen.',
  'leave.open.nothing-missing':
    '{name}: kein Wert, und keine Ablesung an der Maschine liefert einen. {why}',
  'leave.more': 'und {count} weitere',
  'leave.axis.vertical': 'Höhe',
  'leave.axis.horizontal': 'seitlich',
  'leave.axis.along': 'längs',
  'leave.axis.slope': 'Neigung',
  'leave.axis.span': 'Spurweite',

  'list.and': '{first} und {last}',
  'page.of': 'Seite {page} von {pages}',
  'head.draft': 'Entwurf, nicht freigegeben',
  'head.serial': 'Serien-Nr. {serial}',
  'title.machine': '{name}, Serien-Nr. {serial}',
  'title.unknown': 'Maschinenschienen, {job}',
  'title.report': '{kind} {report}',
  'validity.what-if': 'Was wäre wenn',
  'validity.draft': 'Entwurf: nicht ausgestellt und nicht freigegeben (Seite 2)',
  'validity.issued': 'Ausgestellt am {on} durch {by}',

  'issued.without-approver': 'Ausgestellt, obwohl nicht festgehalten ist, wer freigegeben hat.',
  'issued.without-traceability':
    'Ausgestellt, obwohl Kalibrierschein oder Kalibrierfrist nicht festgehalten sind von {instruments}: die Rückführung der Ablesungen ist nicht nachgewiesen.',

  'fact.customer': 'Auftraggeber',
  'fact.place': 'Ort',
  'fact.issuer': 'Ausgestellt von',
  'fact.read': 'Abgelesen',
  'fact.rails': 'Schienen',
  'fact.limits': 'Grenzen',
  'fact.state': 'Zustand',
  'fact.machine': 'Maschine',
  'fact.serial': 'Serien-Nr.',
  'fact.prepared': 'Erstellt',
  'fact.method': 'Ausgabe der Methode',
  'fact.job': 'Auftrag',
  'fact.issuer-address': 'Anschrift des Ausstellers',
  'fact.customer-address': 'Anschrift des Auftraggebers',
  'fact.revision': 'Änderungsstand',
  'fact.procedure': 'Verfahren',
  'fact.providers': 'Externe Anbieter',
  'fact.software': 'Software',
  'fact.simulation': 'Simulation',
  'fact.document': 'Dokument',
  'read.by': '{days}, durch {by}',
  'rail.datum': '{rail} (Bezug)',
  'more.count': '{count} weitere',
  'limits.given': 'wie im Auftrag angegeben, kein Dokument genannt',
  'limits.none': 'keine Grenze ist angegeben',

  'verdict.conforms':
    '{rails, plural, one {Die Schiene ist konform} other {Die Schienen sind konform}}, {phase}.',
  'verdict.does-not-conform':
    '{rails, plural, one {Die Schiene ist nicht konform} other {Die Schienen sind nicht konform}}, {phase}.',
  'verdict.undecided':
    'Nicht entschieden: {open} von {all, plural, one {# Merkmal} other {# Merkmalen}}, {phase}.',
  'verdict.reported': 'Berichtet ohne Konformitätsaussage, {phase}.',

  'found.no-limit':
    'Für das Gemessene gilt keine Grenze. Die Werte werden berichtet, wie sie sind.',
  'found.inside.guarded':
    '{all, plural, one {Das eine Merkmal mit Grenze liegt innerhalb, einschließlich seines ganzen {coverage}-Intervalls.} other {Alle # Merkmale mit Grenze liegen innerhalb, einschließlich des ganzen {coverage}-Intervalls.}}',
  'found.inside.risk':
    '{all, plural, one {Das eine Merkmal mit Grenze liegt beim vereinbarten Risiko innerhalb.} other {Alle # Merkmale mit Grenze liegen beim vereinbarten Risiko innerhalb.}}',
  'found.inside.simple':
    '{all, plural, one {Das eine Merkmal mit Grenze liegt innerhalb.} other {Alle # Merkmale mit Grenze liegen innerhalb.}}',
  'found.counts.guarded':
    '{outside, plural, =0 {Keines von {all} Merkmalen liegt außerhalb seiner Grenze.} one {Eines von {all} Merkmalen liegt mit seinem ganzen Intervall außerhalb seiner Grenze.} other {# von {all} Merkmalen liegen mit ihrem ganzen Intervall außerhalb ihrer Grenzen.}} {open, plural, =0 {} one {Eines ist nicht entschieden: sein Intervall reicht über die Grenze.} other {# sind nicht entschieden: das Intervall reicht über die Grenze.}} {inside, plural, =0 {} one {Eines ist konform.} other {# sind konform.}}',
  'found.counts.simple':
    '{outside, plural, =0 {Keines von {all} Merkmalen liegt außerhalb seiner Grenze.} one {Eines von {all} Merkmalen liegt außerhalb seiner Grenze.} other {# von {all} Merkmalen liegen außerhalb ihrer Grenzen.}} {inside, plural, =0 {} one {Eines ist konform.} other {# sind konform.}}',
  'found.missing':
    '{count, plural, one {Eines hat keinen Wert: die Ablesungen bestimmen es nicht.} other {# haben keinen Wert: die Ablesungen bestimmen sie nicht.}}',
  'before.counts':
    '{phase} {outside, plural, =0 {war keines nicht konform} one {war eines nicht konform} other {waren # nicht konform}}{open, plural, =0 {} one {, eines war nicht entschieden} other {, # waren nicht entschieden}}.',
  'before.conformed': '{phase} waren alle konform.',
  'farthest.outside': 'Am weitesten außerhalb: {name}: {figure}; Grenze {limit} (Zeile {row}).',
  'farthest.open':
    'Reicht am weitesten über die Grenze: {name}: {figure}; Grenze {limit} (Zeile {row}).',
  'farthest.inside': 'Am nächsten an der Grenze: {name}: {figure}; Grenze {limit} (Zeile {row}).',
  'figure.at': '{figure} bei {at}',
  'figure.up-to': 'bis {figure}',
  'rule.guarded':
    'Regel: Annahme mit Sicherheitsabstand, JCGM 106: das ganze {coverage}-Intervall innerhalb der Grenze; Risiko einer falschen Annahme höchstens {risk}.',
  'rule.risk':
    'Regel: Annahme mit Sicherheitsabstand, JCGM 106: das obere Ende beim vereinbarten Risiko innerhalb der Grenze; Risiko einer falschen Annahme höchstens {risk}, einseitig.',
  'rule.simple':
    'Regel: einfache Annahme, JCGM 106: der Wert innerhalb der Grenze; das Risiko einer falschen Annahme an einer Grenze beträgt bis zu 50 %.',

  'bars.caption': 'Prozent der jeweiligen Grenze.',
  'bars.judged': '{phase}: Wert und {coverage}-Intervall',
  'bars.before': '{phase}',
  'bars.signs': '+ und −: Enden eines Werts mit Vorzeichen',
  'bars.limit': 'Grenze',
  'bars.rest':
    '{count, plural, one {Eine weitere Zeile steht in Tabelle 1} other {# weitere Zeilen stehen in Tabelle 1}}: {counts}. Die erste davon erreicht {share} ihrer Grenze.',
  'bars.alt': '{from} bis {to} der Grenze',
  'head.characteristic': 'Merkmal, ungünstigstes zuerst',
  'head.where': 'Merkmal, und wo es entschieden wird',
  'head.value': 'Wert',
  'head.interval': '{coverage}-Intervall oder ± U',
  'head.at': 'Entschieden bei',
  'head.limit': 'Grenze',
  'head.verdict': 'Aussage',
  'head.guard': 'Sicherheitsabstand',
  'head.risk': 'Risiko höchstens',
  'row.whole-rail': 'ganze Schiene',

  'next.title': 'Was als Nächstes zu tun ist (Meinung)',
  'next.nothing.lead': 'Nichts muss gestellt werden',
  'next.nothing': '(Abschnitt {moves}).',
  'next.approve.lead': 'Freigeben und unterschreiben',
  'next.approve': 'auf Seite 2. Bis dahin ist dieser Bericht ein Entwurf.',
  'next.air.lead': 'Bei der nächsten Vermessung {what}:',
  'next.air': 'das ist der größte Einfluss, den das Intervall nicht enthält.',
  'next.read.lead': 'Zuerst neu ablesen.',
  'next.read': 'Weitere Ablesungen können {rows} entscheiden. Abschnitt {moves} sagt, welche.',
  'next.missing.lead': 'Fehlendes ablesen',
  'next.missing': 'für {rows}. Anhang C sagt, welche Ablesung den Wert ergäbe.',
  'next.too-close.lead': 'Nachstellen oder sich über die Grenze einigen.',
  'next.too-close':
    'Keine Ablesung dieser Art würde {rows} entscheiden: das Gemessene liegt zu nah an der Grenze.',
  'next.move.lead': 'Stellen,',
  'next.move': 'was Abschnitt {moves} aufführt. Sonst muss nichts gestellt werden.',
  'next.survey.lead': 'Neu vermessen.',
  'next.survey': '{rows} {count, plural, one {ist} other {sind}} dann voraussichtlich konform.',
  'next.survey.plain': 'Die Grenzen sind erst eingehalten, wenn eine neue Vermessung es sagt.',
  'next.state-limits.lead': 'Grenzen angeben',
  'next.state-limits': 'im Auftrag, wo eine Konformitätsaussage gewünscht ist.',
  'what.air': 'die Luft in zwei Höhen messen',
  'what.air-sideways': 'die Luft auf beiden Seiten messen',
  'what.level-zero-along': 'von einer um einen halben Kreis gedrehten Aufstellung ablesen',
  'what.level-zero-across': 'von einer um einen halben Kreis gedrehten Aufstellung ablesen',
  'what.bow': 'die Temperatur von Kopf und Fuß der Schienen notieren',
  'what.seating': 'angeben, wie gut das Ziel aufsitzt („seat“)',
  'what.cone': 'den Kegel der Ebenen angeben lassen',
  'what.target-scale': 'den Maßstab der Ziele angeben lassen',
  'what.target-roll': 'die Verdrehung der Ziele angeben lassen',

  'rests.title': 'Worauf dies beruht',
  'rests.not-in': 'Nicht im Intervall, weil nichts angegeben ist:',
  'rests.size': 'Beträgt es',
  'rests.reading': 'ändert sich eine Ablesung um',
  'rests.turns': 'Eine Aussage kippt bei',
  'rests.turns.row': '{size}, Zeile {row}',
  'rests.turns.none': 'keine kippt',
  'rests.more': 'Ebenfalls nicht im Intervall: {effects}.',
  'rests.more.one': '{effect}, {reading}',
  'rests.all-stated': 'Jeder betrachtete Einfluss ist angegeben und im Intervall enthalten.',
  'effect.air': 'Luft, oben oder unten wärmer',
  'effect.air-sideways': 'Luft, auf einer Seite wärmer',
  'effect.level-zero-along': 'eigener Nullpunkt der Libelle, längs',
  'effect.level-zero-across': 'eigener Nullpunkt der Libelle, quer',
  'effect.bow': 'Kopf wärmer als Fuß, zunehmend',
  'effect.seating': 'Aufsitzen der Ziele, zufällig',
  'effect.cone': 'Kegel der Ebenen',
  'effect.target-scale': 'Maßstab der Ziele',
  'effect.target-roll': 'Verdrehung der Ziele',
  'stations.lead': 'Messstellen.',
  'stations.all':
    'Alle {stations} Messstellen {rails, plural, one {der Schiene} other {der # Schienen}} wurden abgelesen',
  'stations.some':
    '{read} von {stations} Messstellen {rails, plural, one {der Schiene} other {der # Schienen}} wurden abgelesen; nicht abgelesen: {missing}. Was hier steht, gilt für die übrigen',
  'stations.readings':
    '{lead}; {readings, plural, one {eine Ablesung} other {# Ablesungen}}, {spare, plural, =0 {keine mehr als nötig} one {eine mehr als nötig} other {# mehr als nötig}}.',
  'stations.left-out':
    '{count, plural, =0 {Keine Ablesung wurde weggelassen.} one {Eine Ablesung wurde weggelassen (Anhang C).} other {# Ablesungen wurden weggelassen (Anhang C).}}',
  'unseen.lead': 'Von nichts geprüft:',
  'unseen.turns': '{what}: ein unbemerkter Fehler von {size} würde Zeile {row} kippen',
  'unseen.moves': '{what}: kein unbemerkter Fehler bis 2 mm würde eine Aussage kippen',
  'unseen.all': '{list}.',
  'unseen.none.lead': 'Verbindungen.',
  'unseen.none': 'Jede Verbindung zwischen Aufstellungen ist durch eine zweite geprüft.',
  'unseen.single.lead': 'Verbindungen.',
  'unseen.single': 'Eine Verbindung zwischen Aufstellungen ist nicht nötig.',
  'unseen.nothing.lead': 'Nichts prüft',
  'unseen.nothing':
    'irgendeine Ablesung: die Redundanz ist 0. Ein Fehler in einer von ihnen würde sich nicht zeigen.',
  'confirmed.lead': 'Bestätigt.',
  'confirmed.none': 'Nichts musste von Hand bestätigt werden.',
  'confirmed.some':
    '{count, plural, one {Eine Auffälligkeit wurde von {by} bestätigt (Anhang C).} other {# Auffälligkeiten wurden von {by} bestätigt (Anhang C).}}',
  'known.lead': 'Zu wissen.',

  'table1.caption':
    'Jedes Merkmal mit Grenze, {phase}. Die Zeilennummern sind die aus Bild 1.',
  'table1.together': 'Schienen gemeinsam',
  'table1.note':
    '± ist die erweiterte Messunsicherheit {expanded}. Eine Spannweite (Geradheit, Parallelität, Verwindung, Koplanarität) hat einen Wert und ein Intervall, das nicht symmetrisch um ihn liegen muss: durch Rauschen fällt eine Spannweite zu groß aus. Von einem Wert mit Vorzeichen sind beide Enden angegeben, zuerst das, welches seiner Grenze am nächsten liegt. Bei: die Messstellen, die den Wert ausmachen. Sicherheitsabstand: wie weit der Wert innerhalb seiner Grenze liegen muss, um konform zu sein. Risiko: einer falschen Annahme, wo eine Zeile konform ist, einer falschen Zurückweisung (Zur.), wo sie es nicht ist; das größte, das der Beweis des Intervalls zulässt.',
  'table1.figure1':
    'In Bild 1 wird ein Wert mit Vorzeichen von der Mitte seiner Zone aus gemessen.',
  'risk.rejection': 'Zur. {risk}',
  opinion: 'Dieser Abschnitt ist eine Meinung. Er folgt aus den Ergebnissen und gehört nicht zu ihnen.',
  'stations.caption':
    'Messstellen {phase}: Abweichung von der eigenen Ausgleichsgeraden jeder Schiene und Höhe gegen die Bezugsschiene, in {unit}, jeweils ± U. + ist oben oder links.',
  'stations.before':
    'Höhen und Lagen aller Messstellen des ersten Zustands: stations.csv, neben diesem Bericht.',
  'stations.thinned':
    'Von dieser langen Vermessung: die Enden, jede {nth}. Messstelle und die, bei denen eine Abweichung am größten oder kleinsten ist. Alle stehen in stations.csv.',
  'stations.signs': '–: nicht abgelesen. n. b.: nicht bestimmt.',
  'trace.instrument':
    '{instrument}: die Ablesungen sind rückgeführt durch Kalibrierschein {certificate}, {laboratory, select, none {Kalibrierlabor nicht festgehalten} other {ausgestellt von {laboratory}}}{day, select, none {} other { am {day}}}.',
  'trace.none':
    '{instrument}: kein Kalibrierschein ist festgehalten; die Rückführung der Ablesungen ist nicht nachgewiesen.',
  'end.report': 'Ende des Berichts {report}',

  'phase.as-found': 'vor der Justage',
  'phase.as-left': 'nach der Justage',
  'verdict-word.conforms': 'konform',
  'verdict-word.does-not-conform': 'nicht konform',
  'verdict-word.undecided': 'nicht entschieden',
  'verdict-word.reported': 'keine Toleranz',
  'reference.least-squares': 'kleinste Quadrate',
  'reference.minimum-zone': 'kleinste Zone',
  'reference.end-points': 'Endpunkte',
  'axis.vertical': 'vertikal',
  'axis.horizontal': 'horizontal',
  'axis.along': 'längs',
  'rails.one': 'Schiene {rail}',
  'rails.to': 'Schiene {rail} zu Schiene {other}',
  'rails.to-datum': 'Schiene {rail} zum Bezug',
  'rails.both': 'Schienen {other} und {rail}',
  'rails.and-datum': 'Schiene {rail} und der Bezug',
  'rails.together': 'Schienen {rails} gemeinsam',
  'rails.any-two': 'je zwei der Schienen {rails}',
  'rails.list': 'Schienen {rails}',
  'rails.pair': '{rail} zu {other}',
  'condition.any': 'auf je {length}',
  'condition.between': 'zwischen {from} und {to}',
  'condition.from-to': 'von {from} bis {to}',
  'side.convex': 'nur konvex',
  'side.hollow': 'nur hohl',
  'side.both': 'nach beiden Seiten',
  'limit.at-most': 'höchstens {limit}',
  'limit.at-least': 'mindestens {limit}',
  range: '{from} bis {to}',
  characteristic: '{name}, {rails}',
  'characteristic.condition': '{name} ({condition}), {rails}',
  'figure.range': '{figure}, {from} bis {to}',
  'not-recorded': 'nicht festgehalten',
  'not-determined': 'nicht bestimmt',
  'not-determined.why': 'nicht bestimmt: {why}',
  'not-read': 'nicht abgelesen',
  'no-note': 'ohne Bemerkung',
  'of-phase': '{phase}: {line}',
  row: 'Zeile {row}',
  rows: '{count, plural, one {Zeile} other {Zeilen}} {rows}',
  'row.at': 'bei {at}',
  'file-row': '{file}, Zeile\u00a0{row}',
  'the-job': 'der Auftrag',
  'first.of': 'Die ersten {most} von {count}; alle stehen in results.json.',
  'first.of-each-phase': 'Die ersten {most} jedes Zustands; alle stehen in results.json.',
  'caption.table': 'Tabelle\u00a0{n}\u2002{caption}',
  'caption.figure': 'Bild\u00a0{n}\u2002{caption}',
  'figure.1': 'Bild\u00a01',

  'kind.acceptance': 'Abnahmebericht',
  'kind.measurement': 'Messbericht',
  'kind.what-if': 'Was-wäre-wenn-Bericht',
  'title.acceptance': 'Abnahmebericht zur Schienenvermessung {job}',
  'title.measurement': 'Messbericht zur Schienenvermessung {job}',
  'title.what-if': 'Was-wäre-wenn-Bericht zur Schienenvermessung {job}',
  software: '{name} {version}, Methode {method}',
  contents: 'Inhalt',
  'contents.verdict': 'Aussage',
  'section.results': '{n} Ergebnisse',
  'section.figures': '{n} Bilder',
  'section.moves': '{n} Was zu stellen ist',
  'section.survey': 'Anhang {n} Aufstellungen und Messgeräte',
  'section.stations': 'Anhang {n} Messstellen',
  'section.checks': 'Anhang {n} Prüfungen',
  'section.method': 'Anhang {n} Methode und Eingaben',
  'statement.items':
    'Die Ergebnisse beziehen sich nur auf die gemessenen Gegenstände im Zustand der Messtage. Dieser Bericht darf nur als Ganzes vervielfältigt werden.',
  'statement.draft':
    'Er ist ein Entwurf, bis er ausgestellt und „Freigegeben von“ unterschrieben ist.',
  amends: 'Dieser Bericht ersetzt Bericht {number}. Grund: {because}',
  'amends.nothing': 'Kein gedruckter Wert und keine Aussage weicht davon ab.',
  'amends.more':
    '{count, plural, one {und # weitere Änderung} other {und # weitere Änderungen}}, aufgeführt in results.json.',
  'what-if':
    'Was wäre wenn: dieser Bericht ist nach {set, select, none {einem anderen Toleranzsatz} other {dem Toleranzsatz „{set}“}} beurteilt anstelle {own, select, none {des Auftrags, der keine Toleranz angibt} other {des eigenen Satzes des Auftrags ({own})}}. Er ist kein Abnahmebericht und ersetzt keinen.',
  'limits.grade': 'Klasse {grade}',
  'limits.revision': 'Änderungsstand {revision}',
  'limits.based-on': 'beruht auf {sets}',
  'bars.rest.count': '{count} {verdict}',
  'caution.overdue':
    'Die Kalibrierfrist von {instruments} war abgelaufen, als abgelesen wurde (Anhang A).',
  'caution.scatter':
    'Die Ablesungen {phase} streuen mehr, als die angegebene Unsicherheit der Messgeräte erklärt; alle Unsicherheiten sind deshalb {times}-mal so groß (Anhang C).',
  'caution.suspects':
    '{count, plural, one {# Ablesung ist auffällig und wurde beibehalten} other {# Ablesungen sind auffällig und wurden beibehalten}} (Anhang C).',
  'caution.closures':
    '{count, plural, one {# Rückblick weicht} other {# Rückblicke weichen}} weiter ab als zulässig (Anhang A).',

  'sign.title': 'Unterschriften',
  'sign.caption': 'Unterschrieben von',
  'sign.signed': 'Unterschrieben',
  'sign.name': 'Name',
  'sign.role': 'Funktion',
  'sign.date': 'Datum',
  'sign.signature': 'Unterschrift',
  'sign.surveyed': 'Vermessen von',
  'sign.prepared': 'Erstellt von',
  'sign.approved': 'Freigegeben von',
  'sign.issued': 'Ausgestellt von',
  'sign.customer': 'Für den Auftraggeber',
  'sign.electronic':
    'Elektronisch signiert von {subject}, zertifiziert durch {issuer}. Die Signatur ist in der PDF-Datei, nicht auf Papier: ein PDF-Programm, das Signaturen prüft, zeigt, ob die Datei unverändert ist und von wem sie stammt.',

  'head.characteristic-plain': 'Merkmal',
  'head.verdict-detail': 'Aussage',
  'head.unit': 'Einheit',
  'head.phase': 'Zustand',
  'table1.rail': '{rail}: {name}',
  'table1.undetermined':
    'Nicht bestimmt: siehe „Was die Ablesungen nicht bestimmen“ in Anhang C, mit der Ablesung, die es ergäbe.',
  'rounds.caption': 'Zustand für Zustand',
  'others.caption': 'Ergebnisse ohne Grenze, {phase}: zur Information',
  nominal:
    'Gewünscht in einer Form, die der Auftrag vorgibt: {rails}. Höhen, Lagen und Abweichungen zählen von ihr aus.',
  'nominal.rail': 'Schiene {rail} ({planes})',
  growing: 'Grenzen, die mit der Länge wachsen, wurden genommen: {parts}.',
  'growing.part': '{count, plural, one {Zeile} other {Zeilen}} {rows} für {length}',
  signs: 'Vorzeichen: {notes}.',
  'signs.level': 'Neigung: + steigt in Richtung zunehmender Längsposition',
  'signs.height':
    'Höhenunterschied und Querneigung: + die Schiene liegt höher als die Bezugsschiene',
  'signs.span': 'Spurweite: + größer als das Nennmaß',
  'signs.joint':
    'Stöße: + der Teil nach dem Stoß liegt höher oder weiter links, steigt stärker oder dreht stärker nach links',
  'signs.rate':
    'Änderungsrate: + steigt oder dreht nach links in Richtung zunehmender Längsposition',
  'signs.squareness': 'Rechtwinkligkeit: + der Winkel von längs nach quer ist größer als 90°',

  'head.station-short': 'Nr.',
  'head.along': 'Längs',
  'head.across': 'Quer',
  'station.up': '{rail}: oben',
  'station.left': '{rail}: links',
  'station.ahead': '{rail}: voraus',
  'station.above': '{rail} über {datum}',
  'station.open': 'n. b.',

  'survey.no-setups':
    'Abgelesen ohne Aufstellungen eines Strahls: mit Wasserwaage, Autokollimator oder Abstand von Messstelle zu Messstelle.',
  'survey.conditions': 'Bedingungen',
  'head.setup': 'Aufstellung',
  'head.instrument': 'Messgerät',
  'head.level-plane': 'Waagebene',
  'head.positive': 'Eine positive Ablesung heißt',
  'head.note': 'Bemerkung',
  'setup.levelled': 'horizontiert',
  'setup.not-levelled': 'nicht horizontiert',
  'way-of.up': 'oben',
  'way-of.down': 'unten',
  'way-of.left': 'links',
  'way-of.right': 'rechts',
  'way-of.ahead': 'voraus',
  'way-of.back': 'zurück',
  'setups.caption': 'Wo das Messgerät stand',
  'stood.caption': 'Wie weit jeder Strahl von der Sollrichtung abwich',
  'stood.why': '{angle} von {setup}: {why}',
  'stood.note':
    'Gieren: links oder rechts von der Ausgleichsgeraden der Schiene {datum} gedreht. Nicken: steigend oder fallend mit zunehmender Längsposition. Rollen: welche Seite oben ist, in Richtung zunehmender Längsposition gesehen. Die Lösung berücksichtigt alle drei; sie sind von Belang, weil der Fehler eines Ziels mit dem Abstand von seiner Mitte wächst. ± ist {expanded}.',
  'angle.yaw': 'Gieren',
  'angle.pitch': 'Nicken',
  'angle.roll': 'Rollen',
  'head.yaw': 'Gieren',
  'head.pitch': 'Nicken',
  'head.roll': 'Rollen',
  'head.readings': 'Ablesungen',
  'head.largest': 'Größte Ablesung, vom Bereich des Ziels',
  'turned.yaw.plus': '{size} links',
  'turned.yaw.minus': '{size} rechts',
  'turned.pitch.plus': '{size} steigend',
  'turned.pitch.minus': '{size} fallend',
  'turned.roll.plus': '{size} links oben',
  'turned.roll.minus': '{size} rechts oben',
  largest: '{axis} {reading} von {range}, {share}',
  'largest.near-end': '{axis} {reading} von {range}, {share}: nahe am Ende',
  'largest.no-range': '{axis} {reading}; Bereich nicht festgehalten',
  'share.under-1': 'unter 1\u00a0%',
  'drift.caption': 'Drift der Ebenen während der Ablesungen',
  'drift.note':
    'Die Lösung berücksichtigt die Raten. + die Lichtebene wanderte nach oben, nach links oder voraus.',
  'drift.significant': 'signifikant',
  'drift.small': 'zu klein, um sie von null zu unterscheiden',
  'head.plane': 'Ebene',
  'head.rate': 'Rate',
  'head.against-u': 'Gegen ihre Unsicherheit',
  'plane.vertical': 'Waagebene',
  'plane.horizontal': 'Längsebene',
  'plane.along': 'Querebene',
  'ties.caption': 'Wie die Aufstellungen miteinander verbunden wurden',
  'ties.note':
    'Differenz: spätere Aufstellung minus frühere; Richtung + nach links gedreht, Höhe + höher. Der gemeinsame Wert der Ablesungen überträgt nichts, nur ihre Differenz.',
  'tie.direction': 'Richtung',
  'tie.height': 'Höhe',
  'head.carried': 'Übertragen',
  'head.from-to': 'Von – nach',
  'head.by': 'Durch',
  'head.baseline': 'Basis',
  'head.difference': 'Differenz und ihr U',
  'closures.caption': 'Rückblicke auf denselben Punkt',
  'closures.note':
    'Abweichung: letzte Ablesung minus erste, wie abgelesen, mit Vorzeichen. Zulässig: was die angegebene Unsicherheit bei {coverage} erklärt.',
  'closures.drift':
    'Durch Drift: was die gefundenen Raten aus der Abweichung machen; der Rest wird mit dem Zulässigen verglichen.',
  'closures.cut':
    'Die {most} größten jedes Zustands, gemessen am Zulässigen; alle stehen in results.json.',
  'head.point-target': 'Punkt, Ziel',
  'head.axis': 'Achse',
  'head.looks': 'Erster und letzter Blick',
  'head.closure': 'Abweichung',
  'head.by-drift': 'Durch Drift',
  'head.allowed': 'Zulässig',
  'head.result': 'Ergebnis',
  'result.exceeded': 'überschritten',
  'result.within': 'eingehalten',
  'times.not-recorded': 'Zeiten nicht festgehalten',
  'loops.caption': 'Schleifen von Neigungsschritten',
  'loops.note':
    'Abweichung: Summe der Schritte um die Schleife. Zulässig: was die angegebene Unsicherheit bei {coverage} erklärt, alle Schleifen zusammen.',
  'loops.cut':
    'Die {most} jedes Zustands, die am schlechtesten schließen; weitere stehen in results.json.',
  'head.loop': 'Schleife',
  'head.steps': 'Schritte',
  'instruments.caption': 'Messgeräte',
  'head.description': 'Beschreibung',
  'head.certificate': 'Kalibrierschein',
  'head.due': 'Kalibrierung fällig',
  'head.stated-u': 'Angegebene Standardunsicherheit (k\u00a0=\u00a01)',
  'due.no-days': 'die Messtage sind nicht festgehalten',
  'due.overdue': 'überfällig: die Frist war abgelaufen, als abgelesen wurde',
  'claim.reading': 'Ablesung {u}',
  'claim.reading-display': 'Ablesung {u}, einschließlich Anzeige {display}',
  'claim.per-distance': 'dazu {size} je {unit} Abstand',
  'claim.level': 'Horizontierung {u}',
  'claim.square': 'Querebene {u}',
  'claim.drift': 'Drift {u} je Stunde',
  'claim.range': 'Bereich ±{range}',
  'fact.temperature': 'Temperatur',
  'fact.surveyed': 'Vermessen',
  'fact.approved': 'Freigegeben',
  'fact.report': 'Bericht',
  'phase.surveyed': 'vermessen von {by}',
  'phase.machine': 'Maschine: {state}',
  'phase.instruments': 'Messgeräte {list}',
  differs:
    'Die Zustände wurden nicht unter gleichen Bedingungen vermessen; eine Änderung zwischen ihnen kann daran liegen. {parts}',
  'differs.machine': 'Maschine: {list}',
  'differs.temperature': 'Temperatur: {list}',
  'differs.instruments': 'Messgeräte: {list}',
  'differs.phase': '{phase} {text}',

  'fit.readings':
    '{readings, plural, one {# Ablesung} other {# Ablesungen}}{priors, plural, =0 {} one { und # vorab bekannter Wert (Horizontierung, Rechtwinkligkeit oder Drift)} other { und # vorab bekannte Werte (Horizontierung, Rechtwinkligkeit oder Drift)}} für {unknowns, plural, one {# Unbekannte} other {# Unbekannte}}{open, plural, =0 {} other { (# davon durch Festlegung bestimmt)}}; Redundanz {redundancy}.',
  'fit.unchecked':
    'Keine Ablesung wird durch eine andere geprüft: ein Fehler in einer von ihnen würde sich nicht zeigen.',
  'fit.sigma':
    'σ₀\u00a0=\u00a0{sigma}; bei 1 streuen die Ablesungen genau so, wie es die angegebene Unsicherheit der Messgeräte sagt.{chance, select, none {} other { Durch Zufall allein würden {chance} stärker streuen.}}',
  'fit.widened':
    'Das ist mehr, als der Zufall bei 1 % erklärt; deshalb ist jede Unsicherheit und jedes Intervall dieses Zustands mit {scale} multipliziert.',
  'fit.kept':
    'Die angegebenen Unsicherheiten bleiben; sie werden nie verkleinert.{times, select, none {} other { Ablesungen mit {times}-mal so viel Rauschen wie angegeben würden bei 95 von 100 solchen Vermessungen bemerkt; weniger kann unbemerkt bleiben, und die Intervalle sind dann um ebenso viel zu schmal.}}',
  'fit.suspects':
    '{count, plural, =0 {Keine Ablesung ist auffällig (Test nach Baarda, α\u00a0=\u00a00,001).} one {# Ablesung ist auffällig (Test nach Baarda, α\u00a0=\u00a00,001); siehe unten.} other {# Ablesungen sind auffällig (Test nach Baarda, α\u00a0=\u00a00,001); siehe unten.}}',
  'chance.hardly': 'weniger als 1 von {surveys} Vermessungen',
  'chance.nearly-all': 'mehr als {share} der Vermessungen',
  'chance.one-in': 'etwa 1 von {surveys} Vermessungen',
  'chance.share': '{share} der Vermessungen',
  'groups.likeliest':
    'Wahrscheinlichste Ursache: {what}{others, select, none {} other { oder, was die Ablesungen davon nicht unterscheiden, {others}}} (damit sinkt χ² um {fall}).',
  'groups.innocent':
    '{left, plural, =0 {Alle auffälligen Ablesungen sind} other {{innocent} der {all} auffälligen Ablesungen sind}} es nur deswegen.',
  'ties.moves': '{name} der Schiene {rail} um {by}',
  'ties.unchecked':
    'Von nichts geprüft: {ties}. Ein Fehler von {size} in einer davon würde sich nicht zeigen und {moves} ändern.',
  'ties.smallest':
    'Kleinster Fehler, der sich zeigen würde (α\u00a0=\u00a00,001, Macht 0,80): {list}.',
  'ties.shows': '{tie}, {size}',
  'left-out.none':
    'Keine Ablesung wurde weggelassen: das Programm lässt nie eine weg, und niemand hat eine gekennzeichnet.',
  'left-out.some':
    'Das Programm hat keine Ablesung weggelassen. Eine Ablesung wird nur von einer Person weggelassen, die ihre Zeile kennzeichnet und den Grund notiert; diese Zeilen sind unten aufgeführt.',
  'confirmed.title': 'Sah falsch aus und wurde bestätigt',
  'confirmed.line': '{message} Bestätigt von {by}: {because}',
  'undetermined.title': 'Was die Ablesungen nicht bestimmen',
  'undetermined.line': '{names}: {why}',
  'suspects.caption': 'Auffällige Ablesungen',
  'suspects.note':
    'Residuum: Ablesung minus Lösung, wie abgelesen, mit Vorzeichen. Normiert: das Residuum geteilt durch seine eigene Standardunsicherheit. Keine davon wurde weggelassen; vor einer Entscheidung Zeile, Bemerkung und Ziel ansehen.',
  'suspects.twins':
    '= von der darüber nicht zu unterscheiden: jede der beiden kann die falsche sein.',
  'prior-value': 'vorab bekannter Wert',
  'head.file-row': 'Datei und Zeile',
  'head.reading': 'Ablesung',
  'head.residual': 'Residuum',
  'head.standardised': 'Normiert',
  'repeatability.caption':
    'Wiederholpräzision mehrfach abgelesener Werte neben der Angabe für das Messgerät',
  'head.deviation': 'Standardabweichung',
  'head.stated': 'Angegebenes u',
  'head.freedom': 'Freiheitsgrade',
  'excluded.caption': 'Von einer Person weggelassene Ablesungen',
  'head.as-it-was': 'Ablesung, wie sie war',
  'warnings.caption': 'Warnungen',
  'warnings.where': 'Wo',
  'warnings.what': 'Was',
  'lacking.where': 'Namen und Bemerkungen',
  lacking:
    'Der mitgelieferten Schrift fehlen: {characters}. An ihrer Stelle können Kästchen stehen oder Zeichen einer anderen Schrift.',

  'method.meanings': 'Was die Merkmale sind',
  'method.solution': 'Lösung',
  'method.solution.text':
    'Alle Ablesungen eines Zustands werden gemeinsam nach der Methode der kleinsten Quadrate ausgeglichen, jede mit der für ihr Messgerät angegebenen Unsicherheit als Gewicht; Höhen und Lagen der Messstellen, die Lage jedes Strahls und die Ablagen der Ziele sind gleichermaßen Unbekannte. Jeder Zustand wird für sich gelöst.',
  'method.rule': 'Entscheidungsregel',
  'rule.open': 'Nicht entschieden ist nur, was die Ablesungen nicht bestimmen.',
  'rule.band': 'Der Sicherheitsabstand beträgt {band} U.',
  'rule.rejection':
    'Eine Zeile ist nicht konform, wenn ihr unteres Ende außerhalb liegt; das Risiko einer falschen Zurückweisung beträgt dann höchstens {risk}. Dazwischen ist nicht entschieden. Das Risiko in einer Zeile von Tabelle 1 ist das kleinste Niveau, auf dem derselbe Beweis noch entscheidet.',
  'rule.signed':
    'Ein Wert mit Vorzeichen wird nach seinem Abstand von der Mitte seiner Zone beurteilt; bei Grenzen nach zwei Seiten entscheidet das Ende, das seiner Grenze am nächsten liegt.',
  'method.signs': 'Vorzeichen',
  'method.signs.text':
    'In Richtung zunehmender Längsposition gesehen: + Lage ist links, + Höhe ist oben. + Nicken steigt mit der Längsposition, + Rollen steigt nach links, + Gieren dreht nach links.',
  'method.lines': 'Bezugsgeraden',
  'method.lines.text':
    'Kleinste Quadrate: die Summe der quadrierten Abweichungen ist am kleinsten. Kleinste Zone: der schmalste Streifen, der alle Messstellen enthält. Endpunkte: durch die erste und die letzte Messstelle. Die Geradheit hängt nicht davon ab, wie waagerecht die Schiene liegt.',
  'method.uncertainty': 'Messunsicherheit',
  'method.uncertainty.text':
    'u ist eine Standardunsicherheit (k\u00a0=\u00a01), {expanded} eine erweiterte mit etwa {coverage} Überdeckung. Das Überdeckungsintervall enthält den wahren Wert mindestens so oft wie angegeben, gleich welche Form die Schiene hat, solange die Ablesungen nicht mehr streuen als hier angegeben; es sagt nichts über Fehler, die keine Ablesung und keine angegebene Unsicherheit zeigt. Sein oberes Ende ist das größte, das irgendein Paar von Orten zeigt, mit der eigenen Unsicherheit dieses Paars; sein unteres Ende berücksichtigt, was der Zufall aus allen Orten macht, die die äußersten sein können. Wo viele Orte fast gleich weit außen liegen, überdeckt es öfter als angegeben.',
  'method.rounding': 'Rundung',
  'method.rounding.text':
    'Über Konformität wird mit ungerundeten Werten entschieden. Gedruckt hat eine Unsicherheit zwei signifikante Stellen (aufgerundet, wo kaufmännisches Runden sie um mehr als 2,5 % verkleinern würde) und ein Wert so viele Dezimalstellen wie seine Unsicherheit; mehr werden nur gedruckt, wo weniger verbergen würden, auf welcher Seite einer Grenze ein Wert liegt.',
  'method.curvature': 'Erdkrümmung',
  curvature:
    'Ein Strahl ist gerade, eine Niveaufläche ist es nicht. Über {length}, die längste Schiene, weichen sie in der Mitte einer Sehne um {middle} voneinander ab, am fernen Ende einer waagerecht beginnenden Geraden um {end}. {corrected, select, true {Was der Niveaufläche folgt, wurde dafür korrigiert: Höhen zählen von einer Geraden aus.} other {Dafür wurde nichts korrigiert.}}',
  'method.effects': 'Luft, Kegel, Ziele',
  'effects.physics':
    'Licht krümmt sich zur kälteren Luft hin mit der Krümmung k/R, k = 503·(p/T²)·(0,0343 + dT/dh) (p in hPa, T in K, dT/dh in K/m; R der Erdradius), um die halbe Krümmung mal Abstand im Quadrat; ein Kegel addiert seinen Winkel mal Abstand, ein Maßstab seinen Anteil der Ablesung, eine Verdrehung ihren Winkel mal Ablesung der anderen Ebene. Wiederholte Durchgänge mitteln davon nur das Aufsitzen.',
  'effects.stated':
    'In den Intervallen, als Unbekannte mit dem, was über sie angegeben ist: {list}{more, plural, =0 {} other {; und # weitere in results.json}}.',
  'effects.found': '{effect}: angegeben auf {stated}, gefunden {found} davon',
  'effects.of':
    '{kind, select, air {Luft, } cone {Kegel, } other {}}{of}{setup, select, none {} other { von {setup}}}',
  'effects.unstated': 'Nicht in den Intervallen, weil der Auftrag nichts darüber angibt: {list}.',
  'effects.would':
    '{source}: {size} würde bis zu {reading} ausmachen ({at}){holds, select, none {} other {; die Aussagen gelten bis {holds}}}',
  'source.air': 'ein Temperaturgradient der Luft, oben oder unten wärmer',
  'source.air-sideways': 'ein Temperaturgradient der Luft, auf einer Seite wärmer',
  'source.cone': 'ein Kegel der überstrichenen Ebenen',
  'source.target-scale': 'ein Maßstabsfehler der Ziele',
  'source.target-roll': 'eine Verdrehung der Ziele',
  'source.level-zero-along': 'der eigene Nullpunkt der Libelle, in Richtung des Geräts',
  'source.level-zero-across': 'der eigene Nullpunkt der Libelle, quer zum Gerät',
  'source.bow': 'ein Maschinenoberteil, das während der Vermessung wärmer wird als sein Fuß',
  'source.seating': 'das Aufsitzen der Ziele, das von Mal zu Mal verschieden ist',
  'method.span': 'Länge bei 20 °C',
  'span.reduced':
    'Abstände quer wurden von {from} auf 20\u00a0°C umgerechnet, mit einer Ausdehnung von {machine} für die Maschine und {instrument} für das Messgerät.',
  'span.as-measured':
    'Abstände quer sind angegeben wie gemessen, nicht auf 20\u00a0°C umgerechnet.',
  'method.bow': 'Kopf warm, Fuß kalt',
  bow: 'Schiene {rail}: ein Kopf, der um {kelvin} {side, select, colder {kälter} other {wärmer}} ist als der Fuß, würde sie für sich {way, select, none {nicht krümmen} up {in der Mitte um {bow} nach oben krümmen} other {in der Mitte um {bow} nach unten krümmen}}.',
  'bow.nothing': 'Dafür wurde nichts korrigiert.',
  'method.carriage': 'Schiene, nicht Wagen',
  'method.carriage.text':
    'Die Werte beschreiben die Schienen an den abgelesenen Messstellen, nicht die Bewegung eines Wagens darauf und nicht die Schiene zwischen den Messstellen.',
  simulation: '{draws} Ziehungen, Startwert {seed}',
  'inputs.caption': 'Eingabedateien.',
  'inputs.file': 'Datei, und wie sie gelesen wurde',
  'inputs.bytes': 'Bytes',
  'inputs.again':
    'Jeder Wert lässt sich auf Zellen zurückführen: „waysheet trace“ mit dieser PDF-Datei und einem Merkmal führt jede Ablesung mit ihrem Gewicht auf; Gewicht mal Ablesung, aufsummiert, ist der Wert. Die PDF-Datei enthält diese Dateien und results.json: jedes PDF-Programm zeigt sie als Anhänge und speichert sie. „waysheet audit“ mit der PDF-Datei oder mit dem Ordner, in dem sie ausgestellt wurde, rechnet daraus jeden Wert neu, druckt die Seiten neu und nennt jeden Unterschied. Dieselben Eingaben ergeben dieselben Ergebnisse bis zur letzten Stelle.',

  'need.none': 'Jede Toleranz ist eingehalten: nichts muss gestellt werden.',
  'need.outside': 'Außerhalb der Grenze: {names}. Nach dem Stellen neu vermessen.',
  'need.open': 'Weder so noch so bewiesen: {names}. Nach dem Stellen neu vermessen.',
  'need.missing':
    'Was nicht entschieden ist, wurde nicht bestimmt: daraus folgt kein Stellweg. Zuerst ablesen, was fehlt.',
  'need.no-limit':
    'Keine Toleranz sagt, wie viel bleiben darf: diese Stellwege würden die Schienen gerade und waagerecht ausrichten.',
  brief: '{names}; und {more} weitere',
  'moves.intro':
    'Aus den Ablesungen {phase}. In Richtung zunehmender Längsposition gesehen: + heben oder nach links, − senken oder nach rechts.',
  'moves.leave':
    '„lassen“: ein Stellweg wäre nicht größer als seine eigene Unsicherheit, {expanded}.',
  'moves.safety': 'Bevor etwas gestellt wird',
  'move.raise': 'heben',
  'move.lower': 'senken',
  'move.left': 'links',
  'move.right': 'rechts',
  'move.ahead': 'voraus',
  'move.back': 'zurück',
  'move.leave': 'lassen',
  'move.amount': '{arrow} {word} {amount}',
  'head.station': 'Messstelle',
  'head.adjuster': 'Stellelement',
  'head.move': 'Stellweg',
  'head.how': 'Wie',
  'head.asked': 'Verlangt',
  'head.did': 'Ausgeführt',
  'head.says': 'Was das sagt',
  'head.end': 'Ende der Schiene',
  'head.height': 'Höhe',
  'head.sideways': 'Seitlich',
  'head.of-rail': 'Schiene',
  'head.of-station': 'Stelle',
  'plan.needed': 'Was für die Konformität nötig ist',
  'plan.adjusters': 'Stellelemente',
  'plan.all-hold':
    'Nach diesen Stellwegen ist voraussichtlich jede Toleranz eingehalten; neu vermessen.',
  'plan.still-open': 'Nach diesen Stellwegen ist noch zu erwarten: {list}.',
  'plan.expected': '{name} {verdict}',
  'plan.or':
    'Oder stattdessen jede Messstelle dorthin, wo sie gewünscht ist, wie unten: nicht beides.',
  'ends.caption': 'Jede Schiene als Ganzes',
  'ends.datum': '{rail}, um waagerecht zu liegen, um ihre Mitte',
  'ends.other': '{rail}, um waagerecht mit Schiene {datum} und parallel zu ihr zu liegen',
  'ends.note': 'Zwischen den Enden anteilig. ± ist {expanded} der Endmessstelle.',
  'ends.others':
    'Die übrigen richten sich nach Schiene {datum}, wie sie liegt; wird sie gestellt, werden sie um ebenso viel mitgestellt.',
  'ends.untied':
    'Der Abstand quer wurde nicht gemessen: seitliche Stellwege drehen eine Schiene um ihre Mitte.',
  'ends.first': 'Erstes Ende, Messstelle {station}, längs {place}',
  'ends.last': 'Letztes Ende, Messstelle {station}, längs {place}',
  'ends.leave': 'lassen (U\u00a0=\u00a0{u})',
  'ends.raise': 'heben {amount}',
  'ends.lower': 'senken {amount}',
  'ends.left': 'nach links {amount}',
  'ends.right': 'nach rechts {amount}',
  'ends.ahead': 'voraus {amount}',
  'ends.back': 'zurück {amount}',
  'points.caption': 'Jede Messstelle dorthin, wo sie gewünscht ist',
  'points.note':
    'Die Zahl neben dem Wort ist der ganze Stellweg mit Vorzeichen; „Schiene“ und „Stelle“ sind die Teile, die ihn ergeben: die Schiene als Ganzes auf ihre Gerade und die Messstelle auf die Gerade der Schiene.',
  'points.bold': 'Fett gedruckte Messstellen gehören zu denen, die für die Konformität nötig sind.',
  'points.cross':
    'Bei einer Querschiene ist die Position die quer, und seitlich heißt voraus (+) oder zurück (−).',
  'points.cut':
    'Von {count} Messstellen sind die {printed} gedruckt, die am weitesten abliegen; alle Stellwege stehen mit Vorzeichen in stations.csv.',
  'done.caption': 'Nach der ersten Vermessung verlangt und bis zur letzten ausgeführt',
  'done.note':
    'Was die Schiene an einem Stellelement getan hat, ist bis auf Verschiebung und Drehung der ganzen Schiene bekannt; diese sind so gewählt, dass die meisten Stellelemente taten, was verlangt war.',
  'done.response':
    'Ein Stellweg gelang auf {share}\u00a0% seiner Größe (Standardunsicherheit, aus {moves} Stellwegen); der nächste Plan berücksichtigt das.',
  'says.as-asked': 'wie verlangt',
  'says.too-little':
    'weniger als verlangt: gibt die Auflage nach, oder wurde die Schraube nicht so weit gedreht?',
  'says.too-much': 'mehr als verlangt',
  'says.not-moved': 'nicht gestellt',
  'says.not-asked':
    'bewegt, obwohl hier nichts verlangt war: nimmt das benachbarte Stellelement sie mit?',
  'says.turned-the-wrong-way':
    'in die andere Richtung: wurde die Schraube falsch herum gedreht?',
  'says-short.as-asked': 'wie verlangt',
  'says-short.too-little': 'zu wenig',
  'says-short.too-much': 'zu viel',
  'says-short.not-moved': 'nicht gestellt',
  'says-short.not-asked': 'nicht verlangt',
  'says-short.turned-the-wrong-way': 'falsch herum gedreht',
  'safety.energy.lead': 'Gespeicherte Energie.',
  'safety.energy':
    'Antriebe und jede andere Versorgung stillsetzen, trennen, gegen Wiedereinschalten sichern und kennzeichnen; Hydraulik, Druckluft, Federn und angehobene Massen entlasten oder blockieren; prüfen, dass sich nichts bewegt, bevor Hände hineingreifen.',
  'safety.loads.lead': 'Gestützte Lasten und Quetschgefahr.',
  'safety.loads':
    'Heber und Nivellierschrauben bewegen eine Last, sie halten sie nicht: laufend unterbauen, Hände und Füße aus jedem Spalt halten, niemand darunter oder dazwischen.',
  'safety.laser.lead': 'Laser und Augen.',
  'safety.laser':
    'Die Klasse auf dem Schild des Geräts kennen. Nicht in den Strahl oder in seine Spiegelung an einer blanken Schiene blicken; ihn von der Augenhöhe fernhalten und ausschalten, wenn nicht abgelesen wird.',
  'safety.who.lead': 'Wer das darf.',
  'safety.who':
    'Die Vorschrift des Maschinenherstellers, örtliche Vorschriften und die Regeln für erlaubnispflichtige Arbeiten (Heben, Elektrik, Statik) gehen diesem Blatt vor.',
  'safety.one-way.lead': 'Nur in eine Richtung.',
  'safety.one-way':
    'Ein Heber hebt nur, und eine Schraube drückt nur: lösen, was gegen eine Schraube steht, bevor sie drückt, und danach unterbauen und klemmen.',
  wanted: 'Gewünscht: {wanted}.',
  'wanted.margin': 'Gewünscht: {wanted}, und {margin} jeder Grenze bleiben ungenutzt.',
  'wanted.fewest-moves':
    'jede Toleranz eingehalten, Unsicherheit eingerechnet, mit möglichst wenigen Stellwegen',
  'wanted.level-and-straight': 'Schienen waagerecht und gerade',
  'wanted.straight': 'Schienen gerade, bei der Neigung, die sie haben',
  'wanted.parallel-to-datum': 'Schienen parallel zur Bezugsschiene, wie sie liegt',
  'wanted.datum-stays': 'Der Bezug, Schiene {rail}, bleibt.',
  'status.impossible': 'Keine Liste von Stellwegen erreicht das: {missed}.',
  'status.nearest': 'Diese Stellwege kommen ihm am nächsten.',
  'status.nothing': 'Nichts muss gestellt werden.',
  'status.not-found': 'Bei der Suche nicht gefunden: {why}.',
  'status.ended': 'Die Suche endete an ihrer Grenze; es kann eine kürzere Liste geben.',
  'status.ended-by':
    'Die Suche endete an ihrer Grenze; es kann eine kürzere Liste geben, um höchstens {gap}.',
  missed: '{name} verfehlt die Grenze um {by}',
  'missed.coarse':
    '{name} verfehlt die Grenze um {by}, und so weit sie auch reichten, Stellelemente im Abstand von {apart} lassen {leaves} übrig: sie sind gröber als die Form',
  'rounds.coarse':
    'Diese Stellwege sind groß für den Bereich der Ziele. Zuerst je {share} ausführen, neu vermessen und den Rest aus jener Vermessung planen.',
  'rounds.several':
    'Bei mehr als einem Durchgang in jedem Durchgang alle Stellen der Schiene um jeweils den gleichen Anteil stellen: so wird die Schiene am wenigsten gebogen. Bleche kommen im ersten Durchgang ganz hinein.',
  'turns.under': 'unter 1/16 Umdrehung ({degrees})',
  turns: '{number} {count, plural, one {Umdrehung} other {Umdrehungen}}',
  'turns.degrees': '{number} {count, plural, one {Umdrehung} other {Umdrehungen}} ({degrees})',
  'shims.add': '{sheets} dazu',
  'shims.take': '{sheets} heraus',
  'force.more': '{force} mehr',
  'force.less': '{force} weniger',
  'how.own-means': 'mit den Mitteln der Maschine',

  'sheet.page': 'Seite {page} von {pages}',
  'sheet.title': 'Einstellblatt {number}',
  'sheet.survey': 'Vermessung vom {day}',
  'sheet.is-draft': 'Entwurf',
  'sheet.draft': '{number} (Entwurf)',
  'sheet.stale':
    'Aus der Vermessung {day, select, none {eines nicht festgehaltenen Tages} other {vom {day}}}. Wurde die Maschine danach vermessen oder gestellt, dieses Blatt nicht verwenden. Die Stellwege sind die des Berichts {number}, in derselben Reihenfolge und mit denselben Nummern.',
  'sheet.sketch': 'Gefüllt: wird gestellt. Offen: bleibt. Pfeile und Beträge in {unit}.',
  'sketch.datum': '{rail}, Bezug',
  'sketch.alt': 'Plan der Maschine mit {count} Stellen, die gestellt werden',
  'sheet.safe': '1 Absichern',
  'sheet.dial': '2 Zuerst die Messuhr setzen',
  'sheet.dial.text':
    'Die Messuhr an der Stelle auf die Schiene setzen, auf einen Fuß, der sich nicht mitbewegt. Auf 0 stellen. Nach dem Stellen muss sie den Betrag unten zeigen: die Messuhr entscheidet, nicht die Drehung der Schraube.',
  'sheet.move': '3 Stellen, in dieser Reihenfolge',
  'sheet.no': 'Nr.',
  'sheet.place': 'Stelle',
  'sheet.along': 'Längs, {unit}',
  'sheet.direction': 'Richtung',
  'sheet.amount': 'Betrag',
  'sheet.initials': 'Kürzel, Zeit',
  'sheet.round': 'Durchgang {n}',
  'sheet.dial-to': 'Uhr auf {amount}',
  'whole.title':
    '{step}  {rail}, als Ganzes: {first} am ersten Ende, {last} am letzten, dazwischen anteilig',
  'whole.end': '{word} {amount}',
  'single.title': 'Einzelne Stellen',
  'sheet.again': '4 Neu vermessen',
  'sheet.again.text':
    'Vor der nächsten Ablesung das Messgerät horizontieren und wieder auf 0 stellen. Nach diesen Stellwegen zu erwarten:',
  'sheet.tolerance': 'Toleranz',
  'sheet.expected': 'Erwartet ± U',
  'sheet.to-read': 'Kein Stellweg, sondern eine Ablesung wird gebraucht für:',
  'to-read': '{name} ist nicht gemessen',
  'sheet.done': 'Alle Stellwege ausgeführt und die Maschine freigegeben:',
  'sheet.sides':
    'Links und rechts gelten in Richtung zunehmender Längsposition gesehen. Die letzte Drehung jeder Schraube in Richtung ihres Pfeils machen: ging sie zu weit, deutlich zurück und neu anfahren.',
  'sheet.force':
    '„kN mehr“ oder „kN weniger“: um so viel ändert sich die Kraft auf die Auflage, wenn die Schiene in ihre neue Linie gebogen wird. Wo sie steigt, darauf achten, dass die Auflage sie tragen kann.',
  'sheet.response':
    'Jeder Stellweg gelingt voraussichtlich auf {share} seines Betrags (Standardunsicherheit; {source, select, assumed {angenommen, übliche Praxis} stated {im Auftrag angegeben} other {aus {moves} früheren Stellwegen dieser Maschine}}).',
  'sheet.least': 'Stellwege unter {size} werden nicht verlangt.',

  'figure.interval': '{coverage}: {from} bis {to}',
  'figure.limits': 'Grenzen {from} bis {to}',
  'figure.limits-both': 'Grenzen ± {limit}',
  'figure.limit': 'Grenze {limit}',
  'figure.limit-wide': 'Grenze {limit} breit',
  'axis-title.stations': 'Messstelle, von {from} bis {to}',
  'axis-title.along': 'längs, {unit}',
  'axis-title.across': 'quer, {unit}',
  'chart.point': '{station}: {figure} {phase}',
  'chart.expected': 'erwartet',
  'chart.now': 'jetzt',
  'chart.after-moves': 'Nach dem Stellen erwartet: {title}',
  'chart.ghost': 'Gestrichelt, mit Rauten: {phase}.',
  'chart.ghost-cut': 'Gestrichelt, mit Rauten: {phase}, abgeschnitten, wo es diese Skala verlässt.',
  'chart.done.title': 'Was von den Stellelementen verlangt war und was sie taten',
  'chart.done.caption':
    'Rauten: verlangt. Punkte mit ihrer Unsicherheit: was die Schiene dort tat. + oben oder links.',
  'chart.done.alt': 'Punktdiagramm, in {unit}. {list}.',
  'chart.done.one': '{adjuster}: verlangt {asked}, ausgeführt {did}, {says}',
  'chart.done.axis': 'Stellweg, {unit}',
  'budget.title': 'Woher die Messunsicherheit kommt',
  'budget.caption': 'Anteil jeder Quelle an der Varianz jedes Merkmals, in Prozent.',
  'budget.alt': 'Tabelle der Anteile. {list}.',
  'budget.mostly': '{what}: vor allem {source}, {share} %',
  'budget.readings': 'Ablesung',
  'budget.distance': 'Abstand',
  'budget.level': 'Horizont.',
  'budget.direction-carry-over': 'Übertrag,|Richtung',
  'budget.height-carry-over': 'Übertrag,|Höhe',
  'budget.target-assemblies': 'Ziele',
  'budget.drift': 'Drift',
  'budget.air': 'Luft',
  'budget.cone': 'Kegel',
  'budget.target-scale': 'Maßstab|der Ziele',
  'budget.target-roll': 'Verdreh.|der Ziele',
  'budget.seating': 'Aufsitzen',
  'budget.rail-tilt': 'Kippung|d. Schiene',
  'budget.temperature': 'Temperat.',
  'residuals.title': 'Residuen',
  'residuals.title-phase': 'Residuen, {phase}',
  'residuals.heading': 'Residuum geteilt durch seine Standardunsicherheit',
  'residuals.axis': 'Ablesungen, in der Reihenfolge ihrer Dateien',
  'residuals.stated': 'angegeben',
  'residuals.from': 'von {setup}',
  'residuals.count':
    '{out, plural, =0 {Keine Ablesung liegt außerhalb der Schranken} one {# von {all} Ablesungen liegt außerhalb der Schranken} other {# von {all} Ablesungen liegen außerhalb der Schranken}}',
  'residuals.caption': 'Gepunktet: die Schranken des Tests auf grobe Fehler, ± {bound}. {count}.',
  'residuals.thinned': 'Von denen innerhalb ± 2 ist jede {step}. gezeichnet.',
  'residuals.alt':
    'Streudiagramm. {title} von {all} Ablesungen, jedes geteilt durch seine Standardunsicherheit, von {least} bis {greatest}. {count}{worst, select, none {} other {: {worst}}}.',
  'overview.title': 'Alle Schienen, jede von ihrer eigenen Ausgleichsgeraden aus',
  'overview.heading':
    'von der eigenen Ausgleichsgeraden der Schiene, {unit}; + oben, links oder voraus',
  'overview.panel': '{rail}, {plane}',
  'overview.height': 'Höhe, {rail}',
  'overview.offset': 'seitlich, {rail}',
  'overview.range': '{name}: {from} bis {to}',
  'overview.caption': 'Eine Skala für alle.',
  'overview.alt': 'Kleine Liniendiagramme. {title}, in {unit}. {ranges}.',
  'differences.title': 'Alle Schienen zu {rail}',
  'differences.heading':
    'von {rail} an derselben Stelle längs, {unit}; + höher oder weiter links',
  'machine.title': 'Die Maschine',
  'machine.above':
    'Oben: die Schienen von oben gesehen; links ist oben, längs gesehen; quer nicht maßstäblich.',
  'machine.diamonds':
    'Rauten: Messstellen, die entscheiden, was nicht konform oder nicht entschieden ist.',
  'machine.squares': 'Quadrate: zu stellende Stellelemente.',
  'machine.triangles': 'Dreiecke: Aufstellungen. Die Bezugsschiene ist dunkler.',
  'machine.below': 'Unten: Höhen {phase}, vom Mittel der Bezugsschiene aus.',
  'machine.from-above': 'von oben',
  'machine.heights': 'Höhe {phase}, {unit}',
  'machine.point': '{station}: {along}, {across} längs und quer',
  'machine.height': '{station}: Höhe {figure} {phase}',
  'machine.open-rail': '{rail}: {list}',
  'machine.alt':
    '{elevation, select, true {Grundriss und Aufriss} other {Grundriss}} der Maschine. {rails}; {setups, plural, one {# Aufstellung} other {# Aufstellungen}}. {open, select, none {Alles ist konform oder ohne Toleranz} other {{open}}}.{decided, select, none {} other { Entschieden bei {decided}.}}',
  'machine.alt.rail': '{rail} mit {stations, plural, one {# Messstelle} other {# Messstellen}}',
  'machine.alt.datum':
    '{rail} mit {stations, plural, one {# Messstelle} other {# Messstellen}}, der Bezug',
  'profile.alt': 'Liniendiagramm. {title}. {outcome}.',
  'profile.decided': 'Entschieden bei {at}: {verdict}.',
  'profile.compared': 'der Schiene, mit der sie verglichen wird',
  'profile.limits': 'Dunkle Linien: die Grenzen.',
  'profile.zone':
    'Dunkle Linien: die Zone, die die Grenze zulässt, symmetrisch um die entscheidenden Punkte.',
  'profile.guard': 'Gepunktet: die Grenzen abzüglich Sicherheitsabstand.',
  'profile.bar-signed':
    'Der Balken rechts ist das Intervall: es muss innerhalb der Grenzen liegen.',
  'profile.bar-range':
    'Der Balken rechts ist der Wert, seine äußeren Querstriche sind das obere Ende des Intervalls: sie müssen innerhalb der Grenzen liegen.',
  'profile.worst-stretch':
    'Gezeichnet ist allein der ungünstigste Abschnitt, um seine eigene Gerade.',
  'profile.one-plane': 'Alle Schienen sind von einer Ebene aus gezeichnet.',
  'profile.y.plane': 'Höhe über der gemeinsamen Ebene, {unit}',
  'profile.y.cross-level': 'Querneigung: + {rail} liegt höher als {other}, {unit}',
  'profile.y.height': 'Höhe über {other}, {unit}',
  'profile.y.span': 'Abstand zu {other}, vom Nennmaß: + größer, {unit}',
  'profile.y.sideways': 'seitlich von {other}, + links, {unit}',
  'profile.y.step.vertical': 'Stufe am Stoß nach seiner Messstelle, + oben, {unit}',
  'profile.y.step.horizontal': 'Stufe am Stoß nach seiner Messstelle, + links, {unit}',
  'profile.y.slope.vertical': 'Knick am Stoß, + oben, {unit}',
  'profile.y.slope.horizontal': 'Knick am Stoß, + links, {unit}',
  'profile.y.rate.vertical': 'Neigung ab der Messstelle, gegen die der Schiene, + oben, {unit}',
  'profile.y.rate.horizontal': 'Neigung ab der Messstelle, gegen die der Schiene, + links, {unit}',
  'profile.y.line.vertical':
    'Höhe über {line, select, ends {der Geraden durch die Enden} other {ihrer Bezugsgeraden}}, + oben, {unit}',
  'profile.y.line.horizontal':
    'seitlich von {line, select, ends {der Geraden durch die Enden} other {ihrer Bezugsgeraden}}, + links, {unit}',

  'live.keys': '{title}: Pfeiltasten gehen von Punkt zu Punkt, Esc beendet',
  'live.phases': 'Zustände in den Bildern',
  'live.in-figures': 'In den Bildern:',
  'live.rows': 'Nur Zeilen zeigen mit',
  'live.rows-of': 'Von „{table}“ nur Zeilen zeigen mit',
  'place.height': 'Höhe {figure}',
  'place.sideways': 'seitlich {figure}',
  'place.ahead': 'voraus {figure}',
  'place.own-vertical': 'von der eigenen Geraden, vertikal {figure}',
  'place.own-horizontal': 'horizontal {figure}',
  'place.own-along': 'längs {figure}',
  'place.file-setup': '{file} von {setup}',
  'place.rows': '{from}, {count, plural, one {Zeile} other {Zeilen}} {rows}',
  'place.read': '{phase}, abgelesen in {places}',

  'doc.monument': 'Festpunkt {monument}, abgelesen von {setup}',
  'doc.rail': 'die Höhe der Schiene {rail} von {setup}',
  'doc.pass': 'Durchgang {pass} der Schiene {rail} von {setup}, {axis}',
  'doc.curvature': 'eine Krümmung des Lichts von {setup}',
  'doc.target': 'Ziel {target} von {setup}, {axis}',
  'doc.sign': 'das Vorzeichen aller Ablesungen von {setup}, {axis}',
  'doc.scale': 'der Maßstab aller Ablesungen von {setup}, {axis}',
  'doc.fix-monument':
    'Hat sich Festpunkt {monument} bewegt, oder wurde ein anderer abgelesen? Von {setup} neu ablesen oder seine Zeilen dort mit use = no und einer Bemerkung weglassen.',
  'doc.fix-rail':
    'Wurde die Stange neu eingestellt oder das Messgerät berührt, bevor Schiene {rail} von {setup} abgelesen wurde? Von da an ist es ein anderes Ziel oder eine andere Aufstellung.',
  'doc.fix-pass':
    'Nachsehen, was sich vor Durchgang {pass} der Schiene {rail} von {setup} geändert hat.',
  'doc.fix-curvature':
    'Den Temperaturgradienten bei {setup} angeben („air“), von beiden Enden ablesen oder dann, wenn die Luft durchmischt ist.',
  'doc.fix-target':
    'Wurden Stange oder Halter von {target} neu eingestellt? Von da an ist es eine neue Zielkennung.',
  'doc.fix-sign': 'In job.json, Aufstellung {setup}: „plus“: {new} anstelle von {old}.',
  'doc.fix-scale': 'Die Einheit dieser Ablesungen und die Kalibrierung der Ziele prüfen.',
  'doc.reading': '{point} von {setup}, Ziel {target}, Durchgang {pass}',
  'doc.step': 'Schritt {from} nach {to}, Durchgang {pass}',
  'doc.span': 'Spurweite {from} zu {to}, Durchgang {pass}',
  'doc.level': 'Horizontierung der Aufstellung {setup} ({angle})',
  'doc.squareness': 'Rechtwinkligkeit des Messgeräts {instrument}',
  'doc.no-drift': 'keine Drift der Aufstellung {setup} ({axis})',
  'doc.stated-setup': '{effect} der Aufstellung {setup} wie angegeben',
  'doc.no-cone': 'kein Kegel des Messgeräts {instrument} ({axis})',
  'doc.difference': 'Differenz der {effect} wie angegeben',
  'doc.stated': '{effect} wie angegeben',
  'doc.rods': 'Stangen von {first} und {second}',
  'doc.cone-vertical': 'vertikal',
  'doc.cone-horizontal': 'horizontal',
  'doc.cone-along': 'längs',
  'doc.scale-of': 'Maßstab von {target}',
  'doc.roll-of': 'Verdrehung von {target}',
  'doc.tilt-of': 'Kippung bei {station}',
  'doc.gradient-vertical-over': 'vertikaler Gradient über Schiene {rail}',
  'doc.gradient-sideways-over': 'seitlicher Gradient über Schiene {rail}',
  'doc.gradient-vertical': 'vertikaler Gradient',
  'doc.gradient-sideways': 'seitlicher Gradient',
  'doc.bow-of': 'Krümmung der Schiene {rail}',
  'doc.seating': 'Aufsitzen {placing} von {target}, {axis}',
  'doc.temperature': 'Temperatur während der Spurweiten',
  'doc.zero': 'Nullpunkt von {instrument}, {angle}',
  'doc.kind-offset': 'Ablage',
  'doc.kind-slope': 'Neigung',
  'doc.kind-span': 'Spurweite',
  'doc.kind-prior': 'vorab',
  'doc.kind-level': 'Horizontierung',
  'doc.kind-square': 'Rechtwinkligkeit',
  'doc.kind-drift': 'Drift',
  'doc.kind-rods': 'Stangen',
  'doc.kind-air': 'Luft',
  'doc.kind-cone': 'Kegel',
  'doc.kind-scale': 'Maßstab',
  'doc.kind-target-roll': 'Verdrehung des Ziels',
  'doc.kind-seating': 'Aufsitzen',
  'doc.kind-level-zero': 'Nullpunkt der Libelle',
  'doc.kind-rail-tilt': 'Kippung der Schiene',
  'doc.kind-thermal-bow': 'thermische Krümmung',
  'doc.kind-span-temperature': 'Temperatur der Spurweiten',

  'way.more-passes': 'doppelt so viele Durchgänge',
  'way.other-end': 'dieselben Messstellen noch einmal vom anderen Ende abgelesen',
  'way.middle': 'Messgeräte in der Mitte dessen, was sie ablesen',
  'way.new-setups': 'alles noch einmal von neu horizontierten Aufstellungen abgelesen',
  'way.turned-level':
    'alles noch einmal abgelesen, mit dem Messgerät um einen halben Kreis gedreht und neu horizontiert',
  'way.even-air': 'halb so ungleichmäßige Luft (durch Ventilatoren gemischt oder nachts)',
  'way.centred-target': 'Ablesungen nahe der Mitte der Ziele',
  'way.turned-target': 'alles noch einmal mit umgedrehten Zielen abgelesen',
  'way.own-placings': 'Ziele, die vor jeder Ablesung abgehoben und neu aufgesetzt werden',
  'way.lower-rod': 'halb so hohe Stangen',
  'way.known-temperature': 'doppelt so gut bekannte Temperaturen',
  'way.quicker': 'Ablesungen in der halben Zeit',
  'way.monuments-again': 'doppelt so oft abgelesene Festpunkte',
  'way.heights-again': 'doppelt so oft abgelesene Höhenübertragungen',
  'way.one-target': 'ein Ziel für alle Ablesungen',

  'meaning.straightness': 'Geradheit',
  'meaning.straightness.text':
    'Geradheitsabweichung von Spitze zu Tal (STRt nach ISO 12780-1): die Spannweite der Abweichungen der Messstellen von der Bezugsgeraden, in der Höhe (vertikal) oder seitlich (horizontal).',
  'meaning.local-straightness': 'Geradheit örtlich',
  'meaning.local-straightness.text':
    'dasselbe im ungünstigsten Abschnitt der angegebenen Länge; jeder Abschnitt hat seine eigene Gerade.',
  'meaning.level-along-the-rail': 'Neigung längs der Schiene',
  'meaning.level-along-the-rail.text':
    'Neigung der Ausgleichsgeraden der Schiene gegen die Schwerkraft; + steigt in Richtung zunehmender Längsposition.',
  'meaning.parallelism': 'Parallelität',
  'meaning.parallelism.text':
    'Spannweite (größter minus kleinster Wert) der Höhe über der Bezugsschiene (vertikal) oder des Abstands quer von ihr (horizontal), an derselben Stelle längs.',
  'meaning.height-difference': 'Höhenunterschied',
  'meaning.height-difference.text':
    'Höhe über der Bezugsschiene dort, wo sie am weitesten von null liegt; + die Schiene liegt höher als die Bezugsschiene.',
  'meaning.cross-level': 'Querneigung',
  'meaning.cross-level.text':
    'Höhe über der Bezugsschiene geteilt durch den Abstand quer, dort, wo sie am weitesten von null liegt; + die Schiene liegt höher als die Bezugsschiene.',
  'meaning.twist': 'Verwindung',
  'meaning.twist.text': 'Spannweite (größter minus kleinster Wert) der Querneigung.',
  'meaning.span': 'Spurweite',
  'meaning.span.text':
    'Abstand quer von der Bezugsschiene minus Nennmaß, dort, wo er am weitesten von null liegt; + größer als das Nennmaß.',
  'meaning.coplanarity': 'Koplanarität',
  'meaning.coplanarity.text':
    'Dicke der Zone um die Bezugsebene, die alle Messstellen der Schiene und der Bezugsschiene enthält.',
  'meaning.squareness': 'Rechtwinkligkeit',
  'meaning.squareness.text':
    'Winkel zwischen der Geraden der Bezugsschiene (längs zunehmend) und der Geraden der Querschiene (quer zunehmend) minus 90°; + größer als ein rechter Winkel.',
  'meaning.joints': 'Stöße',
  'meaning.joints.text':
    'jeder Teil der Schiene wird durch die Gerade seiner zwei nächsten Messstellen bis zum Stoß verlängert; Stufe: des Teils nach dem Stoß minus vor ihm, dort, wo sie am weitesten von null liegt, + höher oder weiter links; Knick ebenso, + er steigt stärker oder dreht stärker nach links.',
  'meaning.rate-of-change': 'Änderungsrate',
  'meaning.rate-of-change.text':
    'Neigung von einer Messstelle zur entferntesten innerhalb der angegebenen Länge, minus die der Ausgleichsgeraden der Schiene, dort, wo sie am weitesten von null liegt; + sie steigt oder dreht nach links in Richtung zunehmender Längsposition.',
};
