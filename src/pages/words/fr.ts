/**
 * Français. Terms of the standards as their French editions have them, from memory: NF ISO 230-1 (rectitude, parallélisme,
 * perpendicularité), NF EN ISO 1101 (référence), VIM and GUM (incertitude de mesure, incertitude-type, incertitude élargie,
 * facteur d’élargissement, intervalle élargi), ISO/IEC 17025. The table of terms is glossary.ts. Spaces before : ; ! ? and
 * within « » are made unbreakable by wordsFrom.
 */
import type { Catalogue } from './words.js';

export const fr: Catalogue = {
  'name.straightness-vertical': 'Rectitude, verticale',
  'name.straightness-horizontal': 'Rectitude, horizontale',
  'name.straightness-vertical-local': 'Rectitude locale, verticale',
  'name.straightness-horizontal-local': 'Rectitude locale, horizontale',
  'name.level-along': 'Pente le long du rail',
  'name.parallelism-vertical': 'Parallélisme, vertical',
  'name.parallelism-horizontal': 'Parallélisme, horizontal',
  'name.height-difference': 'Différence de hauteur',
  'name.cross-level': 'Dévers',
  'name.twist': 'Gauche',
  'name.span': 'Écartement',
  'name.coplanarity': 'Coplanéité',
  'name.squareness': 'Perpendicularité',
  'name.joint-step-vertical': 'Ressaut au joint, vertical',
  'name.joint-step-horizontal': 'Ressaut au joint, horizontal',
  'name.joint-slope-vertical': 'Changement de pente au joint, vertical',
  'name.joint-slope-horizontal': 'Changement de pente au joint, horizontal',
  'name.rate-of-change-vertical': 'Taux de variation, vertical',
  'name.rate-of-change-horizontal': 'Taux de variation, horizontal',

  'reason.rail-unread':
    '{isDatum, select, true {le rail de référence} other {le rail}} {rail} n’a pas été lu dans le plan {plane}',
  'reason.straightness-stations':
    'la rectitude exige trois stations du rail {rail} lues dans le plan {plane}',
  'reason.straightness-stations-has':
    'la rectitude exige trois stations ; le rail {rail} en a {has} lues dans le plan {plane}',
  'reason.window-stations':
    'aucun tronçon de {overMm} mm du rail {rail} ne contient trois stations lues',
  'reason.rate-stations':
    'un taux de variation exige trois stations du rail {rail} lues dans le plan {plane}',
  'reason.rate-apart': 'sur le rail {rail}, aucune paire de stations n’est à moins de {overMm} mm',
  'reason.slope-stations': 'une pente exige deux stations du rail {rail} lues dans le plan vertical',
  'reason.plane-stations':
    'un plan exige au moins quatre stations qui ne sont pas sur une même droite',
  'reason.square-cross-rail':
    'la perpendicularité exige deux stations du rail transversal {rail} lues en long',
  'reason.square-datum-rail':
    'la perpendicularité exige deux stations du rail de référence lues dans le plan horizontal',
  'reason.matching-stations':
    'aucune station du rail {rail} lue dans le plan {plane} n’est entre des stations lues du rail {other}',
  'reason.no-matching-stations':
    'les rails {rail} et {other} n’ont pas de stations correspondantes lues dans le plan vertical',
  'reason.two-matching-stations':
    '{what, select, twist {le gauche} other {le parallélisme}} exige deux stations correspondantes ; le rail {rail} et le rail {other} en ont une',
  'reason.same-place-across': 'les rails {rail} et {other} sont à la même position transversale',
  'reason.no-joints': 'le rail {rail} n’a pas de joint',
  'reason.joint-stations':
    'la partie du rail {rail} {side, select, before {avant} other {après}} son joint à {jointMm} mm a moins de deux stations lues dans le plan {plane}, à l’écart du joint',
  'reason.datum-no-line':
    'le rail de référence {rail} n’a pas de droite : trop peu de ses stations ont été lues dans le plan horizontal',
  'reason.datum-no-horizontal-line': 'le rail de référence n’a pas de droite dans le plan horizontal',
  'reason.own-line': 'une droite propre exige trois stations lues',
  'reason.set-up-no-heights': 'rien n’a été lu dans le plan vertical depuis la mise en station {setup}',
  'reason.set-up-no-offsets':
    'rien n’a été lu dans le plan horizontal ni en long depuis la mise en station {setup}',
  'reason.nothing-ties-it':
    'les lectures de cet état ne le rattachent à rien qui le déterminerait',
  'reason.not-levelled':
    'la mise en station {setup} n’a pas été calée, et aucune lecture de niveau ne le remplace',
  'reason.not-levelled.fix':
    'caler le plan de la mise en station {setup}, ou lire son rail au niveau',
  'reason.height-not-carried':
    'la hauteur n’a pas été transmise de la mise en station {from} à la mise en station {to} : aucune cible n’a été lue sur un même point depuis les deux',
  'reason.height-not-carried.fix':
    'lire une cible, sans toucher à sa canne, sur un point du premier rail depuis {from} et depuis {to}, puis sur le second rail depuis {to}',
  'reason.targets-not-compared':
    'les cibles {first} et {second} n’ont pas été comparées dans le plan {plane} : aucun point n’a été lu avec les deux depuis une même mise en station',
  'reason.targets-not-compared.fix':
    'lire {first} et {second} sur un même point depuis une même mise en station, ou l’une des deux sur les deux rails',
  'reason.direction-not-carried':
    'la direction de la mise en station {to} n’est pas rattachée à celle de la mise en station {from} : aucune paire de repères n’a été lue depuis {from} et depuis {to}',
  'reason.direction-not-carried.fix':
    'lire {named, select, false {deux cibles sur des repères très écartés en travers des rails,} other {les repères {monument1} et {monument2}}} dans le plan transversal (en long) depuis {from} et depuis {to}',
  'reason.part-not-tied':
    'la partie du rail {rail} lue depuis {to} n’est pas rattachée en travers à celle lue depuis {from} : trop peu de stations communes',
  'reason.part-not-tied.fix':
    'lire au moins deux stations du rail {rail} depuis {from} et depuis {to}',
  'reason.span-not-measured':
    'la distance transversale du rail {rail} au rail {other} n’a pas été mesurée',
  'reason.span-not-measured.fix':
    'mesurer l’écartement des rails {rail} et {other} à une station au moins',
  'reason.sight-free': 'la ligne de visée de {sight} a une direction propre que rien ne détermine',
  'reason.sight-free.fix':
    'la rattacher par une lecture de niveau, ou par des lectures des mêmes stations depuis une mise en station',
  'reason.step-not-read':
    'sur le rail {rail}, aucune lecture ne relie la station {from} à la station {to}',
  'reason.step-not-read.fix':
    'lire le pas de {rail}:{from} à {rail}:{to}, ou les deux depuis une même mise en station',
  'reason.squareness-not-known':
    'la perpendicularité de l’instrument {instrument} n’est pas connue',
  'reason.squareness-not-known.fix':
    'indiquer l’incertitude-type du plan transversal de l’instrument {instrument}',
  'reason.limit-missed':
    '{what} du rail {rail} dépasse sa limite de {by} {unit}, incertitude comprise',
  'reason.limit-missed.coarse':
    '{what} du rail {rail} dépasse sa limite de {by} {unit}, incertitude comprise ; des organes de réglage espacés de {apartM} m sont plus grossiers que la forme',
  'reason.no-plan-in-search':
    'la recherche n’a trouvé aucune liste de réglages ; qu’il n’y en ait pas n’est pas démontré',
  'reason.moves-too-small':
    'seuls aideraient des réglages plus petits que ce qui est demandé ({leastUm} µm, ce que l’on sait de l’endroit, ou la cale la plus mince) : relire, ou convenir de la limite',
  'reason.nothing-can-move': 'rien de ce qui peut être réglé ne le change',
  'reason.no-stations-beside-datum':
    'le rail {rail} n’a pas de station à côté de celles du rail de référence',
  'reason.place-to-datum-open':
    'les lectures ne déterminent pas où se trouve le rail {rail} par rapport au rail de référence',
  'reason.with-fix': '{missing}. Pour le déterminer : {fix}',

  'leave.all-decided': 'Vous pouvez partir. Toutes les tolérances sont décidées.',
  'leave.no-limits':
    'Vous pouvez partir. Tout ce qui était prévu est lu ; aucune tolérance n’est indiquée.',
  'leave.nothing-decides':
    'Vous pouvez partir. {open, plural, one {Une tolérance n’est pas décidée, et rien de ce qui peut encore être lu ne la déciderait.} other {# tolérances ne sont pas décidées, et rien de ce qui peut encore être lu ne les déciderait.}}',
  'leave.problems':
    'Ne partez pas encore. {count, plural, one {Un problème est à corriger ou à confirmer.} other {# problèmes sont à corriger ou à confirmer.}}',
  'leave.to-read': 'Ne partez pas encore. Tout ce qui était prévu n’est pas lu.',
  'leave.to-repeat': 'Ne partez pas encore. Une lecture est à reprendre : {what}, {axis}.',
  'leave.to-decide':
    'Ne partez pas encore. {open, plural, one {Une tolérance n’est pas décidée, et des lectures sur la machine peuvent la décider.} other {# tolérances ne sont pas décidées, et des lectures sur la machine peuvent en décider certaines.}}',
  'leave.label.read': 'Lu',
  'leave.label.problems': 'Problèmes',
  'leave.label.closures': 'Fermetures',
  'leave.label.repeat': 'À reprendre',
  'leave.label.again': 'Revérifié',
  'leave.label.tolerances': 'Tolérances',
  'leave.blank':
    '{count, plural, one {Une ligne prévue ne contient pas de lecture : {rows}.} other {# lignes prévues ne contiennent pas de lecture : {rows}.}} Une ligne à ne pas lire le dit par use = no.',
  'leave.nothing-read': 'Aucune lecture n’est encore utilisable.',
  'leave.closures.none':
    'Aucun point n’a été lu deux fois depuis une même mise en station. Rien ne montre si un instrument a bougé.',
  'leave.closures.held':
    'Chaque point relu ferme. Le plus grand écart est {point} depuis {setup}, {axis} : {closure} ; {allowed} est usuel.',
  'leave.closures.exceeded':
    '{exceeded, plural, one {Un point ne ferme pas.} other {# points ne ferment pas.}} Le plus grand écart est {point} depuis {setup}, {axis} : {closure} ; {allowed} est usuel.',
  'leave.repeat.none': 'Aucune lecture n’est à reprendre.',
  'leave.repeat.contradicted':
    '{what}, {axis} ({place}) : les autres la contredisent. {must, select, yes {Le hasard seul ne fait guère cela. La relire et écarter la fausse par use = no.} other {Le hasard peut faire cela. La relire s’il reste du temps.}}',
  'leave.repeat.not-closed':
    '{what}, {axis} ({place}) : la dernière lecture diffère de la première. {must, select, yes {Le hasard seul ne fait guère cela. La relire et vérifier si l’instrument a bougé.} other {Le hasard peut faire cela. La relire s’il reste du temps.}}',
  'leave.repeat.helps-most':
    '{what}, {axis} ({place}) : une lecture de plus y aide le plus. Elle réduit de {narrower} un intervalle non décidé.',
  'leave.again.both': 'Le calage et le zéro de {setups} ont été revérifiés.',
  'leave.again.level': 'Le calage de {setups} a été revérifié.',
  'leave.again.zero': 'Le zéro de {setups} a été revérifié.',
  'leave.again.not.level':
    'Pas le calage de {setups} : après le dernier point, relire la hauteur d’un point précédent avant de démonter l’instrument.',
  'leave.again.not.zero':
    'Pas le zéro de {setups} : après le dernier point, relire un point précédent en latéral avant de démonter l’instrument.',
  'leave.again.none': 'Aucune lecture depuis une mise en station.',
  'leave.decided': '{name} : {value}, limite {limit} : {verdict}.',
  'leave.open.missing': '{name} : pas de valeur. {why}',
  'leave.open.reading':
    '{name} : {value}, limite {limit} : non décidé. {what}, {axis}, relu une fois la déciderait, si la valeur reste où elle est.',
  'leave.open.passes':
    '{name} : {value}, limite {limit} : non décidé. {times} fois plus de passes la décideraient, si la valeur reste où elle est.',
  'leave.open.way':
    '{name} : {value}, limite {limit} : non décidé. Ce qui déciderait : {way}, si la valeur reste où elle est.',
  'leave.open.suspect':
    '{name} : {value}, limite {limit} : non décidé. Les lectures se contredisent plus qu’elles ne devraient ; chercher d’abord la fausse.',
  'leave.open.nothing':
    '{name} : {value}, limite {limit} : non décidé. {times, plural, =0 {Rien de ce qui peut encore être lu ne déciderait} other {Seules # fois plus de passes décideraient, et personne n’en lit autant}} : régler le rail, ou convenir de la limite ou de la règle.',
  'leave.open.nothing-missing':
    '{name} : pas de valeur, et aucune lecture sur la machine n’en donne. {why}',
  'leave.more': 'et {count} de plus',
  'leave.axis.vertical': 'hauteur',
  'leave.axis.horizontal': 'latéral',
  'leave.axis.along': 'en long',
  'leave.axis.slope': 'pente',
  'leave.axis.span': 'écartement',

  'list.and': '{first} et {last}',
  'page.of': 'Page {page} sur {pages}',
  'head.draft': 'projet, non approuvé',
  'head.serial': 'n° de série {serial}',
  'title.machine': '{name}, n° de série {serial}',
  'title.unknown': 'Rails de machine, {job}',
  'title.report': '{kind} {report}',
  'validity.what-if': 'Simulation',
  'validity.draft': 'Projet : ni émis ni approuvé (page 2)',
  'validity.issued': 'Émis le {on} par {by}',

  'issued.without-approver': 'Émis bien que l’approbateur ne soit pas enregistré.',
  'issued.without-traceability':
    'Émis bien que le certificat ou l’échéance d’étalonnage ne soit pas enregistré pour {instruments} : la traçabilité de ses lectures n’est pas démontrée.',

  'fact.customer': 'Client',
  'fact.place': 'Lieu',
  'fact.issuer': 'Émetteur',
  'fact.read': 'Lu',
  'fact.rails': 'Rails',
  'fact.limits': 'Limites',
  'fact.state': 'État',
  'fact.machine': 'Machine',
  'fact.serial': 'N° de série',
  'fact.prepared': 'Établi',
  'fact.method': 'Édition de la méthode',
  'fact.job': 'Dossier',
  'fact.issuer-address': 'Adresse de l’émetteur',
  'fact.customer-address': 'Adresse du client',
  'fact.revision': 'Révision',
  'fact.procedure': 'Procédure',
  'fact.providers': 'Prestataires externes',
  'fact.software': 'Logiciel',
  'fact.simulation': 'Simulation',
  'fact.document': 'Document',
  'read.by': '{days}, par {by}',
  'rail.datum': '{rail} (référence)',
  'more.count': '{count} de plus',
  'limits.given': 'tels qu’indiqués dans le dossier, aucun document cité',
  'limits.none': 'aucune limite n’est indiquée',

  'verdict.conforms':
    '{rails, plural, one {Le rail est conforme} other {Les rails sont conformes}}, {phase}.',
  'verdict.does-not-conform':
    '{rails, plural, one {Le rail n’est pas conforme} other {Les rails ne sont pas conformes}}, {phase}.',
  'verdict.undecided':
    'Non décidé : {open} sur {all, plural, one {# caractéristique} other {# caractéristiques}}, {phase}.',
  'verdict.reported': 'Rapporté sans déclaration de conformité, {phase}.',

  'found.no-limit':
    'Aucune limite ne s’applique à ce qui a été mesuré. Les valeurs sont rapportées telles quelles.',
  'found.inside.guarded':
    '{all, plural, one {La seule caractéristique avec limite est à l’intérieur, tout son intervalle à {coverage} compris.} other {Les # caractéristiques avec limite sont à l’intérieur, tout l’intervalle à {coverage} compris.}}',
  'found.inside.risk':
    '{all, plural, one {La seule caractéristique avec limite est à l’intérieur, au risque accepté.} other {Les # caractéristiques avec limite sont à l’intérieur, au risque accepté.}}',
  'found.inside.simple':
    '{all, plural, one {La seule caractéristique avec limite est à l’intérieur.} other {Les # caractéristiques avec limite sont à l’intérieur.}}',
  'found.counts.guarded':
    '{outside, plural, =0 {Sur {all} caractéristiques, aucune n’est hors de sa limite.} one {Sur {all} caractéristiques, une est hors de sa limite avec tout son intervalle.} other {Sur {all} caractéristiques, # sont hors de leur limite avec tout leur intervalle.}} {open, plural, =0 {} one {Une n’est pas décidée : son intervalle dépasse la limite.} other {# ne sont pas décidées : l’intervalle dépasse la limite.}} {inside, plural, =0 {} one {Une est conforme.} other {# sont conformes.}}',
  'found.counts.simple':
    '{outside, plural, =0 {Sur {all} caractéristiques, aucune n’est hors de sa limite.} one {Sur {all} caractéristiques, une est hors de sa limite.} other {Sur {all} caractéristiques, # sont hors de leur limite.}} {inside, plural, =0 {} one {Une est conforme.} other {# sont conformes.}}',
  'found.missing':
    '{count, plural, one {Une n’a pas de valeur : les lectures ne la déterminent pas.} other {# n’ont pas de valeur : les lectures ne les déterminent pas.}}',
  'before.counts':
    '{phase}, {outside, plural, =0 {aucune n’était non conforme} one {une n’était pas conforme} other {# n’étaient pas conformes}}{open, plural, =0 {} one {, une n’était pas décidée} other {, # n’étaient pas décidées}}.',
  'before.conformed': '{phase}, toutes étaient conformes.',
  'farthest.outside': 'La plus éloignée au-dehors : {name} : {figure} ; limite {limit} (ligne {row}).',
  'farthest.open': 'Dépasse le plus sa limite : {name} : {figure} ; limite {limit} (ligne {row}).',
  'farthest.inside': 'La plus proche de sa limite : {name} : {figure} ; limite {limit} (ligne {row}).',
  'figure.at': '{figure} en {at}',
  'figure.up-to': 'jusqu’à {figure}',
  'rule.guarded':
    'Règle : acceptation avec bande de garde, JCGM 106 : tout l’intervalle à {coverage} à l’intérieur de la limite ; risque d’acceptation à tort d’au plus {risk}.',
  'rule.risk':
    'Règle : acceptation avec bande de garde, JCGM 106 : l’extrémité supérieure au risque accepté à l’intérieur de la limite ; risque d’acceptation à tort d’au plus {risk}, unilatéral.',
  'rule.simple':
    'Règle : acceptation simple, JCGM 106 : la valeur à l’intérieur de la limite ; le risque d’acceptation à tort à une limite va jusqu’à 50 %.',

  'bars.caption': 'Pour cent de chaque limite.',
  'bars.judged': '{phase} : valeur et intervalle à {coverage}',
  'bars.before': '{phase}',
  'bars.signs': '+ et − : extrémités d’une valeur signée',
  'bars.limit': 'limite',
  'bars.rest':
    '{count, plural, one {Une ligne de plus est au tableau 1} other {# lignes de plus sont au tableau 1}} : {counts}. La première atteint {share} de sa limite.',
  'bars.alt': '{from} à {to} de la limite',
  'head.characteristic': 'Caractéristique, la plus défavorable d’abord',
  'head.where': 'Caractéristique, et où elle se décide',
  'head.value': 'Valeur',
  'head.interval': 'Intervalle à {coverage} ou ± U',
  'head.at': 'Décidé en',
  'head.limit': 'Limite',
  'head.verdict': 'Conformité',
  'head.guard': 'Bande de garde',
  'head.risk': 'Risque au plus',
  'row.whole-rail': 'tout le rail',

  'next.title': 'Que faire ensuite (avis)',
  'next.nothing.lead': 'Rien n’est à régler',
  'next.nothing': '(section {moves}).',
  'next.approve.lead': 'Approuver et signer',
  'next.approve': 'en page 2. Jusque-là, ce rapport est un projet.',
  'next.air.lead': 'Au prochain relevé, {what} :',
  'next.air': 'c’est l’effet le plus important que l’intervalle ne contient pas.',
  'next.read.lead': 'Relire d’abord.',
  'next.read': 'D’autres lectures peuvent décider {rows}. La section {moves} dit lesquelles.',
  'next.missing.lead': 'Lire ce qui manque',
  'next.missing': 'pour {rows}. L’annexe C dit quelle lecture donnerait la valeur.',
  'next.too-close.lead': 'Régler, ou convenir de la limite.',
  'next.too-close':
    'Aucune lecture de ce genre ne déciderait {rows} : ce qui est mesuré est trop près de la limite.',
  'next.move.lead': 'Régler',
  'next.move': 'ce qu’énumère la section {moves}. Rien d’autre n’est à régler.',
  'next.survey.lead': 'Relever à nouveau.',
  'next.survey':
    '{rows} {count, plural, one {devrait alors être conforme} other {devraient alors être conformes}}.',
  'next.survey.plain': 'Les limites ne sont tenues que lorsqu’un nouveau relevé le dit.',
  'next.state-limits.lead': 'Indiquer des limites',
  'next.state-limits': 'dans le dossier, là où une déclaration de conformité est voulue.',
  'what.air': 'mesurer l’air à deux hauteurs',
  'what.air-sideways': 'mesurer l’air des deux côtés',
  'what.level-zero-along': 'lire depuis une mise en station tournée d’un demi-tour',
  'what.level-zero-across': 'lire depuis une mise en station tournée d’un demi-tour',
  'what.bow': 'noter la température de la tête et du pied des rails',
  'what.seating': 'indiquer comment la cible se pose (« seat »)',
  'what.cone': 'faire indiquer le cône des plans',
  'what.target-scale': 'faire indiquer l’échelle des cibles',
  'what.target-roll': 'faire indiquer le roulis des cibles',

  'rests.title': 'Sur quoi cela repose',
  'rests.not-in': 'Pas dans l’intervalle, rien n’étant indiqué de',
  'rests.size': 'S’il vaut',
  'rests.reading': 'une lecture change de',
  'rests.turns': 'Une conformité bascule à',
  'rests.turns.row': '{size}, ligne {row}',
  'rests.turns.none': 'aucune ne bascule',
  'rests.more': 'Pas non plus dans l’intervalle : {effects}.',
  'rests.more.one': '{effect}, {reading}',
  'rests.all-stated': 'Chaque effet recherché est indiqué et figure dans l’intervalle.',
  'effect.air': 'air, plus chaud dessus ou dessous',
  'effect.air-sideways': 'air, plus chaud d’un côté',
  'effect.level-zero-along': 'zéro propre du niveau, en long',
  'effect.level-zero-across': 'zéro propre du niveau, en travers',
  'effect.bow': 'tête plus chaude que le pied, croissant',
  'effect.seating': 'pose des cibles, aléatoire',
  'effect.cone': 'cône des plans',
  'effect.target-scale': 'échelle des cibles',
  'effect.target-roll': 'roulis des cibles',
  'stations.lead': 'Stations.',
  'stations.all':
    'Les {stations} stations {rails, plural, one {du rail} other {des # rails}} ont toutes été lues',
  'stations.some':
    '{read} des {stations} stations {rails, plural, one {du rail} other {des # rails}} ont été lues ; non lues : {missing}. Ce qui est dit vaut pour les autres',
  'stations.readings':
    '{lead} ; {readings, plural, one {une lecture} other {# lectures}}, {spare, plural, =0 {aucune de plus que nécessaire} one {une de plus que nécessaire} other {# de plus que nécessaire}}.',
  'stations.left-out':
    '{count, plural, =0 {Aucune lecture n’a été écartée.} one {Une lecture a été écartée (annexe C).} other {# lectures ont été écartées (annexe C).}}',
  'unseen.lead': 'Contrôlé par rien :',
  'unseen.turns': '{what} : une erreur non vue de {size} ferait basculer la ligne {row}',
  'unseen.moves': '{what} : aucune erreur non vue jusqu’à 2 mm ne ferait basculer une conformité',
  'unseen.all': '{list}.',
  'unseen.none.lead': 'Rattachements.',
  'unseen.none': 'Chaque rattachement entre mises en station est contrôlé par un second.',
  'unseen.single.lead': 'Rattachements.',
  'unseen.single': 'Aucun rattachement entre mises en station n’est nécessaire.',
  'unseen.nothing.lead': 'Rien ne contrôle',
  'unseen.nothing':
    'quelque lecture que ce soit : la redondance est 0. Une faute dans l’une d’elles ne se verrait pas.',
  'confirmed.lead': 'Confirmé.',
  'confirmed.none': 'Rien n’a dû être confirmé à la main.',
  'confirmed.some':
    '{count, plural, one {Une anomalie apparente a été confirmée par {by} (annexe C).} other {# anomalies apparentes ont été confirmées par {by} (annexe C).}}',
  'known.lead': 'À savoir.',

  'table1.caption':
    'Chaque caractéristique avec limite, {phase}. Les numéros de ligne sont ceux de la figure 1.',
  'table1.together': 'Rails ensemble',
  'table1.note':
    '± est l’incertitude élargie {expanded}. Une étendue (rectitude, parallélisme, gauche, coplanéité) a une valeur et un intervalle, qui ne l’entoure pas forcément de façon égale : le bruit fait paraître une étendue trop grande. D’une valeur signée les deux extrémités sont données, d’abord la plus proche de sa limite. En : les stations qui font la valeur. Bande de garde : de combien la valeur doit être à l’intérieur de sa limite pour être conforme. Risque : d’acceptation à tort où une ligne est conforme, de rejet à tort (rej.) où elle ne l’est pas ; le plus grand que la démonstration de l’intervalle permet.',
  'table1.figure1': 'Dans la figure 1, une valeur signée est mesurée depuis le milieu de sa zone.',
  'risk.rejection': 'rej. {risk}',
  opinion: 'Cette section est un avis. Elle découle des résultats et n’en fait pas partie.',
  'stations.caption':
    'Stations {phase} : écart à la droite des moindres carrés de chaque rail, et hauteur par rapport au rail de référence, en {unit}, chacun ± U. + est vers le haut ou vers la gauche.',
  'stations.before':
    'Hauteurs et positions de toutes les stations du premier état : stations.csv, à côté de ce rapport.',
  'stations.thinned':
    'De ce long relevé : les extrémités, une station sur {nth}, et celles où un écart est le plus grand ou le plus petit. Toutes sont dans stations.csv.',
  'stations.signs': '– : non lu. n.d. : non déterminé.',
  'trace.instrument':
    '{instrument} : les lectures sont traçables par le certificat {certificate}, {laboratory, select, none {laboratoire d’étalonnage non enregistré} other {délivré par {laboratory}}}{day, select, none {} other { le {day}}}.',
  'trace.none':
    '{instrument} : aucun certificat n’est enregistré ; la traçabilité de ses lectures n’est pas démontrée.',
  'end.report': 'Fin du rapport {report}',

  'phase.as-found': 'avant réglage',
  'phase.as-left': 'après réglage',
  'verdict-word.conforms': 'conforme',
  'verdict-word.does-not-conform': 'non conforme',
  'verdict-word.undecided': 'non décidée',
  'verdict-word.reported': 'sans tolérance',
  'reference.least-squares': 'moindres carrés',
  'reference.minimum-zone': 'zone minimale',
  'reference.end-points': 'points extrêmes',
  'axis.vertical': 'vertical',
  'axis.horizontal': 'horizontal',
  'axis.along': 'en long',
  'rails.one': 'rail {rail}',
  'rails.to': 'rail {rail} par rapport au rail {other}',
  'rails.to-datum': 'rail {rail} par rapport à la référence',
  'rails.both': 'rails {other} et {rail}',
  'rails.and-datum': 'rail {rail} et la référence',
  'rails.together': 'rails {rails} ensemble',
  'rails.any-two': 'deux quelconques des rails {rails}',
  'rails.list': 'rails {rails}',
  'rails.pair': '{rail} / {other}',
  'condition.any': 'sur {length} quelconques',
  'condition.between': 'entre {from} et {to}',
  'condition.from-to': 'de {from} à {to}',
  'side.convex': 'convexe seulement',
  'side.hollow': 'concave seulement',
  'side.both': 'des deux côtés',
  'limit.at-most': 'au plus {limit}',
  'limit.at-least': 'au moins {limit}',
  range: '{from} à {to}',
  characteristic: '{name}, {rails}',
  'characteristic.condition': '{name} ({condition}), {rails}',
  'figure.range': '{figure}, {from} à {to}',
  'not-recorded': 'non enregistré',
  'not-determined': 'non déterminé',
  'not-determined.why': 'non déterminé : {why}',
  'not-read': 'non lu',
  'no-note': 'sans remarque',
  'of-phase': '{phase} : {line}',
  row: 'ligne {row}',
  rows: '{count, plural, one {ligne} other {lignes}} {rows}',
  'row.at': 'en {at}',
  'file-row': '{file}, ligne\u00a0{row}',
  'the-job': 'le dossier',
  'first.of': 'Les {most} premiers sur {count} ; tous sont dans results.json.',
  'first.of-each-phase': 'Les {most} premiers de chaque état ; tous sont dans results.json.',
  'caption.table': 'Tableau\u00a0{n}\u2002{caption}',
  'caption.figure': 'Figure\u00a0{n}\u2002{caption}',
  'figure.1': 'Figure\u00a01',

  'kind.acceptance': 'Rapport de réception',
  'kind.measurement': 'Rapport de mesure',
  'kind.what-if': 'Rapport de simulation',
  'title.acceptance': 'Rapport de réception d’alignement de rails {job}',
  'title.measurement': 'Rapport de mesure d’alignement de rails {job}',
  'title.what-if': 'Rapport de simulation d’alignement de rails {job}',
  software: '{name} {version}, méthode {method}',
  contents: 'Sommaire',
  'contents.verdict': 'Conformité',
  'section.results': '{n} Résultats',
  'section.figures': '{n} Figures',
  'section.moves': '{n} Que régler',
  'section.survey': 'Annexe {n} Mises en station et instruments',
  'section.stations': 'Annexe {n} Stations',
  'section.checks': 'Annexe {n} Contrôles',
  'section.method': 'Annexe {n} Méthode et données d’entrée',
  'statement.items':
    'Les résultats ne se rapportent qu’aux objets mesurés, dans leur état aux jours de mesure. Ce rapport ne peut être reproduit que dans son intégralité.',
  'statement.draft': 'C’est un projet tant qu’il n’est pas émis et que « Approuvé par » n’est pas signé.',
  amends: 'Ce rapport remplace le rapport {number}. Motif : {because}',
  'amends.nothing': 'Aucune valeur imprimée et aucune conformité n’en diffère.',
  'amends.more':
    '{count, plural, one {et # autre changement, énuméré} other {et # autres changements, énumérés}} dans results.json.',
  'what-if':
    'Simulation : ce rapport est jugé selon {set, select, none {un autre jeu de tolérances} other {le jeu de tolérances « {set} »}} au lieu {own, select, none {de celui du dossier, qui n’indique aucune tolérance} other {de celui du dossier ({own})}}. Ce n’est pas un rapport de réception et il n’en remplace aucun.',
  'limits.grade': 'classe {grade}',
  'limits.revision': 'révision {revision}',
  'limits.based-on': 'fondé sur {sets}',
  'bars.rest.count': '{verdict} : {count}',
  'caution.overdue':
    'L’étalonnage de {instruments} était échu lors des lectures (annexe A).',
  'caution.scatter':
    'Les lectures {phase} sont plus dispersées que ne l’explique l’incertitude indiquée des instruments ; toutes les incertitudes sont pour cela {times} fois plus grandes (annexe C).',
  'caution.suspects':
    '{count, plural, one {# lecture est suspecte et a été conservée} other {# lectures sont suspectes et ont été conservées}} (annexe C).',
  'caution.closures':
    '{count, plural, one {# lecture de fermeture ne ferme pas} other {# lectures de fermeture ne ferment pas}} dans ce qui est admis (annexe A).',

  'sign.title': 'Signatures',
  'sign.caption': 'Signé par',
  'sign.signed': 'Signé',
  'sign.name': 'Nom',
  'sign.role': 'Fonction',
  'sign.date': 'Date',
  'sign.signature': 'Signature',
  'sign.surveyed': 'Relevé par',
  'sign.prepared': 'Établi par',
  'sign.approved': 'Approuvé par',
  'sign.issued': 'Émis par',
  'sign.customer': 'Pour le client',
  'sign.electronic':
    'Signé électroniquement par {subject}, certifié par {issuer}. La signature est dans le fichier PDF, pas sur le papier : un lecteur PDF qui vérifie les signatures dit si le fichier est inchangé et de qui il vient.',

  'head.characteristic-plain': 'Caractéristique',
  'head.verdict-detail': 'conformité',
  'head.unit': 'Unité',
  'head.phase': 'État',
  'table1.rail': '{rail} : {name}',
  'table1.undetermined':
    'Non déterminé : voir « Ce que les lectures ne déterminent pas » à l’annexe C, avec la lecture qui le dirait.',
  'rounds.caption': 'État par état',
  'others.caption': 'Résultats sans limite, {phase} : pour information',
  nominal:
    'Voulus dans une forme que donne le dossier : {rails}. Hauteurs, positions et écarts sont comptés depuis elle.',
  'nominal.rail': 'rail {rail} ({planes})',
  growing: 'Les limites qui croissent avec la longueur ont été prises : {parts}.',
  'growing.part': '{count, plural, one {ligne} other {lignes}} {rows} pour {length}',
  signs: 'Signes : {notes}.',
  'signs.level': 'pente : + monte dans le sens des positions croissantes',
  'signs.height':
    'différence de hauteur et dévers : + le rail est plus haut que le rail de référence',
  'signs.span': 'écartement : + plus large que le nominal',
  'signs.joint':
    'joints : + la partie après le joint est plus haute ou plus à gauche, monte plus ou tourne plus à gauche',
  'signs.rate':
    'taux de variation : + monte, ou tourne à gauche, dans le sens des positions croissantes',
  'signs.squareness': 'perpendicularité : + l’angle du long vers le travers dépasse 90°',

  'head.station-short': 'St.',
  'head.along': 'En long',
  'head.across': 'En travers',
  'station.up': '{rail} : haut',
  'station.left': '{rail} : gauche',
  'station.ahead': '{rail} : avant',
  'station.above': '{rail} sur {datum}',
  'station.open': 'n.d.',

  'survey.no-setups':
    'Lu sans mise en station d’un faisceau : au niveau, à l’autocollimateur ou par distance de station à station.',
  'survey.conditions': 'Conditions',
  'head.setup': 'Mise en station',
  'head.instrument': 'Instrument',
  'head.level-plane': 'Plan de niveau',
  'head.positive': 'Une lecture positive signifie',
  'head.note': 'Remarque',
  'setup.levelled': 'calé',
  'setup.not-levelled': 'non calé',
  'way-of.up': 'haut',
  'way-of.down': 'bas',
  'way-of.left': 'gauche',
  'way-of.right': 'droite',
  'way-of.ahead': 'avant',
  'way-of.back': 'arrière',
  'setups.caption': 'Où se trouvait l’instrument',
  'stood.caption': 'De combien chaque faisceau s’écartait de sa direction idéale',
  'stood.why': '{angle} de {setup} : {why}',
  'stood.note':
    'Lacet : tourné à gauche ou à droite de la droite des moindres carrés du rail {datum}. Tangage : montant ou descendant dans le sens des positions croissantes. Roulis : quel côté est en haut, en regardant dans ce sens. La solution tient compte des trois ; ils importent parce que l’erreur d’une cible croît en s’éloignant de son centre. ± est {expanded}.',
  'angle.yaw': 'lacet',
  'angle.pitch': 'tangage',
  'angle.roll': 'roulis',
  'head.yaw': 'Lacet',
  'head.pitch': 'Tangage',
  'head.roll': 'Roulis',
  'head.readings': 'Lectures',
  'head.largest': 'Plus grande lecture, de l’étendue de la cible',
  'turned.yaw.plus': '{size} gauche',
  'turned.yaw.minus': '{size} droite',
  'turned.pitch.plus': '{size} montant',
  'turned.pitch.minus': '{size} descendant',
  'turned.roll.plus': '{size} gauche en haut',
  'turned.roll.minus': '{size} droite en haut',
  largest: '{axis} {reading} sur {range}, {share}',
  'largest.near-end': '{axis} {reading} sur {range}, {share} : près de la fin',
  'largest.no-range': '{axis} {reading} ; étendue non enregistrée',
  'share.under-1': 'moins de 1\u00a0%',
  'drift.caption': 'Dérive des plans pendant les lectures',
  'drift.note':
    'La solution tient compte des taux. + le plan de lumière s’est déplacé vers le haut, vers la gauche ou vers l’avant.',
  'drift.significant': 'significatif',
  'drift.small': 'trop petit pour être distingué de zéro',
  'head.plane': 'Plan',
  'head.rate': 'Taux',
  'head.against-u': 'Au regard de son incertitude',
  'plane.vertical': 'plan de niveau',
  'plane.horizontal': 'plan longitudinal',
  'plane.along': 'plan transversal',
  'ties.caption': 'Comment les mises en station ont été rattachées',
  'ties.note':
    'Différence : mise en station suivante moins précédente ; direction + tournée à gauche, hauteur + plus haute. La valeur commune des lectures ne transmet rien, seule leur différence le fait.',
  'tie.direction': 'direction',
  'tie.height': 'hauteur',
  'head.carried': 'Transmis',
  'head.from-to': 'De – à',
  'head.by': 'Par',
  'head.baseline': 'Base',
  'head.difference': 'Différence et son U',
  'closures.caption': 'Retours sur le même point',
  'closures.note':
    'Fermeture : dernière lecture moins première, telle que lue, signe compris. Admis : ce qu’explique l’incertitude indiquée à {coverage}.',
  'closures.drift':
    'Par dérive : ce que les taux trouvés font de la fermeture ; le reste est comparé à ce qui est admis.',
  'closures.cut':
    'Les {most} plus grandes de chaque état, rapportées à l’admis ; toutes sont dans results.json.',
  'head.point-target': 'Point, cible',
  'head.axis': 'Axe',
  'head.looks': 'Première et dernière visée',
  'head.closure': 'Fermeture',
  'head.by-drift': 'Par dérive',
  'head.allowed': 'Admis',
  'head.result': 'Résultat',
  'result.exceeded': 'dépassé',
  'result.within': 'tenu',
  'times.not-recorded': 'heures non enregistrées',
  'loops.caption': 'Boucles de pas de niveau',
  'loops.note':
    'Fermeture : somme des pas autour de la boucle. Admis : ce qu’explique l’incertitude indiquée à {coverage}, toutes boucles ensemble.',
  'loops.cut':
    'Les {most} de chaque état qui ferment le plus mal ; d’autres sont dans results.json.',
  'head.loop': 'Boucle',
  'head.steps': 'Pas',
  'instruments.caption': 'Instruments',
  'head.description': 'Description',
  'head.certificate': 'Certificat',
  'head.due': 'Échéance d’étalonnage',
  'head.stated-u': 'Incertitude-type indiquée (k\u00a0=\u00a01)',
  'due.no-days': 'les jours de mesure ne sont pas enregistrés',
  'due.overdue': 'échu : l’échéance était passée lors des lectures',
  'claim.reading': 'lecture {u}',
  'claim.reading-display': 'lecture {u}, affichage {display} compris',
  'claim.per-distance': 'avec {size} par {unit} de distance',
  'claim.level': 'calage {u}',
  'claim.square': 'plan transversal {u}',
  'claim.drift': 'dérive {u} par heure',
  'claim.range': 'étendue ±{range}',
  'fact.temperature': 'Température',
  'fact.surveyed': 'Relevé',
  'fact.approved': 'Approuvé',
  'fact.report': 'Rapport',
  'phase.surveyed': 'relevé par {by}',
  'phase.machine': 'machine : {state}',
  'phase.instruments': 'instruments {list}',
  differs:
    'Les états n’ont pas été relevés dans les mêmes conditions ; un changement entre eux peut en venir. {parts}',
  'differs.machine': 'Machine : {list}',
  'differs.temperature': 'Température : {list}',
  'differs.instruments': 'Instruments : {list}',
  'differs.phase': '{phase} {text}',

  'fit.readings':
    '{readings, plural, one {# lecture} other {# lectures}}{priors, plural, =0 {} one { et # valeur connue avant le relevé (calage, perpendicularité ou dérive)} other { et # valeurs connues avant le relevé (calage, perpendicularité ou dérive)}}, pour {unknowns, plural, one {# inconnue} other {# inconnues}}{open, plural, =0 {} one { (dont # fixée par convention)} other { (dont # fixées par convention)}} ; redondance {redundancy}.',
  'fit.unchecked':
    'Aucune lecture n’est contrôlée par une autre : une faute dans l’une d’elles ne se verrait pas.',
  'fit.sigma':
    'σ₀\u00a0=\u00a0{sigma}, où 1 signifie que les lectures sont dispersées exactement comme le dit l’incertitude indiquée des instruments.{chance, select, none {} other { Par le seul hasard, {chance} seraient plus dispersés.}}',
  'fit.widened':
    'C’est plus que le hasard n’explique à 1 % ; chaque incertitude et chaque intervalle de cet état est donc multiplié par {scale}.',
  'fit.kept':
    'Les incertitudes indiquées sont gardées ; elles ne sont jamais réduites.{times, select, none {} other { Des lectures {times} fois plus bruitées qu’indiqué seraient remarquées dans 95 relevés semblables sur 100 ; moins peut passer, et les intervalles sont alors trop étroits d’autant.}}',
  'fit.suspects':
    '{count, plural, =0 {Aucune lecture n’est suspecte (test de Baarda, α\u00a0=\u00a00,001).} one {# lecture est suspecte (test de Baarda, α\u00a0=\u00a00,001) ; voir plus bas.} other {# lectures sont suspectes (test de Baarda, α\u00a0=\u00a00,001) ; voir plus bas.}}',
  'chance.hardly': 'moins de 1 relevé sur {surveys}',
  'chance.nearly-all': 'plus de {share} des relevés',
  'chance.one-in': 'environ 1 relevé sur {surveys}',
  'chance.share': '{share} des relevés',
  'groups.likeliest':
    'Cause la plus probable : {what}{others, select, none {} other { ou, ce que les lectures n’en distinguent pas, {others}}} (si on l’admet, χ² diminue de {fall}).',
  'groups.innocent':
    '{left, plural, =0 {Toutes les lectures suspectes ne le sont} other {{innocent} des {all} lectures suspectes ne le sont}} qu’à cause d’elle.',
  'ties.moves': '{name} du rail {rail} de {by}',
  'ties.unchecked':
    'Contrôlé par rien : {ties}. Une erreur de {size} dans l’un d’eux ne se verrait pas et changerait {moves}.',
  'ties.smallest':
    'Plus petite erreur qui se verrait (α\u00a0=\u00a00,001, puissance 0,80) : {list}.',
  'ties.shows': '{tie}, {size}',
  'left-out.none':
    'Aucune lecture n’a été écartée : le programme n’en écarte jamais, et personne n’en a marqué.',
  'left-out.some':
    'Le programme n’a écarté aucune lecture. Une lecture n’est écartée que par une personne, qui marque sa ligne et en note la raison ; ces lignes sont énumérées ci-dessous.',
  'confirmed.title': 'Semblait faux et a été confirmé',
  'confirmed.line': '{message} Confirmé par {by} : {because}',
  'undetermined.title': 'Ce que les lectures ne déterminent pas',
  'undetermined.line': '{names} : {why}',
  'suspects.caption': 'Lectures suspectes',
  'suspects.note':
    'Résidu : lecture moins solution, tel que lu, signe compris. Normé : le résidu divisé par sa propre incertitude-type. Aucune n’a été écartée ; regarder la ligne, la remarque et la cible avant de décider.',
  'suspects.twins':
    '= ne se distingue pas de celle du dessus : l’une ou l’autre peut être fausse.',
  'prior-value': 'valeur connue avant',
  'head.file-row': 'Fichier et ligne',
  'head.reading': 'Lecture',
  'head.residual': 'Résidu',
  'head.standardised': 'Normé',
  'repeatability.caption':
    'Répétabilité des lectures faites plusieurs fois, à côté de ce qu’annonce l’instrument',
  'head.deviation': 'Écart-type',
  'head.stated': 'u indiquée',
  'head.freedom': 'Degrés de liberté',
  'excluded.caption': 'Lectures écartées par une personne',
  'head.as-it-was': 'Lecture telle qu’elle était',
  'warnings.caption': 'Avertissements',
  'warnings.where': 'Où',
  'warnings.what': 'Quoi',
  'lacking.where': 'noms et remarques',
  lacking:
    'Il manque à la police fournie : {characters}. À leur place peuvent apparaître des cases ou des caractères d’une autre police.',

  'method.meanings': 'Ce que sont les caractéristiques',
  'method.solution': 'Solution',
  'method.solution.text':
    'Toutes les lectures d’un état sont résolues ensemble par moindres carrés pondérés, chacune avec l’incertitude indiquée pour son instrument ; hauteurs et positions des stations, orientation de chaque faisceau et décalages propres des cibles sont également des inconnues. Chaque état est résolu séparément.',
  'method.rule': 'Règle de décision',
  'rule.open': 'N’est non décidé que ce que les lectures ne déterminent pas.',
  'rule.band': 'La bande de garde est de {band} U.',
  'rule.rejection':
    'Une ligne est non conforme si son extrémité inférieure est au-dehors ; le risque de rejet à tort est alors d’au plus {risk}. Entre les deux, elle est non décidée. Le risque d’une ligne du tableau 1 est le plus petit niveau auquel la même démonstration la décide encore.',
  'rule.signed':
    'Une valeur signée est jugée par sa distance au milieu de sa zone ; pour des limites des deux côtés, l’extrémité la plus proche de sa limite décide.',
  'method.signs': 'Signes',
  'method.signs.text':
    'En regardant dans le sens des positions croissantes : + position est à gauche, + hauteur est en haut. + tangage monte en long, + roulis monte vers la gauche, + lacet tourne à gauche.',
  'method.lines': 'Droites de référence',
  'method.lines.text':
    'Moindres carrés : la somme des carrés des écarts est minimale. Zone minimale : la bande la plus étroite qui contient toutes les stations. Points extrêmes : par la première et la dernière station. La rectitude ne dépend pas de l’horizontalité du rail.',
  'method.uncertainty': 'Incertitude',
  'method.uncertainty.text':
    'u est une incertitude-type (k\u00a0=\u00a01), {expanded} une incertitude élargie, d’environ {coverage} de couverture. L’intervalle élargi contient la valeur vraie au moins aussi souvent qu’indiqué, quelle que soit la forme du rail, tant que les lectures ne sont pas plus dispersées qu’indiqué ici ; il ne dit rien des erreurs que ni une lecture ni une incertitude indiquée ne montre. Son extrémité supérieure est la plus grande que lit une paire quelconque d’endroits, avec l’incertitude propre de cette paire ; son extrémité inférieure tient compte de ce que le hasard fait de tous les endroits qui peuvent être extrêmes. Là où beaucoup d’endroits sont presque aussi éloignés, il couvre plus souvent qu’indiqué.',
  'method.rounding': 'Arrondi',
  'method.rounding.text':
    'La conformité est décidée sur des valeurs non arrondies. À l’impression, une incertitude a deux chiffres significatifs (arrondie vers le haut si l’arrondi au plus proche la diminuait de plus de 2,5 %) et une valeur autant de décimales que son incertitude ; davantage ne sont imprimées que si moins cacherait de quel côté d’une limite se trouve une valeur.',
  'method.curvature': 'Courbure de la Terre',
  curvature:
    'Un faisceau est droit, une surface de niveau ne l’est pas. Sur {length}, le rail le plus long, ils s’écartent de {middle} au milieu d’une corde, ou de {end} à l’autre bout d’une droite qui part de niveau. {corrected, select, true {Ce qui suit la surface de niveau en a été corrigé : les hauteurs sont données depuis une droite.} other {Aucune correction n’en a été faite.}}',
  'method.effects': 'Air, cône, cibles',
  'effects.physics':
    'La lumière se courbe vers l’air plus froid avec la courbure k/R, k = 503·(p/T²)·(0,0343 + dT/dh) (p en hPa, T en K, dT/dh en K/m ; R le rayon de la Terre), de la moitié de la courbure fois le carré de la distance ; un cône ajoute son angle fois la distance, une échelle sa part de la lecture, un roulis son angle fois la lecture de l’autre plan. Des passes répétées n’en moyennent que la pose.',
  'effects.stated':
    'Dans les intervalles, comme inconnues avec ce qui en est indiqué : {list}{more, plural, =0 {} other { ; et # de plus dans results.json}}.',
  'effects.found': '{effect} : indiqué à {stated}, trouvé {found} de là',
  'effects.of':
    '{kind, select, air {air, } cone {cône, } other {}}{of}{setup, select, none {} other { de {setup}}}',
  'effects.unstated': 'Pas dans les intervalles, car le dossier n’en indique rien : {list}.',
  'effects.would':
    '{source} : {size} ajouterait jusqu’à {reading} ({at}){holds, select, none {} other {, et les conformités tiennent jusqu’à {holds}}}',
  'source.air': 'un gradient de température de l’air, plus chaud dessus ou dessous',
  'source.air-sideways': 'un gradient de température de l’air, plus chaud d’un côté',
  'source.cone': 'un cône des plans balayés',
  'source.target-scale': 'une erreur d’échelle des cibles',
  'source.target-roll': 'un roulis des cibles',
  'source.level-zero-along': 'le zéro propre du niveau, dans sa direction',
  'source.level-zero-across': 'le zéro propre du niveau, en travers de sa direction',
  'source.bow': 'un dessus de machine qui devient plus chaud que son pied pendant le relevé',
  'source.seating': 'la pose des cibles, qui diffère d’une fois à l’autre',
  'method.span': 'Longueur à 20 °C',
  'span.reduced':
    'Les distances transversales ont été ramenées à 20\u00a0°C depuis {from}, avec une dilatation de {machine} pour la machine et {instrument} pour l’instrument.',
  'span.as-measured':
    'Les distances transversales sont données telles que mesurées, non ramenées à 20\u00a0°C.',
  'method.bow': 'Tête chaude, pied froid',
  bow: 'Rail {rail} : une tête {side, select, colder {plus froide} other {plus chaude}} que le pied de {kelvin} {way, select, none {ne le courberait pas} up {le courberait à elle seule de {bow} vers le haut au milieu} other {le courberait à elle seule de {bow} vers le bas au milieu}}.',
  'bow.nothing': 'Rien n’en a été corrigé.',
  'method.carriage': 'Le rail, pas le chariot',
  'method.carriage.text':
    'Les valeurs décrivent les rails aux stations lues, non le mouvement d’un chariot sur eux, ni le rail entre les stations.',
  simulation: '{draws} tirages, graine {seed}',
  'inputs.caption': 'Fichiers d’entrée.',
  'inputs.file': 'Fichier, et comment il a été lu',
  'inputs.bytes': 'Octets',
  'inputs.again':
    'Chaque valeur remonte à des cellules : « waysheet trace » avec ce PDF et une caractéristique énumère chaque lecture avec son poids ; poids fois lecture, additionnés, font la valeur. Le PDF contient ces fichiers et results.json : tout lecteur PDF les montre comme pièces jointes et les enregistre. « waysheet audit » avec le PDF, ou avec le dossier où il a été émis, recalcule chaque valeur à partir d’eux, réimprime les pages et nomme chaque différence. Les mêmes données d’entrée donnent les mêmes résultats jusqu’au dernier chiffre.',

  'need.none': 'Chaque tolérance est tenue : rien n’est à régler.',
  'need.outside': 'Hors de la limite : {names}. Relever à nouveau après les réglages.',
  'need.open': 'Démontré ni dans un sens ni dans l’autre : {names}. Relever à nouveau après les réglages.',
  'need.missing':
    'Ce qui n’est pas décidé n’a pas été déterminé : aucun réglage n’en découle. Lire d’abord ce qui manque.',
  'need.no-limit':
    'Aucune tolérance ne dit combien peut rester : ces réglages rendraient les rails droits et justes.',
  brief: '{names} ; et {more} de plus',
  'moves.intro':
    'D’après les lectures {phase}. En regardant dans le sens des positions croissantes : + lever ou vers la gauche, − baisser ou vers la droite.',
  'moves.leave': '« laisser » : un réglage ne dépasserait pas sa propre incertitude, {expanded}.',
  'moves.safety': 'Avant de régler quoi que ce soit',
  'move.raise': 'lever',
  'move.lower': 'baisser',
  'move.left': 'gauche',
  'move.right': 'droite',
  'move.ahead': 'avant',
  'move.back': 'arrière',
  'move.leave': 'laisser',
  'move.amount': '{arrow} {word} {amount}',
  'head.station': 'Station',
  'head.adjuster': 'Organe de réglage',
  'head.move': 'Réglage',
  'head.how': 'Comment',
  'head.asked': 'Demandé',
  'head.did': 'Fait',
  'head.says': 'Ce que cela dit',
  'head.end': 'Extrémité du rail',
  'head.height': 'Hauteur',
  'head.sideways': 'Latéral',
  'head.of-rail': 'rail',
  'head.of-station': 'station',
  'plan.needed': 'Ce qu’exige la conformité',
  'plan.adjusters': 'Organes de réglage',
  'plan.all-hold':
    'Après ces réglages, chaque tolérance devrait être tenue ; relever à nouveau.',
  'plan.still-open': 'Après ces réglages, encore à attendre : {list}.',
  'plan.expected': '{name} {verdict}',
  'plan.or':
    'Ou, à leur place, chaque station là où elle est voulue, comme ci-dessous : pas les deux.',
  'ends.caption': 'Chaque rail dans son ensemble',
  'ends.datum': '{rail}, pour être de niveau, autour de son milieu',
  'ends.other': '{rail}, pour être de niveau avec le rail {datum} et parallèle à lui',
  'ends.note': 'Entre les extrémités en proportion. ± est {expanded} de la station d’extrémité.',
  'ends.others':
    'Les autres viennent au rail {datum} tel qu’il est ; s’il est réglé, ils le sont d’autant.',
  'ends.untied':
    'La distance transversale n’a pas été mesurée : les réglages latéraux tournent un rail autour de son milieu.',
  'ends.first': 'Première extrémité, station {station}, en long {place}',
  'ends.last': 'Dernière extrémité, station {station}, en long {place}',
  'ends.leave': 'laisser (U\u00a0=\u00a0{u})',
  'ends.raise': 'lever {amount}',
  'ends.lower': 'baisser {amount}',
  'ends.left': 'décaler à gauche {amount}',
  'ends.right': 'décaler à droite {amount}',
  'ends.ahead': 'avant {amount}',
  'ends.back': 'arrière {amount}',
  'points.caption': 'Chaque station là où elle est voulue',
  'points.note':
    'Le nombre à côté du mot est le réglage entier, avec son signe ; « rail » et « station » sont les parts qui le font : le rail dans son ensemble sur sa droite, et la station sur la droite du rail.',
  'points.bold': 'Les stations en gras sont parmi celles qu’exige la conformité.',
  'points.cross':
    'Pour un rail transversal, la position est en travers, et latéral veut dire avant (+) ou arrière (−).',
  'points.cut':
    'Sur {count} stations, les {printed} les plus éloignées sont imprimées ; tous les réglages, avec leur signe, sont dans stations.csv.',
  'done.caption': 'Demandé après le premier relevé, et fait jusqu’au dernier',
  'done.note':
    'Ce que le rail a fait à un organe de réglage est connu à une translation et une rotation d’ensemble près ; elles sont prises telles que la plupart des organes ont fait ce qui était demandé.',
  'done.response':
    'Un réglage s’est fait à {share}\u00a0% près de sa valeur (incertitude-type, d’après {moves} réglages) ; le plan suivant en tient compte.',
  'says.as-asked': 'comme demandé',
  'says.too-little':
    'moins que demandé : l’appui cède-t-il, ou la vis n’a-t-elle pas été tournée autant ?',
  'says.too-much': 'plus que demandé',
  'says.not-moved': 'non réglé',
  'says.not-asked':
    'a bougé alors que rien n’était demandé ici : l’organe voisin l’entraîne-t-il ?',
  'says.turned-the-wrong-way': 'dans l’autre sens : la vis a-t-elle été tournée à l’envers ?',
  'says-short.as-asked': 'comme demandé',
  'says-short.too-little': 'trop peu',
  'says-short.too-much': 'trop',
  'says-short.not-moved': 'non réglé',
  'says-short.not-asked': 'non demandé',
  'says-short.turned-the-wrong-way': 'tourné à l’envers',
  'safety.energy.lead': 'Énergie accumulée.',
  'safety.energy':
    'Arrêter, isoler, consigner et étiqueter les entraînements et toute autre alimentation ; purger ou bloquer hydraulique, air, ressorts et masses levées ; vérifier que rien ne bouge avant d’y mettre les mains.',
  'safety.loads.lead': 'Charges soutenues et écrasement.',
  'safety.loads':
    'Vérins et vis de calage déplacent une charge, ils ne la retiennent pas : caler à mesure, tenir mains et pieds hors de tout interstice, et personne dessous ni entre.',
  'safety.laser.lead': 'Laser et yeux.',
  'safety.laser':
    'Connaître la classe inscrite sur l’instrument. Ne regarder ni dans le faisceau ni dans son reflet sur un rail poli ; le tenir loin de la hauteur des yeux et l’éteindre quand on ne lit pas.',
  'safety.who.lead': 'Qui peut le faire.',
  'safety.who':
    'La procédure du constructeur, les règlements locaux et les règles des travaux soumis à habilitation (levage, électricité, structure) passent avant cette page.',
  'safety.one-way.lead': 'Dans un seul sens.',
  'safety.one-way':
    'Un vérin ne fait que lever et une vis ne fait que pousser : desserrer ce qui s’oppose à une vis avant qu’elle pousse, puis caler et bloquer.',
  wanted: 'Voulu : {wanted}.',
  'wanted.margin': 'Voulu : {wanted}, et {margin} de chaque limite restent inutilisés.',
  'wanted.fewest-moves':
    'chaque tolérance tenue, incertitude comprise, avec le moins de réglages',
  'wanted.level-and-straight': 'rails de niveau et droits',
  'wanted.straight': 'rails droits, à la pente qu’ils ont',
  'wanted.parallel-to-datum': 'rails parallèles au rail de référence tel qu’il est',
  'wanted.datum-stays': 'La référence, rail {rail}, reste.',
  'status.impossible': 'Aucune liste de réglages ne fait cela : {missed}.',
  'status.nearest': 'Ces réglages s’en approchent le plus.',
  'status.nothing': 'Rien n’est à régler.',
  'status.not-found': 'Non trouvé par la recherche : {why}.',
  'status.ended': 'La recherche s’est arrêtée à sa limite ; une liste plus courte peut exister.',
  'status.ended-by':
    'La recherche s’est arrêtée à sa limite ; une liste plus courte peut exister, de {gap} au plus.',
  missed: '{name} dépasse sa limite de {by}',
  'missed.coarse':
    '{name} dépasse sa limite de {by}, et si loin qu’ils aillent, des organes espacés de {apart} en laissent {leaves} : ils sont plus grossiers que la forme',
  'rounds.coarse':
    'Ces réglages sont grands pour l’étendue des cibles. Faire d’abord {share} de chacun, relever à nouveau, et planifier le reste d’après ce relevé.',
  'rounds.several':
    'S’il y a plus d’un tour, passer à chaque tour par tous les endroits du rail, chacun d’une part égale : le rail est ainsi le moins fléchi. Les cales se posent entières au premier tour.',
  'turns.under': 'moins de 1/16 tour ({degrees})',
  turns: '{number} {count, plural, one {tour} other {tours}}',
  'turns.degrees': '{number} {count, plural, one {tour} other {tours}} ({degrees})',
  'shims.add': 'ajouter {sheets}',
  'shims.take': 'ôter {sheets}',
  'force.more': '{force} de plus',
  'force.less': '{force} de moins',
  'how.own-means': 'par les moyens de la machine',

  'sheet.page': 'page {page} sur {pages}',
  'sheet.title': 'Fiche de réglage {number}',
  'sheet.survey': 'relevé du {day}',
  'sheet.is-draft': 'projet',
  'sheet.draft': '{number} (projet)',
  'sheet.stale':
    'D’après le relevé {day, select, none {d’un jour non enregistré} other {du {day}}}. Si la machine a été relevée ou réglée depuis, ne pas utiliser cette fiche. Les réglages sont ceux du rapport {number}, dans le même ordre et avec les mêmes numéros.',
  'sheet.sketch': 'Plein : à régler. Vide : reste. Flèches et valeurs en {unit}.',
  'sketch.datum': '{rail}, référence',
  'sketch.alt': 'Plan de la machine avec {count} endroits à régler',
  'sheet.safe': '1 Mettre en sécurité',
  'sheet.dial': '2 Régler d’abord le comparateur',
  'sheet.dial.text':
    'Poser le comparateur sur le rail à l’endroit voulu, sur un pied qui ne bouge pas avec lui. Le mettre à 0. Après le réglage, il doit indiquer la valeur ci-dessous : c’est le comparateur qui décide, pas le tour de vis.',
  'sheet.move': '3 Régler, dans cet ordre',
  'sheet.no': 'N°',
  'sheet.place': 'Endroit',
  'sheet.along': 'En long, {unit}',
  'sheet.direction': 'Sens',
  'sheet.amount': 'Valeur',
  'sheet.initials': 'Initiales, heure',
  'sheet.round': 'Tour {n}',
  'sheet.dial-to': 'cadran à {amount}',
  'whole.title':
    '{step}  {rail}, dans son ensemble : {first} à la première extrémité, {last} à la dernière, en proportion entre les deux',
  'whole.end': '{word} {amount}',
  'single.title': 'Endroits isolés',
  'sheet.again': '4 Relever à nouveau',
  'sheet.again.text':
    'Caler l’instrument et le remettre à 0 avant la lecture suivante. À attendre après ces réglages :',
  'sheet.tolerance': 'Tolérance',
  'sheet.expected': 'Attendu ± U',
  'sheet.to-read': 'Ce n’est pas un réglage mais une lecture qu’il faut pour :',
  'to-read': '{name} n’est pas mesuré',
  'sheet.done': 'Tous les réglages faits et la machine rendue :',
  'sheet.sides':
    'Gauche et droite s’entendent en regardant dans le sens des positions croissantes. Faire le dernier tour de chaque vis dans le sens de sa flèche : si elle est allée trop loin, revenir largement et recommencer.',
  'sheet.force':
    '« kN de plus » ou « kN de moins » : d’autant change l’effort sur l’appui quand le rail est fléchi vers sa nouvelle ligne. Où il augmente, veiller à ce que l’appui puisse le porter.',
  'sheet.response':
    'Chaque réglage devrait se faire à {share} près de sa valeur (incertitude-type ; {source, select, assumed {supposée, pratique courante} stated {indiquée dans le dossier} other {d’après {moves} réglages antérieurs de cette machine}}).',
  'sheet.least': 'Les réglages de moins de {size} ne sont pas demandés.',

  'figure.interval': '{coverage} : {from} à {to}',
  'figure.limits': 'limites {from} à {to}',
  'figure.limits-both': 'limites ± {limit}',
  'figure.limit': 'limite {limit}',
  'figure.limit-wide': 'limite : {limit}',
  'axis-title.stations': 'station, de {from} à {to}',
  'axis-title.along': 'en long, {unit}',
  'axis-title.across': 'en travers, {unit}',
  'chart.point': '{station}: {figure} {phase}',
  'chart.expected': 'attendu',
  'chart.now': 'actuel',
  'chart.after-moves': 'Attendu après les réglages : {title}',
  'chart.ghost': 'En tirets, avec losanges : {phase}.',
  'chart.ghost-cut': 'En tirets, avec losanges : {phase}, coupé où il sort de cette échelle.',
  'chart.done.title': 'Ce qui était demandé aux organes de réglage, et ce qu’ils ont fait',
  'chart.done.caption':
    'Losanges : demandé. Points avec leur incertitude : ce que le rail a fait là. + vers le haut ou vers la gauche.',
  'chart.done.alt': 'Diagramme à points, en {unit}. {list}.',
  'chart.done.one': '{adjuster} : demandé {asked}, fait {did}, {says}',
  'chart.done.axis': 'réglage, {unit}',
  'budget.title': 'D’où vient l’incertitude',
  'budget.caption':
    'Part de chaque source dans la variance de chaque caractéristique, en pour cent.',
  'budget.alt': 'Tableau de parts. {list}.',
  'budget.mostly': '{what} : surtout {source}, {share} %',
  'budget.readings': 'lectures',
  'budget.distance': 'distance',
  'budget.level': 'calage',
  'budget.direction-carry-over': 'transm.,|direction',
  'budget.height-carry-over': 'transm.,|hauteur',
  'budget.target-assemblies': 'cibles',
  'budget.drift': 'dérive',
  'budget.air': 'air',
  'budget.cone': 'cône',
  'budget.target-scale': 'échelle|des cibles',
  'budget.target-roll': 'roulis|des cibles',
  'budget.seating': 'pose',
  'budget.rail-tilt': 'inclin.|du rail',
  'budget.temperature': 'tempér.',
  'residuals.title': 'Résidus',
  'residuals.title-phase': 'Résidus, {phase}',
  'residuals.heading': 'résidu rapporté à son incertitude-type',
  'residuals.axis': 'lectures, dans l’ordre de leurs fichiers',
  'residuals.stated': 'indiqué',
  'residuals.from': 'depuis {setup}',
  'residuals.count':
    '{out, plural, =0 {Aucune lecture n’est hors des bornes} one {# lecture sur {all} est hors des bornes} other {# lectures sur {all} sont hors des bornes}}',
  'residuals.caption': 'Pointillé : les bornes du test de fautes, ± {bound}. {count}.',
  'residuals.thinned': 'De celles dans ± 2, une sur {step} est dessinée.',
  'residuals.alt':
    'Nuage de points. {title} de {all} lectures, chacun rapporté à son incertitude-type, de {least} à {greatest}. {count}{worst, select, none {} other { : {worst}}}.',
  'overview.title': 'Tous les rails, chacun depuis sa propre droite des moindres carrés',
  'overview.heading':
    'depuis la droite des moindres carrés du rail, {unit} ; + haut, gauche ou avant',
  'overview.panel': '{rail}, {plane}',
  'overview.height': 'hauteur, {rail}',
  'overview.offset': 'latéral, {rail}',
  'overview.range': '{name} : {from} à {to}',
  'overview.caption': 'Une échelle pour tous.',
  'overview.alt': 'Petits diagrammes linéaires. {title}, en {unit}. {ranges}.',
  'differences.title': 'Tous les rails par rapport au {rail}',
  'differences.heading':
    'depuis le {rail} à la même position en long, {unit} ; + plus haut ou plus à gauche',
  'machine.title': 'La machine',
  'machine.above':
    'En haut : les rails vus de dessus ; la gauche est en haut, en regardant en long ; le travers n’est pas à l’échelle.',
  'machine.diamonds':
    'Losanges : stations qui décident de ce qui est non conforme ou non décidé.',
  'machine.squares': 'Carrés : organes à régler.',
  'machine.triangles': 'Triangles : mises en station. Le rail de référence est plus foncé.',
  'machine.below': 'En bas : hauteurs {phase}, depuis la moyenne du rail de référence.',
  'machine.from-above': 'vu de dessus',
  'machine.heights': 'hauteur {phase}, {unit}',
  'machine.point': '{station}: {along}, {across} en long et en travers',
  'machine.height': '{station}: hauteur {figure} {phase}',
  'machine.open-rail': '{rail} : {list}',
  'machine.alt':
    '{elevation, select, true {Plan et élévation} other {Plan}} de la machine. {rails} ; {setups, plural, one {# mise en station} other {# mises en station}}. {open, select, none {Rien n’est non conforme ni non décidé} other {{open}}}.{decided, select, none {} other { Décidé en {decided}.}}',
  'machine.alt.rail': '{rail} avec {stations, plural, one {# station} other {# stations}}',
  'machine.alt.datum':
    '{rail} avec {stations, plural, one {# station} other {# stations}}, la référence',
  'profile.alt': 'Diagramme linéaire. {title}. {outcome}.',
  'profile.decided': 'Décidé en {at} : {verdict}.',
  'profile.compared': 'rail avec lequel il est comparé',
  'profile.limits': 'Traits foncés : les limites.',
  'profile.zone':
    'Traits foncés : la zone que permet la limite, répartie également autour des points qui décident.',
  'profile.guard': 'Pointillé : les limites moins la bande de garde.',
  'profile.bar-signed': 'La barre à droite est l’intervalle : il doit être dans les limites.',
  'profile.bar-range':
    'La barre à droite est la valeur, ses traits extérieurs sont l’extrémité supérieure de l’intervalle : ils doivent être dans les limites.',
  'profile.worst-stretch':
    'Seul le tronçon le plus défavorable est dessiné, autour de sa propre droite.',
  'profile.one-plane': 'Tous les rails sont dessinés depuis un même plan.',
  'profile.y.plane': 'hauteur depuis le plan commun, {unit}',
  'profile.y.cross-level': 'dévers : + {rail} est plus haut que le {other}, {unit}',
  'profile.y.height': 'hauteur au-dessus du {other}, {unit}',
  'profile.y.span': 'distance au {other}, depuis le nominal : + plus large, {unit}',
  'profile.y.sideways': 'latéral depuis le {other}, + gauche, {unit}',
  'profile.y.step.vertical': 'ressaut au joint après sa station, + haut, {unit}',
  'profile.y.step.horizontal': 'ressaut au joint après sa station, + gauche, {unit}',
  'profile.y.slope.vertical': 'changement de pente au joint, + haut, {unit}',
  'profile.y.slope.horizontal': 'changement de pente au joint, + gauche, {unit}',
  'profile.y.rate.vertical': 'pente depuis la station, par rapport à celle du rail, + haut, {unit}',
  'profile.y.rate.horizontal': 'pente depuis la station, par rapport à celle du rail, + gauche, {unit}',
  'profile.y.line.vertical':
    'hauteur depuis {line, select, ends {la droite par les extrémités} other {sa droite de référence}}, + haut, {unit}',
  'profile.y.line.horizontal':
    'latéral depuis {line, select, ends {la droite par les extrémités} other {sa droite de référence}}, + gauche, {unit}',

  'live.keys': '{title} : les flèches vont de point en point, Échap termine',
  'live.phases': 'États dans les figures',
  'live.in-figures': 'Dans les figures :',
  'live.rows': 'Ne montrer que les lignes avec',
  'live.rows-of': 'Ne montrer que les lignes de « {table} » avec',
  'place.height': 'hauteur {figure}',
  'place.sideways': 'latéral {figure}',
  'place.ahead': 'avant {figure}',
  'place.own-vertical': 'depuis sa propre droite, vertical {figure}',
  'place.own-horizontal': 'horizontal {figure}',
  'place.own-along': 'en long {figure}',
  'place.file-setup': '{file} depuis {setup}',
  'place.rows': '{from}, {count, plural, one {ligne} other {lignes}} {rows}',
  'place.read': '{phase}, lu dans {places}',

  'doc.monument': 'le repère {monument} lu depuis {setup}',
  'doc.rail': 'la hauteur du rail {rail} depuis {setup}',
  'doc.pass': 'la passe {pass} du rail {rail} depuis {setup}, {axis}',
  'doc.curvature': 'une courbure de la lumière depuis {setup}',
  'doc.target': 'la cible {target} depuis {setup}, {axis}',
  'doc.sign': 'le signe de toutes les lectures depuis {setup}, {axis}',
  'doc.scale': 'l’échelle de toutes les lectures depuis {setup}, {axis}',
  'doc.fix-monument':
    'Le repère {monument} a-t-il bougé, ou un autre a-t-il été lu ? Le relire depuis {setup}, ou écarter ses lignes de là par use = no avec une remarque.',
  'doc.fix-rail':
    'La canne a-t-elle été réglée à nouveau, ou l’instrument touché, avant que le rail {rail} soit lu depuis {setup} ? À partir de là, c’est une autre cible ou une autre mise en station.',
  'doc.fix-pass':
    'Regarder ce qui a changé avant que la passe {pass} du rail {rail} soit lue depuis {setup}.',
  'doc.fix-curvature':
    'Indiquer le gradient de température à {setup} (« air »), lire depuis les deux bouts, ou quand l’air est brassé.',
  'doc.fix-target':
    'La canne ou le support de {target} ont-ils été réglés à nouveau ? À partir de là, c’est un nouvel identifiant de cible.',
  'doc.fix-sign': 'Dans job.json, mise en station {setup} : « plus » : {new} au lieu de {old}.',
  'doc.fix-scale': 'Regarder l’unité de ces lectures et l’étalonnage des cibles.',
  'doc.reading': '{point} depuis {setup}, cible {target}, passe {pass}',
  'doc.step': 'pas de {from} à {to}, passe {pass}',
  'doc.span': 'écartement de {from} à {to}, passe {pass}',
  'doc.level': 'calage de la mise en station {setup} ({angle})',
  'doc.squareness': 'perpendicularité de l’instrument {instrument}',
  'doc.no-drift': 'pas de dérive de la mise en station {setup} ({axis})',
  'doc.stated-setup': '{effect} de la mise en station {setup}, tel qu’indiqué',
  'doc.no-cone': 'pas de cône de l’instrument {instrument} ({axis})',
  'doc.difference': 'différence des {effect}, telle qu’indiquée',
  'doc.stated': '{effect}, tel qu’indiqué',
  'doc.rods': 'cannes de {first} et {second}',
  'doc.cone-vertical': 'vertical',
  'doc.cone-horizontal': 'horizontal',
  'doc.cone-along': 'en long',
  'doc.scale-of': 'échelle de {target}',
  'doc.roll-of': 'roulis de {target}',
  'doc.tilt-of': 'inclinaison en {station}',
  'doc.gradient-vertical-over': 'gradient vertical au-dessus du rail {rail}',
  'doc.gradient-sideways-over': 'gradient latéral au-dessus du rail {rail}',
  'doc.gradient-vertical': 'gradient vertical',
  'doc.gradient-sideways': 'gradient latéral',
  'doc.bow-of': 'flèche du rail {rail}',
  'doc.seating': 'pose {placing} de {target}, {axis}',
  'doc.temperature': 'température pendant les écartements',
  'doc.zero': 'zéro de {instrument}, {angle}',
  'doc.kind-offset': 'écart',
  'doc.kind-slope': 'pente',
  'doc.kind-span': 'écartement',
  'doc.kind-prior': 'connu avant',
  'doc.kind-level': 'calage',
  'doc.kind-square': 'perpendicularité',
  'doc.kind-drift': 'dérive',
  'doc.kind-rods': 'cannes',
  'doc.kind-air': 'air',
  'doc.kind-cone': 'cône',
  'doc.kind-scale': 'échelle',
  'doc.kind-target-roll': 'roulis de cible',
  'doc.kind-seating': 'pose',
  'doc.kind-level-zero': 'zéro du niveau',
  'doc.kind-rail-tilt': 'inclinaison du rail',
  'doc.kind-thermal-bow': 'flèche thermique',
  'doc.kind-span-temperature': 'température des écartements',

  'way.more-passes': 'deux fois plus de passes',
  'way.other-end': 'les mêmes stations relues depuis l’autre bout',
  'way.middle': 'des instruments au milieu de ce qu’ils lisent',
  'way.new-setups': 'tout relu depuis des mises en station calées à nouveau',
  'way.turned-level': 'tout relu avec l’instrument tourné d’un demi-tour et calé à nouveau',
  'way.even-air': 'un air moitié moins inégal (brassé par des ventilateurs, ou la nuit)',
  'way.centred-target': 'des lectures près du milieu des cibles',
  'way.turned-target': 'tout relu avec les cibles retournées',
  'way.own-placings': 'des cibles soulevées et reposées avant chaque lecture',
  'way.lower-rod': 'des cannes moitié moins hautes',
  'way.known-temperature': 'des températures connues deux fois mieux',
  'way.quicker': 'des lectures faites en moitié moins de temps',
  'way.monuments-again': 'des repères lus deux fois plus souvent',
  'way.heights-again': 'des transmissions de hauteur lues deux fois plus souvent',
  'way.one-target': 'une seule cible pour toutes les lectures',

  'meaning.straightness': 'Rectitude',
  'meaning.straightness.text':
    'écart de rectitude crête à creux (STRt de l’ISO 12780-1) : l’étendue des écarts des stations à la droite de référence, en hauteur (vertical) ou latéralement (horizontal).',
  'meaning.local-straightness': 'Rectitude locale',
  'meaning.local-straightness.text':
    'la même dans le tronçon le plus défavorable de la longueur indiquée ; chaque tronçon a sa propre droite.',
  'meaning.level-along-the-rail': 'Pente le long du rail',
  'meaning.level-along-the-rail.text':
    'pente de la droite des moindres carrés du rail par rapport à l’horizontale ; + monte dans le sens des positions croissantes.',
  'meaning.parallelism': 'Parallélisme',
  'meaning.parallelism.text':
    'étendue (la plus grande moins la plus petite valeur) de la hauteur au-dessus du rail de référence (vertical) ou de la distance transversale à lui (horizontal), à la même position en long.',
  'meaning.height-difference': 'Différence de hauteur',
  'meaning.height-difference.text':
    'hauteur au-dessus du rail de référence là où elle est la plus éloignée de zéro ; + le rail est plus haut que le rail de référence.',
  'meaning.cross-level': 'Dévers',
  'meaning.cross-level.text':
    'hauteur au-dessus du rail de référence divisée par la distance transversale, là où il est le plus éloigné de zéro ; + le rail est plus haut que le rail de référence.',
  'meaning.twist': 'Gauche',
  'meaning.twist.text': 'étendue (la plus grande moins la plus petite valeur) du dévers.',
  'meaning.span': 'Écartement',
  'meaning.span.text':
    'distance transversale au rail de référence moins son nominal, là où il est le plus éloigné de zéro ; + plus large que le nominal.',
  'meaning.coplanarity': 'Coplanéité',
  'meaning.coplanarity.text':
    'épaisseur de la zone autour du plan de référence qui contient toutes les stations du rail et du rail de référence.',
  'meaning.squareness': 'Perpendicularité',
  'meaning.squareness.text':
    'angle entre la droite du rail de référence (en long croissant) et celle du rail transversal (en travers croissant) moins 90° ; + plus grand qu’un angle droit.',
  'meaning.joints': 'Joints',
  'meaning.joints.text':
    'chaque partie du rail est prolongée jusqu’au joint par la droite de ses deux stations les plus proches ; ressaut : de la partie après le joint moins celle d’avant, là où il est le plus éloigné de zéro, + plus haut ou plus à gauche ; changement de pente de même, + elle monte plus ou tourne plus à gauche.',
  'meaning.rate-of-change': 'Taux de variation',
  'meaning.rate-of-change.text':
    'pente d’une station à la plus éloignée dans la longueur indiquée, moins celle de la droite des moindres carrés du rail, là où il est le plus éloigné de zéro ; + elle monte, ou tourne à gauche, dans le sens des positions croissantes.',
};
