/**
 * Español. Terms of the standards as their Spanish editions have them, from memory: UNE-ISO 230-1 (rectitud, paralelismo,
 * perpendicularidad), UNE-EN ISO 1101 (referencia), VIM and GUM of the CEM (incertidumbre de medida, incertidumbre típica,
 * incertidumbre expandida, factor de cobertura, intervalo de cobertura), ISO/IEC 17025. The table of terms is glossary.ts.
 */
import type { Catalogue } from './words.js';

export const es: Catalogue = {
  'name.straightness-vertical': 'Rectitud, vertical',
  'name.straightness-horizontal': 'Rectitud, horizontal',
  'name.straightness-vertical-local': 'Rectitud local, vertical',
  'name.straightness-horizontal-local': 'Rectitud local, horizontal',
  'name.level-along': 'Pendiente a lo largo del carril',
  'name.parallelism-vertical': 'Paralelismo, vertical',
  'name.parallelism-horizontal': 'Paralelismo, horizontal',
  'name.height-difference': 'Diferencia de altura',
  'name.cross-level': 'Peralte',
  'name.twist': 'Alabeo',
  'name.span': 'Ancho',
  'name.coplanarity': 'Coplanaridad',
  'name.squareness': 'Perpendicularidad',
  'name.joint-step-vertical': 'Escalón en la junta, vertical',
  'name.joint-step-horizontal': 'Escalón en la junta, horizontal',
  'name.joint-slope-vertical': 'Cambio de pendiente en la junta, vertical',
  'name.joint-slope-horizontal': 'Cambio de pendiente en la junta, horizontal',
  'name.rate-of-change-vertical': 'Tasa de variación, vertical',
  'name.rate-of-change-horizontal': 'Tasa de variación, horizontal',

  'reason.rail-unread':
    '{isDatum, select, true {el carril de referencia} other {el carril}} {rail} no se leyó en el plano {plane}',
  'reason.straightness-stations':
    'la rectitud necesita tres estaciones del carril {rail} leídas en el plano {plane}',
  'reason.straightness-stations-has':
    'la rectitud necesita tres estaciones; el carril {rail} tiene {has} leídas en el plano {plane}',
  'reason.window-stations':
    'ningún tramo de {overMm} mm del carril {rail} contiene tres estaciones leídas',
  'reason.rate-stations':
    'una tasa de variación necesita tres estaciones del carril {rail} leídas en el plano {plane}',
  'reason.rate-apart': 'en el carril {rail} no hay dos estaciones a menos de {overMm} mm',
  'reason.slope-stations':
    'una pendiente necesita dos estaciones del carril {rail} leídas en el plano vertical',
  'reason.plane-stations':
    'un plano necesita al menos cuatro estaciones que no estén en una misma recta',
  'reason.square-cross-rail':
    'la perpendicularidad necesita dos estaciones del carril transversal {rail} leídas a lo largo',
  'reason.square-datum-rail':
    'la perpendicularidad necesita dos estaciones del carril de referencia leídas en el plano horizontal',
  'reason.matching-stations':
    'ninguna estación del carril {rail} leída en el plano {plane} está entre estaciones leídas del carril {other}',
  'reason.no-matching-stations':
    'los carriles {rail} y {other} no tienen estaciones correspondientes leídas en el plano vertical',
  'reason.two-matching-stations':
    '{what, select, twist {el alabeo} other {el paralelismo}} necesita dos estaciones correspondientes; el carril {rail} y el carril {other} tienen una',
  'reason.same-place-across':
    'los carriles {rail} y {other} están en la misma posición transversal',
  'reason.no-joints': 'el carril {rail} no tiene juntas',
  'reason.joint-stations':
    'la parte del carril {rail} {side, select, before {antes} other {después}} de su junta en {jointMm} mm tiene menos de dos estaciones leídas en el plano {plane}, apartadas de la junta',
  'reason.datum-no-line':
    'el carril de referencia {rail} no tiene recta: se leyeron muy pocas de sus estaciones en el plano horizontal',
  'reason.datum-no-horizontal-line':
    'el carril de referencia no tiene recta en el plano horizontal',
  'reason.own-line': 'una recta propia necesita tres estaciones leídas',
  'reason.set-up-no-heights': 'no se leyó nada en el plano vertical desde el emplazamiento {setup}',
  'reason.set-up-no-offsets':
    'no se leyó nada en el plano horizontal ni a lo largo desde el emplazamiento {setup}',
  'reason.nothing-ties-it': 'las lecturas de este estado no lo enlazan con nada que lo determine',
  'reason.not-levelled':
    'el emplazamiento {setup} no se niveló, y ninguna lectura de nivel lo sustituye',
  'reason.not-levelled.fix':
    'nivelar el plano del emplazamiento {setup}, o leer su carril con un nivel',
  'reason.height-not-carried':
    'la altura no se transfirió del emplazamiento {from} al emplazamiento {to}: ningún blanco se leyó en un mismo punto desde ambos',
  'reason.height-not-carried.fix':
    'leer un blanco, sin tocar su vástago, en un punto del primer carril desde {from} y desde {to}, y después en el segundo carril desde {to}',
  'reason.targets-not-compared':
    'los blancos {first} y {second} no se compararon en el plano {plane}: ningún punto se leyó con ambos desde un mismo emplazamiento',
  'reason.targets-not-compared.fix':
    'leer {first} y {second} en un mismo punto desde un mismo emplazamiento, o uno de ellos en ambos carriles',
  'reason.direction-not-carried':
    'la dirección del emplazamiento {to} no está enlazada con la del emplazamiento {from}: ningún par de puntos fijos se leyó desde {from} y desde {to}',
  'reason.direction-not-carried.fix':
    'leer {named, select, false {dos blancos sobre puntos fijos muy separados a través de los carriles,} other {los puntos fijos {monument1} y {monument2}}} en el plano transversal (a lo largo) desde {from} y desde {to}',
  'reason.part-not-tied':
    'la parte del carril {rail} leída desde {to} no está enlazada a través con la leída desde {from}: muy pocas estaciones comunes',
  'reason.part-not-tied.fix':
    'leer dos o más estaciones del carril {rail} desde {from} y desde {to}',
  'reason.span-not-measured':
    'no se midió la distancia transversal del carril {rail} al carril {other}',
  'reason.span-not-measured.fix':
    'medir el ancho entre los carriles {rail} y {other} en al menos una estación',
  'reason.sight-free':
    'la línea de mira de {sight} tiene una dirección propia que nada determina',
  'reason.sight-free.fix':
    'enlazarla con una lectura de nivel, o con lecturas de las mismas estaciones desde un emplazamiento',
  'reason.step-not-read':
    'en el carril {rail}, ninguna lectura une la estación {from} con la estación {to}',
  'reason.step-not-read.fix':
    'leer el paso de {rail}:{from} a {rail}:{to}, o ambas desde un mismo emplazamiento',
  'reason.squareness-not-known': 'no se conoce la perpendicularidad del instrumento {instrument}',
  'reason.squareness-not-known.fix':
    'indicar la incertidumbre típica del plano transversal del instrumento {instrument}',
  'reason.limit-missed':
    '{what} del carril {rail} supera su límite en {by} {unit}, incertidumbre incluida',
  'reason.limit-missed.coarse':
    '{what} del carril {rail} supera su límite en {by} {unit}, incertidumbre incluida; ajustadores separados {apartM} m son más bastos que la forma',
  'reason.no-plan-in-search':
    'la búsqueda no encontró ninguna lista de ajustes; que no la haya no está demostrado',
  'reason.moves-too-small':
    'solo ayudarían ajustes menores de lo que se pide ({leastUm} µm, lo que se sabe del lugar, o la galga más fina): leer de nuevo, o acordar el límite',
  'reason.nothing-can-move': 'nada de lo que puede ajustarse lo cambia',
  'reason.no-stations-beside-datum':
    'el carril {rail} no tiene estaciones junto a las del carril de referencia',
  'reason.place-to-datum-open':
    'las lecturas no determinan dónde está el carril {rail} respecto al carril de referencia',
  'reason.with-fix': '{missing}. Para determinarlo: {fix}',

  'leave.all-decided': 'Pueden irse. Todas las tolerancias están decididas.',
  'leave.no-limits':
    'Pueden irse. Todo lo previsto está leído; no se indica ninguna tolerancia.',
  'leave.nothing-decides':
    'Pueden irse. {open, plural, one {Una tolerancia no está decidida, y nada de lo que aún puede leerse la decidiría.} other {# tolerancias no están decididas, y nada de lo que aún puede leerse las decidiría.}}',
  'leave.problems':
    'No se vayan todavía. {count, plural, one {Hay un problema por corregir o confirmar.} other {Hay # problemas por corregir o confirmar.}}',
  'leave.to-read': 'No se vayan todavía. No se ha leído todo lo previsto.',
  'leave.to-repeat': 'No se vayan todavía. Hay que repetir una lectura: {what}, {axis}.',
  'leave.to-decide':
    'No se vayan todavía. {open, plural, one {Una tolerancia no está decidida, y lecturas en la máquina pueden decidirla.} other {# tolerancias no están decididas, y lecturas en la máquina pueden decidir algunas.}}',
  'leave.label.read': 'Leído',
  'leave.label.problems': 'Problemas',
  'leave.label.closures': 'Cierres',
  'leave.label.repeat': 'Por repetir',
  'leave.label.again': 'Revisado',
  'leave.label.tolerances': 'Tolerancias',
  'leave.blank':
    '{count, plural, one {Una fila prevista no contiene lectura: {rows}.} other {# filas previstas no contienen lectura: {rows}.}} Una fila que no ha de leerse lo dice con use = no.',
  'leave.nothing-read': 'Todavía no hay ninguna lectura utilizable.',
  'leave.closures.none':
    'Ningún punto se leyó dos veces desde un mismo emplazamiento. Nada muestra si un instrumento se movió.',
  'leave.closures.held':
    'Todo punto leído de nuevo cierra. El mayor es {point} desde {setup}, {axis}: {closure}; {allowed} es lo usual.',
  'leave.closures.exceeded':
    '{exceeded, plural, one {Un punto no cierra.} other {# puntos no cierran.}} El mayor es {point} desde {setup}, {axis}: {closure}; {allowed} es lo usual.',
  'leave.repeat.none': 'No hay que repetir ninguna lectura.',
  'leave.repeat.contradicted':
    '{what}, {axis} ({place}): las demás la contradicen. {must, select, yes {El azar solo difícilmente hace eso. Leerla de nuevo y apartar la errónea con use = no.} other {El azar puede hacer eso. Leerla de nuevo si hay tiempo.}}',
  'leave.repeat.not-closed':
    '{what}, {axis} ({place}): la última lectura difiere de la primera. {must, select, yes {El azar solo difícilmente hace eso. Leerla de nuevo y mirar si el instrumento se movió.} other {El azar puede hacer eso. Leerla de nuevo si hay tiempo.}}',
  'leave.repeat.helps-most':
    '{what}, {axis} ({place}): una lectura más allí es lo que más ayuda. Estrecha en {narrower} un intervalo no decidido.',
  'leave.again.both': 'La nivelación y el cero de {setups} se revisaron.',
  'leave.again.level': 'La nivelación de {setups} se revisó.',
  'leave.again.zero': 'El cero de {setups} se revisó.',
  'leave.again.not.level':
    'No la nivelación de {setups}: tras el último punto, leer de nuevo la altura de un punto anterior antes de desmontar el instrumento.',
  'leave.again.not.zero':
    'No el cero de {setups}: tras el último punto, leer de nuevo en lateral un punto anterior antes de desmontar el instrumento.',
  'leave.again.none': 'Ninguna lectura desde un emplazamiento.',
  'leave.decided': '{name}: {value}, límite {limit}: {verdict}.',
  'leave.open.missing': '{name}: sin valor. {why}',
  'leave.open.reading':
    '{name}: {value}, límite {limit}: no decidida. {what}, {axis}, leído una vez más la decidiría, si el valor queda donde está.',
  'leave.open.passes':
    '{name}: {value}, límite {limit}: no decidida. {times} veces más pasadas la decidirían, si el valor queda donde está.',
  'leave.open.way':
    '{name}: {value}, límite {limit}: no decidida. La decidiría: {way}, si el valor queda donde está.',
  'leave.open.suspect':
    '{name}: {value}, límite {limit}: no decidida. Las lecturas se contradicen más de lo debido; buscar primero la errónea.',
  'leave.open.nothing':
    '{name}: {value}, límite {limit}: no decidida. {times, plural, =0 {Nada de lo que aún puede leerse la decidiría} other {Solo # veces más pasadas la decidirían, y nadie lee tantas}}: ajustar el carril, o acordar el límite o la regla.',
  'leave.open.nothing-missing':
    '{name}: sin valor, y ninguna lectura en la máquina lo da. {why}',
  'leave.more': 'y {count} más',
  'leave.axis.vertical': 'altura',
  'leave.axis.horizontal': 'lateral',
  'leave.axis.along': 'a lo largo',
  'leave.axis.slope': 'pendiente',
  'leave.axis.span': 'ancho',

  'list.and': '{first} y {last}',
  'page.of': 'Página {page} de {pages}',
  'head.draft': 'borrador, no aprobado',
  'head.serial': 'n.º de serie {serial}',
  'title.machine': '{name}, n.º de serie {serial}',
  'title.unknown': 'Carriles de máquina, {job}',
  'title.report': '{kind} {report}',
  'validity.what-if': 'Supuesto',
  'validity.draft': 'Borrador: ni emitido ni aprobado (página 2)',
  'validity.issued': 'Emitido el {on} por {by}',

  'issued.without-approver': 'Emitido aunque no consta quién lo aprobó.',
  'issued.without-traceability':
    'Emitido aunque no constan el certificado o el vencimiento de la calibración de {instruments}: no se demuestra la trazabilidad de sus lecturas.',

  'fact.customer': 'Cliente',
  'fact.place': 'Lugar',
  'fact.issuer': 'Emitido por',
  'fact.read': 'Leído',
  'fact.rails': 'Carriles',
  'fact.limits': 'Límites',
  'fact.state': 'Estado',
  'fact.machine': 'Máquina',
  'fact.serial': 'N.º de serie',
  'fact.prepared': 'Elaborado',
  'fact.method': 'Edición del método',
  'fact.job': 'Trabajo',
  'fact.issuer-address': 'Dirección del emisor',
  'fact.customer-address': 'Dirección del cliente',
  'fact.revision': 'Revisión',
  'fact.procedure': 'Procedimiento',
  'fact.providers': 'Proveedores externos',
  'fact.software': 'Programa',
  'fact.simulation': 'Simulación',
  'fact.document': 'Documento',
  'read.by': '{days}, por {by}',
  'rail.datum': '{rail} (referencia)',
  'more.count': '{count} más',
  'limits.given': 'según el trabajo, sin documento citado',
  'limits.none': 'no se indica ningún límite',

  'verdict.conforms':
    '{rails, plural, one {El carril es conforme} other {Los carriles son conformes}}, {phase}.',
  'verdict.does-not-conform':
    '{rails, plural, one {El carril no es conforme} other {Los carriles no son conformes}}, {phase}.',
  'verdict.undecided':
    'Sin decidir: {open} de {all, plural, one {# característica} other {# características}}, {phase}.',
  'verdict.reported': 'Informado sin declaración de conformidad, {phase}.',

  'found.no-limit':
    'Ningún límite se aplica a lo que se midió. Los valores se informan tal como son.',
  'found.inside.guarded':
    '{all, plural, one {La única característica con límite está dentro, todo su intervalo del {coverage} incluido.} other {Las # características con límite están dentro, todo el intervalo del {coverage} incluido.}}',
  'found.inside.risk':
    '{all, plural, one {La única característica con límite está dentro, con el riesgo aceptado.} other {Las # características con límite están dentro, con el riesgo aceptado.}}',
  'found.inside.simple':
    '{all, plural, one {La única característica con límite está dentro.} other {Las # características con límite están dentro.}}',
  'found.counts.guarded':
    '{outside, plural, =0 {De {all} características, ninguna está fuera de su límite.} one {De {all} características, una está fuera de su límite con todo su intervalo.} other {De {all} características, # están fuera de su límite con todo su intervalo.}} {open, plural, =0 {} one {Una no está decidida: su intervalo rebasa el límite.} other {# no están decididas: el intervalo rebasa el límite.}} {inside, plural, =0 {} one {Una es conforme.} other {# son conformes.}}',
  'found.counts.simple':
    '{outside, plural, =0 {De {all} características, ninguna está fuera de su límite.} one {De {all} características, una está fuera de su límite.} other {De {all} características, # están fuera de su límite.}} {inside, plural, =0 {} one {Una es conforme.} other {# son conformes.}}',
  'found.missing':
    '{count, plural, one {Una no tiene valor: las lecturas no la determinan.} other {# no tienen valor: las lecturas no las determinan.}}',
  'before.counts':
    '{phase}, {outside, plural, =0 {ninguna era no conforme} one {una no era conforme} other {# no eran conformes}}{open, plural, =0 {} one {, una no estaba decidida} other {, # no estaban decididas}}.',
  'before.conformed': '{phase}, todas eran conformes.',
  'farthest.outside': 'La más alejada fuera: {name}: {figure}; límite {limit} (fila {row}).',
  'farthest.open': 'Rebasa más su límite: {name}: {figure}; límite {limit} (fila {row}).',
  'farthest.inside': 'La más próxima a su límite: {name}: {figure}; límite {limit} (fila {row}).',
  'figure.at': '{figure} en {at}',
  'figure.up-to': 'hasta {figure}',
  'rule.guarded':
    'Regla: aceptación con banda de guarda, JCGM 106: todo el intervalo del {coverage} dentro del límite; riesgo de aceptación errónea de {risk} como máximo.',
  'rule.risk':
    'Regla: aceptación con banda de guarda, JCGM 106: el extremo superior con el riesgo aceptado dentro del límite; riesgo de aceptación errónea de {risk} como máximo, unilateral.',
  'rule.simple':
    'Regla: aceptación simple, JCGM 106: el valor dentro del límite; el riesgo de aceptación errónea en un límite llega al 50 %.',

  'bars.caption': 'Tanto por ciento de cada límite.',
  'bars.judged': '{phase}: valor e intervalo del {coverage}',
  'bars.before': '{phase}',
  'bars.signs': '+ y −: extremos de un valor con signo',
  'bars.limit': 'límite',
  'bars.rest':
    '{count, plural, one {Una fila más está en la tabla 1} other {# filas más están en la tabla 1}}: {counts}. La primera llega al {share} de su límite.',
  'bars.alt': 'del {from} al {to} del límite',
  'head.characteristic': 'Característica, la más desfavorable primero',
  'head.where': 'Característica, y dónde se decide',
  'head.value': 'Valor',
  'head.interval': 'Intervalo del {coverage} o ± U',
  'head.at': 'Decidido en',
  'head.limit': 'Límite',
  'head.verdict': 'Conformidad',
  'head.guard': 'Banda de guarda',
  'head.risk': 'Riesgo máximo',
  'row.whole-rail': 'todo el carril',

  'next.title': 'Qué hacer a continuación (opinión)',
  'next.nothing.lead': 'No hay que ajustar nada',
  'next.nothing': '(sección {moves}).',
  'next.approve.lead': 'Aprobar y firmar',
  'next.approve': 'en la página 2. Hasta entonces este informe es un borrador.',
  'next.air.lead': 'En la próxima medición, {what}:',
  'next.air': 'es el mayor efecto que el intervalo no contiene.',
  'next.read.lead': 'Leer primero de nuevo.',
  'next.read': 'Más lecturas pueden decidir {rows}. La sección {moves} dice cuáles.',
  'next.missing.lead': 'Leer lo que falta',
  'next.missing': 'para {rows}. El anexo C dice qué lectura daría el valor.',
  'next.too-close.lead': 'Ajustar, o acordar el límite.',
  'next.too-close':
    'Ninguna lectura de este tipo decidiría {rows}: lo medido está demasiado cerca del límite.',
  'next.move.lead': 'Ajustar',
  'next.move': 'lo que enumera la sección {moves}. Nada más ha de ajustarse.',
  'next.survey.lead': 'Medir de nuevo.',
  'next.survey':
    '{rows} {count, plural, one {debería entonces ser conforme} other {deberían entonces ser conformes}}.',
  'next.survey.plain': 'Los límites solo se cumplen cuando una nueva medición lo dice.',
  'next.state-limits.lead': 'Indicar límites',
  'next.state-limits': 'en el trabajo, donde se quiera una declaración de conformidad.',
  'what.air': 'medir el aire a dos alturas',
  'what.air-sideways': 'medir el aire a ambos lados',
  'what.level-zero-along': 'leer desde un emplazamiento girado media vuelta',
  'what.level-zero-across': 'leer desde un emplazamiento girado media vuelta',
  'what.bow': 'anotar la temperatura de la cabeza y del pie de los carriles',
  'what.seating': 'indicar lo bien que asienta el blanco («seat»)',
  'what.cone': 'pedir que se indique el cono de los planos',
  'what.target-scale': 'pedir que se indique la escala de los blancos',
  'what.target-roll': 'pedir que se indique el giro de los blancos',

  'rests.title': 'En qué se apoya esto',
  'rests.not-in': 'Fuera del intervalo, pues nada se indicó de',
  'rests.size': 'Si vale',
  'rests.reading': 'una lectura cambia',
  'rests.turns': 'Una conformidad cambia con',
  'rests.turns.row': '{size}, fila {row}',
  'rests.turns.none': 'ninguna cambia',
  'rests.more': 'También fuera del intervalo: {effects}.',
  'rests.more.one': '{effect}, {reading}',
  'rests.all-stated': 'Todo efecto buscado está indicado y figura en el intervalo.',
  'effect.air': 'aire, más cálido arriba o abajo',
  'effect.air-sideways': 'aire, más cálido a un lado',
  'effect.level-zero-along': 'cero propio del nivel, a lo largo',
  'effect.level-zero-across': 'cero propio del nivel, a través',
  'effect.bow': 'cabeza más cálida que el pie, en aumento',
  'effect.seating': 'asiento de los blancos, aleatorio',
  'effect.cone': 'cono de los planos',
  'effect.target-scale': 'escala de los blancos',
  'effect.target-roll': 'giro de los blancos',
  'stations.lead': 'Estaciones.',
  'stations.all':
    'Se leyeron las {stations} estaciones {rails, plural, one {del carril} other {de los # carriles}}',
  'stations.some':
    'Se leyeron {read} de {stations} estaciones {rails, plural, one {del carril} other {de los # carriles}}; sin leer: {missing}. Lo dicho vale para las demás',
  'stations.readings':
    '{lead}; {readings, plural, one {una lectura} other {# lecturas}}, {spare, plural, =0 {ninguna más de las necesarias} one {una más de las necesarias} other {# más de las necesarias}}.',
  'stations.left-out':
    '{count, plural, =0 {No se apartó ninguna lectura.} one {Se apartó una lectura (anexo C).} other {Se apartaron # lecturas (anexo C).}}',
  'unseen.lead': 'Nada comprueba:',
  'unseen.turns': '{what}: un error no visto de {size} cambiaría la fila {row}',
  'unseen.moves': '{what}: ningún error no visto hasta 2 mm cambiaría una conformidad',
  'unseen.all': '{list}.',
  'unseen.none.lead': 'Enlaces.',
  'unseen.none': 'Todo enlace entre emplazamientos está comprobado por un segundo.',
  'unseen.single.lead': 'Enlaces.',
  'unseen.single': 'No hace falta ningún enlace entre emplazamientos.',
  'unseen.nothing.lead': 'Nada comprueba',
  'unseen.nothing':
    'lectura alguna: la redundancia es 0. Un error en cualquiera de ellas no se vería.',
  'confirmed.lead': 'Confirmado.',
  'confirmed.none': 'No hubo que confirmar nada a mano.',
  'confirmed.some':
    '{count, plural, one {Una cosa que parecía errónea fue confirmada por {by} (anexo C).} other {# cosas que parecían erróneas fueron confirmadas por {by} (anexo C).}}',
  'known.lead': 'Conviene saber.',

  'table1.caption':
    'Toda característica con límite, {phase}. Los números de fila son los de la figura 1.',
  'table1.together': 'Carriles en conjunto',
  'table1.note':
    '± es la incertidumbre expandida {expanded}. Un rango (rectitud, paralelismo, alabeo, coplanaridad) tiene un valor y un intervalo, que no tiene por qué rodearlo por igual: el ruido hace que un rango salga demasiado grande. De un valor con signo se dan ambos extremos, primero el más próximo a su límite. En: las estaciones que hacen el valor. Banda de guarda: cuánto debe estar el valor dentro de su límite para ser conforme. Riesgo: de aceptación errónea donde una fila es conforme, de rechazo erróneo (rech.) donde no lo es; el mayor que permite la demostración del intervalo.',
  'table1.figure1': 'En la figura 1 un valor con signo se mide desde el centro de su zona.',
  'risk.rejection': 'rech. {risk}',
  opinion: 'Esta sección es una opinión. Se sigue de los resultados y no forma parte de ellos.',
  'stations.caption':
    'Estaciones {phase}: desviación de la recta de mínimos cuadrados de cada carril, y altura respecto al carril de referencia, en {unit}, cada una ± U. + es hacia arriba o hacia la izquierda.',
  'stations.before':
    'Alturas y posiciones de todas las estaciones del primer estado: stations.csv, junto a este informe.',
  'stations.thinned':
    'De esta larga medición: los extremos, una de cada {nth} estaciones, y aquellas donde una desviación es máxima o mínima. Todas están en stations.csv.',
  'stations.signs': '–: no leído. n.d.: no determinado.',
  'trace.instrument':
    '{instrument}: las lecturas son trazables mediante el certificado {certificate}, {laboratory, select, none {laboratorio de calibración no registrado} other {emitido por {laboratory}}}{day, select, none {} other { el {day}}}.',
  'trace.none':
    '{instrument}: no consta ningún certificado; no se demuestra la trazabilidad de sus lecturas.',
  'end.report': 'Fin del informe {report}',

  'phase.as-found': 'antes del ajuste',
  'phase.as-left': 'después del ajuste',
  'verdict-word.conforms': 'conforme',
  'verdict-word.does-not-conform': 'no conforme',
  'verdict-word.undecided': 'sin decidir',
  'verdict-word.reported': 'sin tolerancia',
  'reference.least-squares': 'mínimos cuadrados',
  'reference.minimum-zone': 'zona mínima',
  'reference.end-points': 'puntos extremos',
  'axis.vertical': 'vertical',
  'axis.horizontal': 'horizontal',
  'axis.along': 'a lo largo',
  'rails.one': 'carril {rail}',
  'rails.to': 'carril {rail} respecto al carril {other}',
  'rails.to-datum': 'carril {rail} respecto a la referencia',
  'rails.both': 'carriles {other} y {rail}',
  'rails.and-datum': 'carril {rail} y la referencia',
  'rails.together': 'carriles {rails} en conjunto',
  'rails.any-two': 'dos cualesquiera de los carriles {rails}',
  'rails.list': 'carriles {rails}',
  'rails.pair': '{rail} / {other}',
  'condition.any': 'en {length} cualesquiera',
  'condition.between': 'entre {from} y {to}',
  'condition.from-to': 'de {from} a {to}',
  'side.convex': 'solo convexo',
  'side.hollow': 'solo cóncavo',
  'side.both': 'a ambos lados',
  'limit.at-most': 'como máximo {limit}',
  'limit.at-least': 'como mínimo {limit}',
  range: '{from} a {to}',
  characteristic: '{name}, {rails}',
  'characteristic.condition': '{name} ({condition}), {rails}',
  'figure.range': '{figure}, {from} a {to}',
  'not-recorded': 'no registrado',
  'not-determined': 'no determinado',
  'not-determined.why': 'no determinado: {why}',
  'not-read': 'no leído',
  'no-note': 'sin nota',
  'of-phase': '{phase}: {line}',
  row: 'fila {row}',
  rows: '{count, plural, one {la fila} other {las filas}} {rows}',
  'row.at': 'en {at}',
  'file-row': '{file}, fila\u00a0{row}',
  'the-job': 'el trabajo',
  'first.of': 'Los primeros {most} de {count}; todos están en results.json.',
  'first.of-each-phase': 'Los primeros {most} de cada estado; todos están en results.json.',
  'caption.table': 'Tabla\u00a0{n}\u2002{caption}',
  'caption.figure': 'Figura\u00a0{n}\u2002{caption}',
  'figure.1': 'Figura\u00a01',

  'kind.acceptance': 'Informe de aceptación',
  'kind.measurement': 'Informe de medición',
  'kind.what-if': 'Informe de supuesto',
  'title.acceptance': 'Informe de aceptación de la alineación de carriles {job}',
  'title.measurement': 'Informe de medición de la alineación de carriles {job}',
  'title.what-if': 'Informe de supuesto de la alineación de carriles {job}',
  software: '{name} {version}, método {method}',
  contents: 'Contenido',
  'contents.verdict': 'Conformidad',
  'section.results': '{n} Resultados',
  'section.figures': '{n} Figuras',
  'section.moves': '{n} Qué ajustar',
  'section.survey': 'Anexo {n} Emplazamientos e instrumentos',
  'section.stations': 'Anexo {n} Estaciones',
  'section.checks': 'Anexo {n} Comprobaciones',
  'section.method': 'Anexo {n} Método y datos de entrada',
  'statement.items':
    'Los resultados se refieren únicamente a los objetos medidos, en su estado en los días de medición. Este informe solo puede reproducirse íntegramente.',
  'statement.draft': 'Es un borrador hasta que se emita y se firme «Aprobado por».',
  amends: 'Este informe sustituye al informe {number}. Motivo: {because}',
  'amends.nothing': 'Ningún valor impreso y ninguna conformidad difiere de él.',
  'amends.more':
    '{count, plural, one {y # cambio más, enumerado} other {y # cambios más, enumerados}} en results.json.',
  'what-if':
    'Supuesto: este informe se juzga según {set, select, none {otro conjunto de tolerancias} other {el conjunto de tolerancias «{set}»}} en lugar {own, select, none {del trabajo, que no indica ninguna tolerancia} other {del propio del trabajo ({own})}}. No es un informe de aceptación ni sustituye a ninguno.',
  'limits.grade': 'clase {grade}',
  'limits.revision': 'revisión {revision}',
  'limits.based-on': 'basado en {sets}',
  'bars.rest.count': '{verdict}: {count}',
  'caution.overdue':
    'La calibración de {instruments} había vencido cuando se hicieron las lecturas (anexo A).',
  'caution.scatter':
    'Las lecturas {phase} se dispersan más de lo que explica la incertidumbre indicada de los instrumentos; por ello todas las incertidumbres son {times} veces mayores (anexo C).',
  'caution.suspects':
    '{count, plural, one {# lectura es sospechosa y se conservó} other {# lecturas son sospechosas y se conservaron}} (anexo C).',
  'caution.closures':
    '{count, plural, one {# lectura de cierre no cierra} other {# lecturas de cierre no cierran}} dentro de lo admitido (anexo A).',

  'sign.title': 'Firmas',
  'sign.caption': 'Firmado por',
  'sign.signed': 'Firmado',
  'sign.name': 'Nombre',
  'sign.role': 'Cargo',
  'sign.date': 'Fecha',
  'sign.signature': 'Firma',
  'sign.surveyed': 'Medido por',
  'sign.prepared': 'Elaborado por',
  'sign.approved': 'Aprobado por',
  'sign.issued': 'Emitido por',
  'sign.customer': 'Por el cliente',
  'sign.electronic':
    'Firmado electrónicamente por {subject}, certificado por {issuer}. La firma está en el archivo PDF, no en el papel: un lector de PDF que verifica firmas dice si el archivo no ha cambiado y de quién es.',

  'head.characteristic-plain': 'Característica',
  'head.verdict-detail': 'conformidad',
  'head.unit': 'Unidad',
  'head.phase': 'Estado',
  'table1.rail': '{rail}: {name}',
  'table1.undetermined':
    'No determinado: véase «Lo que las lecturas no determinan» en el anexo C, con la lectura que lo daría.',
  'rounds.caption': 'Estado por estado',
  'others.caption': 'Resultados sin límite, {phase}: a título informativo',
  nominal:
    'Se desean con una forma que da el trabajo: {rails}. Alturas, posiciones y desviaciones se cuentan desde ella.',
  'nominal.rail': 'carril {rail} ({planes})',
  growing: 'Los límites que crecen con la longitud se tomaron así: {parts}.',
  'growing.part': '{count, plural, one {fila} other {filas}} {rows} para {length}',
  signs: 'Signos: {notes}.',
  'signs.level': 'pendiente: + sube en el sentido de avance',
  'signs.height':
    'diferencia de altura y peralte: + el carril está más alto que el carril de referencia',
  'signs.span': 'ancho: + mayor que el nominal',
  'signs.joint':
    'juntas: + la parte posterior a la junta está más alta o más a la izquierda, sube más o gira más a la izquierda',
  'signs.rate': 'tasa de variación: + sube, o gira a la izquierda, en el sentido de avance',
  'signs.squareness': 'perpendicularidad: + el ángulo de lo largo a lo ancho es mayor de 90°',

  'head.station-short': 'Est.',
  'head.along': 'A lo largo',
  'head.across': 'A través',
  'station.up': '{rail}: arriba',
  'station.left': '{rail}: izda.',
  'station.ahead': '{rail}: adelante',
  'station.above': '{rail} sobre {datum}',
  'station.open': 'n.d.',

  'survey.no-setups':
    'Leído sin emplazamientos de un haz: con nivel, autocolimador o distancia de estación a estación.',
  'survey.conditions': 'Condiciones',
  'head.setup': 'Emplazamiento',
  'head.instrument': 'Instrumento',
  'head.level-plane': 'Plano de nivel',
  'head.positive': 'Una lectura positiva significa',
  'head.note': 'Nota',
  'setup.levelled': 'nivelado',
  'setup.not-levelled': 'sin nivelar',
  'way-of.up': 'arriba',
  'way-of.down': 'abajo',
  'way-of.left': 'izquierda',
  'way-of.right': 'derecha',
  'way-of.ahead': 'adelante',
  'way-of.back': 'atrás',
  'setups.caption': 'Dónde estuvo el instrumento',
  'stood.caption': 'Cuánto se apartó cada haz de su dirección ideal',
  'stood.why': '{angle} de {setup}: {why}',
  'stood.note':
    'Guiñada: girado a la izquierda o a la derecha de la recta de mínimos cuadrados del carril {datum}. Cabeceo: sube o baja en el sentido de avance. Balanceo: qué lado queda arriba, mirando en ese sentido. La solución tiene en cuenta los tres; importan porque el error de un blanco crece al alejarse de su centro. ± es {expanded}.',
  'angle.yaw': 'guiñada',
  'angle.pitch': 'cabeceo',
  'angle.roll': 'balanceo',
  'head.yaw': 'Guiñada',
  'head.pitch': 'Cabeceo',
  'head.roll': 'Balanceo',
  'head.readings': 'Lecturas',
  'head.largest': 'Mayor lectura, del alcance del blanco',
  'turned.yaw.plus': '{size} izquierda',
  'turned.yaw.minus': '{size} derecha',
  'turned.pitch.plus': '{size} sube',
  'turned.pitch.minus': '{size} baja',
  'turned.roll.plus': '{size} izquierda arriba',
  'turned.roll.minus': '{size} derecha arriba',
  largest: '{axis} {reading} de {range}, {share}',
  'largest.near-end': '{axis} {reading} de {range}, {share}: cerca del final',
  'largest.no-range': '{axis} {reading}; alcance no registrado',
  'share.under-1': 'menos del 1\u00a0%',
  'drift.caption': 'Deriva de los planos mientras se leían',
  'drift.note':
    'La solución tiene en cuenta las tasas. + el plano de luz se movió hacia arriba, hacia la izquierda o hacia delante.',
  'drift.significant': 'significativa',
  'drift.small': 'demasiado pequeña para distinguirla de cero',
  'head.plane': 'Plano',
  'head.rate': 'Tasa',
  'head.against-u': 'Frente a su incertidumbre',
  'plane.vertical': 'plano de nivel',
  'plane.horizontal': 'plano longitudinal',
  'plane.along': 'plano transversal',
  'ties.caption': 'Cómo se enlazaron los emplazamientos',
  'ties.note':
    'Diferencia: el emplazamiento posterior menos el anterior; dirección + girada a la izquierda, altura + más alta. El valor común de las lecturas no transfiere nada; solo su diferencia lo hace.',
  'tie.direction': 'dirección',
  'tie.height': 'altura',
  'head.carried': 'Transferido',
  'head.from-to': 'De – a',
  'head.by': 'Mediante',
  'head.baseline': 'Base',
  'head.difference': 'Diferencia y su U',
  'closures.caption': 'Vueltas al mismo punto',
  'closures.note':
    'Cierre: última lectura menos primera, tal como se leyó, con su signo. Admitido: lo que explica la incertidumbre indicada al {coverage}.',
  'closures.drift':
    'Por deriva: lo que las tasas halladas hacen del cierre; el resto se compara con lo admitido.',
  'closures.cut':
    'Los {most} mayores de cada estado, frente a lo admitido; todos están en results.json.',
  'head.point-target': 'Punto, blanco',
  'head.axis': 'Eje',
  'head.looks': 'Primera y última visual',
  'head.closure': 'Cierre',
  'head.by-drift': 'Por deriva',
  'head.allowed': 'Admitido',
  'head.result': 'Resultado',
  'result.exceeded': 'superado',
  'result.within': 'cumplido',
  'times.not-recorded': 'horas no registradas',
  'loops.caption': 'Bucles de pasos de nivel',
  'loops.note':
    'Cierre: lo que suman los pasos alrededor del bucle. Admitido: lo que explica la incertidumbre indicada al {coverage}, todos los bucles juntos.',
  'loops.cut':
    'Los {most} de cada estado que peor cierran; más están en results.json.',
  'head.loop': 'Bucle',
  'head.steps': 'Pasos',
  'instruments.caption': 'Instrumentos',
  'head.description': 'Descripción',
  'head.certificate': 'Certificado',
  'head.due': 'Vencimiento de calibración',
  'head.stated-u': 'Incertidumbre típica indicada (k\u00a0=\u00a01)',
  'due.no-days': 'los días de medición no constan',
  'due.overdue': 'vencido: había caducado cuando se hicieron las lecturas',
  'claim.reading': 'lectura {u}',
  'claim.reading-display': 'lectura {u}, con su indicación de {display} incluida',
  'claim.per-distance': 'con {size} por {unit} de distancia',
  'claim.level': 'nivelación {u}',
  'claim.square': 'plano transversal {u}',
  'claim.drift': 'deriva {u} por hora',
  'claim.range': 'alcance ±{range}',
  'fact.temperature': 'Temperatura',
  'fact.surveyed': 'Medido',
  'fact.approved': 'Aprobado',
  'fact.report': 'Informe',
  'phase.surveyed': 'medido por {by}',
  'phase.machine': 'máquina: {state}',
  'phase.instruments': 'instrumentos {list}',
  differs:
    'Los estados no se midieron en las mismas condiciones; un cambio entre ellos puede deberse a eso. {parts}',
  'differs.machine': 'Máquina: {list}',
  'differs.temperature': 'Temperatura: {list}',
  'differs.instruments': 'Instrumentos: {list}',
  'differs.phase': '{phase} {text}',

  'fit.readings':
    '{readings, plural, one {# lectura} other {# lecturas}}{priors, plural, =0 {} one { y # valor conocido antes de la medición (nivelación, perpendicularidad o deriva)} other { y # valores conocidos antes de la medición (nivelación, perpendicularidad o deriva)}}, para {unknowns, plural, one {# incógnita} other {# incógnitas}}{open, plural, =0 {} one { (# de ellas fijada por convenio)} other { (# de ellas fijadas por convenio)}}; redundancia {redundancy}.',
  'fit.unchecked':
    'Ninguna lectura está comprobada por otra: un error en cualquiera de ellas no se vería.',
  'fit.sigma':
    'σ₀\u00a0=\u00a0{sigma}, donde 1 significa que las lecturas se dispersan exactamente como dice la incertidumbre indicada de los instrumentos.{chance, select, none {} other { Solo por azar, {chance} se dispersarían más.}}',
  'fit.widened':
    'Eso es más de lo que explica el azar al 1 %, así que toda incertidumbre e intervalo de este estado se multiplica por {scale}.',
  'fit.kept':
    'Las incertidumbres indicadas se mantienen; nunca se reducen.{times, select, none {} other { Lecturas {times} veces más ruidosas de lo indicado se notarían en 95 de cada 100 mediciones así; menos puede pasar, y los intervalos son entonces demasiado estrechos en la misma medida.}}',
  'fit.suspects':
    '{count, plural, =0 {Ninguna lectura es sospechosa (prueba de Baarda, α\u00a0=\u00a00,001).} one {# lectura es sospechosa (prueba de Baarda, α\u00a0=\u00a00,001); véase abajo.} other {# lecturas son sospechosas (prueba de Baarda, α\u00a0=\u00a00,001); véase abajo.}}',
  'chance.hardly': 'menos de 1 de cada {surveys} mediciones',
  'chance.nearly-all': 'más del {share} de las mediciones',
  'chance.one-in': 'aproximadamente 1 de cada {surveys} mediciones',
  'chance.share': 'el {share} de las mediciones',
  'groups.likeliest':
    'Causa más probable: {what}{others, select, none {} other { o, lo que las lecturas no distinguen de ella, {others}}} (si se admite, χ² baja en {fall}).',
  'groups.innocent':
    '{left, plural, =0 {Todas las lecturas sospechosas lo son} other {{innocent} de las {all} lecturas sospechosas lo son}} solo por ella.',
  'ties.moves': '{name} del carril {rail} en {by}',
  'ties.unchecked':
    'Nada comprueba: {ties}. Un error de {size} en uno de ellos no se vería y cambiaría {moves}.',
  'ties.smallest':
    'Menor error que se vería (α\u00a0=\u00a00,001, potencia 0,80): {list}.',
  'ties.shows': '{tie}, {size}',
  'left-out.none':
    'No se apartó ninguna lectura: el programa nunca aparta ninguna, y nadie marcó ninguna.',
  'left-out.some':
    'El programa no apartó ninguna lectura. Una lectura solo la aparta una persona, que marca su fila y anota el motivo; esas filas se enumeran abajo.',
  'confirmed.title': 'Parecía erróneo y se confirmó',
  'confirmed.line': '{message} Confirmado por {by}: {because}',
  'undetermined.title': 'Lo que las lecturas no determinan',
  'undetermined.line': '{names}: {why}',
  'suspects.caption': 'Lecturas sospechosas',
  'suspects.note':
    'Residuo: lectura menos solución, tal como se leyó, con su signo. Normalizado: el residuo dividido por su propia incertidumbre típica. Ninguna se apartó; mirar la fila, la nota y el blanco antes de decidir.',
  'suspects.twins':
    '= no se distingue de la de arriba: cualquiera de las dos puede ser la errónea.',
  'prior-value': 'valor conocido antes',
  'head.file-row': 'Archivo y fila',
  'head.reading': 'Lectura',
  'head.residual': 'Residuo',
  'head.standardised': 'Normalizado',
  'repeatability.caption':
    'Repetibilidad de las lecturas hechas más de una vez, junto a lo que declara el instrumento',
  'head.deviation': 'Desviación típica',
  'head.stated': 'u indicada',
  'head.freedom': 'Grados de libertad',
  'excluded.caption': 'Lecturas apartadas por una persona',
  'head.as-it-was': 'Lectura tal como era',
  'warnings.caption': 'Advertencias',
  'warnings.where': 'Dónde',
  'warnings.what': 'Qué',
  'lacking.where': 'nombres y notas',
  lacking:
    'A la fuente incluida le faltan: {characters}. En su lugar puede haber recuadros o letras de otra fuente.',

  'method.meanings': 'Qué son las características',
  'method.solution': 'Solución',
  'method.solution.text':
    'Todas las lecturas de un estado se resuelven juntas por mínimos cuadrados ponderados, cada una con la incertidumbre indicada para su instrumento; las alturas y posiciones de las estaciones, la orientación de cada haz y los desfases propios de los blancos son igualmente incógnitas. Cada estado se resuelve por separado.',
  'method.rule': 'Regla de decisión',
  'rule.open': 'Sin decidir queda solo lo que las lecturas no determinan.',
  'rule.band': 'La banda de guarda es de {band} U.',
  'rule.rejection':
    'Una fila no es conforme si su extremo inferior está fuera; el riesgo de rechazo erróneo es entonces de {risk} como máximo. Entre ambos queda sin decidir. El riesgo de una fila de la tabla 1 es el menor nivel al que la misma demostración todavía la decide.',
  'rule.signed':
    'Un valor con signo se juzga por su distancia al centro de su zona; con límites a ambos lados decide el extremo más próximo a su propio límite.',
  'method.signs': 'Signos',
  'method.signs.text':
    'Mirando en el sentido de avance: + posición es a la izquierda, + altura es arriba. + cabeceo sube a lo largo, + balanceo sube hacia la izquierda, + guiñada gira a la izquierda.',
  'method.lines': 'Rectas de referencia',
  'method.lines.text':
    'Mínimos cuadrados: la suma de los cuadrados de las desviaciones es mínima. Zona mínima: la franja más estrecha que contiene todas las estaciones. Puntos extremos: por la primera y la última estación. La rectitud no depende de lo nivelado que esté el carril.',
  'method.uncertainty': 'Incertidumbre',
  'method.uncertainty.text':
    'u es una incertidumbre típica (k\u00a0=\u00a01), {expanded} una expandida, con una cobertura de aproximadamente el {coverage}. El intervalo de cobertura contiene el valor verdadero al menos tan a menudo como se indica, sea cual sea la forma del carril, mientras las lecturas no se dispersen más de lo indicado aquí; no dice nada de errores que ninguna lectura ni incertidumbre indicada muestre. Su extremo superior es el mayor que lee cualquier par de lugares, con la incertidumbre propia de ese par; su extremo inferior tiene en cuenta lo que el azar hace de todos los lugares que pueden ser los extremos. Donde muchos lugares están casi igual de lejos, cubre más a menudo de lo indicado.',
  'method.rounding': 'Redondeo',
  'method.rounding.text':
    'La conformidad se decide con valores sin redondear. Al imprimir, una incertidumbre tiene dos cifras significativas (redondeada hacia arriba donde el redondeo al más próximo la reduciría en más del 2,5 %) y un valor tantos decimales como su incertidumbre; solo se imprimen más donde menos ocultarían a qué lado de un límite está un valor.',
  'method.curvature': 'Curvatura de la Tierra',
  curvature:
    'Un haz es recto, una superficie de nivel no lo es. En {length}, el carril más largo, se separan {middle} en el centro de una cuerda, o {end} en el otro extremo de una recta que parte horizontal. {corrected, select, true {Lo que sigue la superficie de nivel se corrigió por ello: las alturas se dan desde una recta.} other {No se corrigió nada por ello.}}',
  'method.effects': 'Aire, cono, blancos',
  'effects.physics':
    'La luz se curva hacia el aire más frío con la curvatura k/R, k = 503·(p/T²)·(0,0343 + dT/dh) (p en hPa, T en K, dT/dh en K/m; R el radio de la Tierra), en la mitad de la curvatura por el cuadrado de la distancia; un cono añade su ángulo por la distancia, una escala su parte de la lectura, un giro su ángulo por la lectura del otro plano. Repetir pasadas solo promedia el asiento.',
  'effects.stated':
    'En los intervalos, como incógnitas con lo que de ellas se indica: {list}{more, plural, =0 {} other {; y # más en results.json}}.',
  'effects.found': '{effect}: indicado a {stated}, hallado a {found} de ello',
  'effects.of':
    '{kind, select, air {aire, } cone {cono, } other {}}{of}{setup, select, none {} other { de {setup}}}',
  'effects.unstated': 'Fuera de los intervalos, porque el trabajo no indica nada de ello: {list}.',
  'effects.would':
    '{source}: {size} añadiría hasta {reading} ({at}){holds, select, none {} other {, y las conformidades valen hasta {holds}}}',
  'source.air': 'un gradiente de temperatura del aire, más cálido arriba o abajo',
  'source.air-sideways': 'un gradiente de temperatura del aire, más cálido a un lado',
  'source.cone': 'un cono de los planos barridos',
  'source.target-scale': 'un error de escala de los blancos',
  'source.target-roll': 'un giro de los blancos',
  'source.level-zero-along': 'el cero propio del nivel, en su dirección',
  'source.level-zero-across': 'el cero propio del nivel, a través de su dirección',
  'source.bow': 'una parte superior de la máquina que se calienta más que su pie durante la medición',
  'source.seating': 'el asiento de los blancos, que difiere de una vez a otra',
  'method.span': 'Longitud a 20 °C',
  'span.reduced':
    'Las distancias transversales se redujeron a 20\u00a0°C desde {from}, con una dilatación de {machine} para la máquina y {instrument} para el instrumento.',
  'span.as-measured':
    'Las distancias transversales se dan como se midieron, sin reducir a 20\u00a0°C.',
  'method.bow': 'Cabeza caliente, pie frío',
  bow: 'Carril {rail}: una cabeza {kelvin} {side, select, colder {más fría} other {más cálida}} que el pie {way, select, none {no lo curvaría por sí sola} up {lo curvaría por sí sola {bow} hacia arriba en el centro} other {lo curvaría por sí sola {bow} hacia abajo en el centro}}.',
  'bow.nothing': 'No se corrigió nada por ello.',
  'method.carriage': 'El carril, no el carro',
  'method.carriage.text':
    'Los valores describen los carriles en las estaciones leídas, no el movimiento de un carro sobre ellos, ni el carril entre las estaciones.',
  simulation: '{draws} simulaciones, semilla {seed}',
  'inputs.caption': 'Archivos de entrada.',
  'inputs.file': 'Archivo, y cómo se leyó',
  'inputs.bytes': 'Bytes',
  'inputs.again':
    'Todo valor se remonta a celdas: «waysheet trace» con este PDF y una característica enumera cada lectura con su peso; peso por lectura, sumados, es el valor. El PDF lleva dentro estos archivos y results.json: cualquier lector de PDF los muestra como adjuntos y los guarda. «waysheet audit» con el PDF, o con la carpeta en que se emitió, recalcula cada valor a partir de ellos, imprime de nuevo las páginas y nombra cada diferencia. Los mismos datos de entrada dan los mismos resultados hasta la última cifra.',

  'need.none': 'Toda tolerancia se cumple: no hay que ajustar nada.',
  'need.outside': 'Fuera del límite: {names}. Medir de nuevo tras los ajustes.',
  'need.open': 'Sin demostrar en un sentido ni en otro: {names}. Medir de nuevo tras los ajustes.',
  'need.missing':
    'Lo que está sin decidir no se determinó: de ello no se sigue ningún ajuste. Leer primero lo que falta.',
  'need.no-limit':
    'Ninguna tolerancia dice cuánto puede quedar: estos ajustes dejarían los carriles rectos y nivelados.',
  brief: '{names}; y {more} más',
  'moves.intro':
    'De las lecturas {phase}. Mirando en el sentido de avance: + subir o hacia la izquierda, − bajar o hacia la derecha.',
  'moves.leave': '«dejar»: un ajuste no superaría su propia incertidumbre, {expanded}.',
  'moves.safety': 'Antes de ajustar nada',
  'move.raise': 'subir',
  'move.lower': 'bajar',
  'move.left': 'izquierda',
  'move.right': 'derecha',
  'move.ahead': 'adelante',
  'move.back': 'atrás',
  'move.leave': 'dejar',
  'move.amount': '{arrow} {word} {amount}',
  'head.station': 'Estación',
  'head.adjuster': 'Ajustador',
  'head.move': 'Ajuste',
  'head.how': 'Cómo',
  'head.asked': 'Pedido',
  'head.did': 'Hecho',
  'head.says': 'Qué dice eso',
  'head.end': 'Extremo del carril',
  'head.height': 'Altura',
  'head.sideways': 'Lateral',
  'head.of-rail': 'carril',
  'head.of-station': 'estación',
  'plan.needed': 'Lo que exige la conformidad',
  'plan.adjusters': 'Ajustadores',
  'plan.all-hold':
    'Tras estos ajustes se espera que se cumpla toda tolerancia; medir de nuevo.',
  'plan.still-open': 'Tras estos ajustes todavía es de esperar: {list}.',
  'plan.expected': '{name} {verdict}',
  'plan.or':
    'O, en su lugar, cada estación adonde se desea, como abajo: no ambas cosas.',
  'ends.caption': 'Cada carril en su conjunto',
  'ends.datum': '{rail}, para quedar a nivel, alrededor de su centro',
  'ends.other': '{rail}, para quedar a nivel con el carril {datum} y paralelo a él',
  'ends.note': 'Entre los extremos en proporción. ± es {expanded} de la estación extrema.',
  'ends.others':
    'Los demás vienen al carril {datum} tal como está; si este se ajusta, se ajustan otro tanto.',
  'ends.untied':
    'No se midió la distancia transversal: los ajustes laterales giran un carril alrededor de su centro.',
  'ends.first': 'Primer extremo, estación {station}, a lo largo {place}',
  'ends.last': 'Último extremo, estación {station}, a lo largo {place}',
  'ends.leave': 'dejar (U\u00a0=\u00a0{u})',
  'ends.raise': 'subir {amount}',
  'ends.lower': 'bajar {amount}',
  'ends.left': 'desplazar a la izquierda {amount}',
  'ends.right': 'desplazar a la derecha {amount}',
  'ends.ahead': 'adelante {amount}',
  'ends.back': 'atrás {amount}',
  'points.caption': 'Cada estación adonde se desea',
  'points.note':
    'La cifra junto a la palabra es el ajuste entero, con su signo; «carril» y «estación» son las partes que lo suman: el carril en su conjunto a su recta, y la estación a la recta del carril.',
  'points.bold': 'Las estaciones en negrita están entre las que exige la conformidad.',
  'points.cross':
    'En un carril transversal la posición es la transversal, y lateral es adelante (+) o atrás (−).',
  'points.cut':
    'De {count} estaciones se imprimen las {printed} más alejadas; todos los ajustes, con su signo, están en stations.csv.',
  'done.caption': 'Pedido tras la primera medición, y hecho hasta la última',
  'done.note':
    'Lo que el carril hizo en un ajustador se conoce salvo un desplazamiento y un giro del carril en su conjunto; se toman de modo que la mayoría de los ajustadores hicieran lo pedido.',
  'done.response':
    'Un ajuste resultó con un {share}\u00a0% de sí mismo (incertidumbre típica, de {moves} ajustes); lo que se planifique después lo tiene en cuenta.',
  'says.as-asked': 'como se pidió',
  'says.too-little':
    'menos de lo pedido: ¿cede el apoyo, o no se giró tanto el tornillo?',
  'says.too-much': 'más de lo pedido',
  'says.not-moved': 'sin ajustar',
  'says.not-asked':
    'se movió aunque aquí no se pidió nada: ¿lo arrastra el ajustador vecino?',
  'says.turned-the-wrong-way': 'en el otro sentido: ¿se giró el tornillo al revés?',
  'says-short.as-asked': 'como se pidió',
  'says-short.too-little': 'de menos',
  'says-short.too-much': 'de más',
  'says-short.not-moved': 'sin ajustar',
  'says-short.not-asked': 'no pedido',
  'says-short.turned-the-wrong-way': 'girado al revés',
  'safety.energy.lead': 'Energía almacenada.',
  'safety.energy':
    'Parar, aislar, bloquear y etiquetar los accionamientos y cualquier otra alimentación; descargar o bloquear hidráulica, aire, muelles y masas elevadas; comprobar que nada se mueve antes de meter las manos.',
  'safety.loads.lead': 'Cargas apoyadas y aplastamiento.',
  'safety.loads':
    'Los gatos y tornillos de nivelación mueven una carga, no la sujetan: calzar sobre la marcha, mantener manos y pies fuera de todo hueco, y nadie debajo ni en medio.',
  'safety.laser.lead': 'Láser y ojos.',
  'safety.laser':
    'Conocer la clase de la etiqueta del instrumento. No mirar al haz ni a su reflejo en un carril brillante; mantenerlo lejos de la altura de los ojos y apagarlo cuando no se lee.',
  'safety.who.lead': 'Quién puede hacerlo.',
  'safety.who':
    'El procedimiento del fabricante de la máquina, los reglamentos locales y las normas de trabajos con licencia (izado, electricidad, estructura) van antes que esta página.',
  'safety.one-way.lead': 'Solo en un sentido.',
  'safety.one-way':
    'Un gato solo levanta y un tornillo solo empuja: aflojar lo que se opone a un tornillo antes de que empuje, y después calzar y fijar.',
  wanted: 'Se desea: {wanted}.',
  'wanted.margin': 'Se desea: {wanted}, y el {margin} de cada límite queda sin usar.',
  'wanted.fewest-moves':
    'que se cumpla toda tolerancia, incertidumbre incluida, con los menos ajustes',
  'wanted.level-and-straight': 'carriles nivelados y rectos',
  'wanted.straight': 'carriles rectos, con la pendiente que tienen',
  'wanted.parallel-to-datum': 'carriles paralelos al carril de referencia tal como está',
  'wanted.datum-stays': 'La referencia, carril {rail}, se queda.',
  'status.impossible': 'Ninguna lista de ajustes lo logra: {missed}.',
  'status.nearest': 'Estos ajustes son los que más se acercan.',
  'status.nothing': 'No hay que ajustar nada.',
  'status.not-found': 'La búsqueda no lo encontró: {why}.',
  'status.ended': 'La búsqueda terminó en su límite; puede existir una lista más corta.',
  'status.ended-by':
    'La búsqueda terminó en su límite; puede existir una lista más corta, en un {gap} como máximo.',
  missed: '{name} supera su límite en {by}',
  'missed.coarse':
    '{name} supera su límite en {by}, y por lejos que llegaran, ajustadores separados {apart} dejan {leaves}: son más bastos que la forma',
  'rounds.coarse':
    'Estos ajustes son grandes para el alcance de los blancos. Hacer primero el {share} de cada uno, medir de nuevo y planificar el resto con esa medición.',
  'rounds.several':
    'Donde hay más de una vuelta, recorrer en cada vuelta todos los lugares del carril, cada uno en una parte igual: así el carril se dobla lo menos posible. Las galgas entran enteras en la primera vuelta.',
  'turns.under': 'menos de 1/16 de vuelta ({degrees})',
  turns: '{number} {count, plural, one {vuelta} other {vueltas}}',
  'turns.degrees': '{number} {count, plural, one {vuelta} other {vueltas}} ({degrees})',
  'shims.add': 'añadir {sheets}',
  'shims.take': 'quitar {sheets}',
  'force.more': '{force} más',
  'force.less': '{force} menos',
  'how.own-means': 'con los medios de la máquina',

  'sheet.page': 'página {page} de {pages}',
  'sheet.title': 'Hoja de ajuste {number}',
  'sheet.survey': 'medición del {day}',
  'sheet.is-draft': 'borrador',
  'sheet.draft': '{number} (borrador)',
  'sheet.stale':
    'De la medición {day, select, none {de un día no registrado} other {del {day}}}. Si la máquina se midió o ajustó después, no usar esta hoja. Los ajustes son los del informe {number}, en el mismo orden y con los mismos números.',
  'sheet.sketch': 'Lleno: se ajusta. Vacío: queda. Flechas y cantidades en {unit}.',
  'sketch.datum': '{rail}, referencia',
  'sketch.alt': 'Plano de la máquina con {count} lugares que se ajustan',
  'sheet.safe': '1 Asegurar',
  'sheet.dial': '2 Primero poner el reloj comparador',
  'sheet.dial.text':
    'Poner el reloj comparador sobre el carril en el lugar, sobre un pie que no se mueva con él. Ponerlo a 0. Tras el ajuste debe marcar la cantidad de abajo: decide el comparador, no la vuelta del tornillo.',
  'sheet.move': '3 Ajustar, en este orden',
  'sheet.no': 'N.º',
  'sheet.place': 'Lugar',
  'sheet.along': 'A lo largo, {unit}',
  'sheet.direction': 'Sentido',
  'sheet.amount': 'Cantidad',
  'sheet.initials': 'Iniciales, hora',
  'sheet.round': 'Vuelta {n}',
  'sheet.dial-to': 'reloj a {amount}',
  'whole.title':
    '{step}  {rail}, en su conjunto: {first} en el primer extremo, {last} en el último, en proporción entre ambos',
  'whole.end': '{word} {amount}',
  'single.title': 'Lugares sueltos',
  'sheet.again': '4 Medir de nuevo',
  'sheet.again.text':
    'Nivelar el instrumento y ponerlo de nuevo a 0 antes de la siguiente lectura. Se espera tras estos ajustes:',
  'sheet.tolerance': 'Tolerancia',
  'sheet.expected': 'Esperado ± U',
  'sheet.to-read': 'No hace falta un ajuste sino una lectura para:',
  'to-read': '{name} no está medido',
  'sheet.done': 'Todos los ajustes hechos y la máquina liberada:',
  'sheet.sides':
    'Izquierda y derecha son las de quien mira en el sentido de avance. Dar la última vuelta de cada tornillo en el sentido de su flecha: si se pasó, retroceder bastante y volver a entrar.',
  'sheet.force':
    '«kN más» o «kN menos»: en tanto cambia la fuerza sobre el apoyo cuando el carril se dobla a su nueva línea. Donde aumenta, cuidar de que el apoyo pueda soportarla.',
  'sheet.response':
    'Se espera que cada ajuste resulte dentro del {share} de su cantidad (incertidumbre típica; {source, select, assumed {supuesta, práctica común} stated {indicada en el trabajo} other {de {moves} ajustes anteriores de esta máquina}}).',
  'sheet.least': 'No se piden ajustes de menos de {size}.',

  'figure.interval': '{coverage}: {from} a {to}',
  'figure.limits': 'límites {from} a {to}',
  'figure.limits-both': 'límites ± {limit}',
  'figure.limit': 'límite {limit}',
  'figure.limit-wide': 'límite {limit} de ancho',
  'axis-title.stations': 'estación, de {from} a {to}',
  'axis-title.along': 'a lo largo, {unit}',
  'axis-title.across': 'a través, {unit}',
  'chart.point': '{station}: {figure} {phase}',
  'chart.expected': 'esperado',
  'chart.now': 'ahora',
  'chart.after-moves': 'Esperado tras los ajustes: {title}',
  'chart.ghost': 'A trazos, con rombos: {phase}.',
  'chart.ghost-cut': 'A trazos, con rombos: {phase}, cortado donde sale de esta escala.',
  'chart.done.title': 'Qué se pidió a los ajustadores, y qué hicieron',
  'chart.done.caption':
    'Rombos: pedido. Puntos con su incertidumbre: lo que hizo allí el carril. + hacia arriba o hacia la izquierda.',
  'chart.done.alt': 'Diagrama de puntos, en {unit}. {list}.',
  'chart.done.one': '{adjuster}: pedido {asked}, hecho {did}, {says}',
  'chart.done.axis': 'ajuste, {unit}',
  'budget.title': 'De dónde viene la incertidumbre',
  'budget.caption':
    'Parte de cada fuente en la varianza de cada característica, en tanto por ciento.',
  'budget.alt': 'Tabla de partes. {list}.',
  'budget.mostly': '{what}: sobre todo {source}, {share} %',
  'budget.readings': 'lecturas',
  'budget.distance': 'distancia',
  'budget.level': 'nivelación',
  'budget.direction-carry-over': 'transfer.,|dirección',
  'budget.height-carry-over': 'transfer.,|altura',
  'budget.target-assemblies': 'blancos',
  'budget.drift': 'deriva',
  'budget.air': 'aire',
  'budget.cone': 'cono',
  'budget.target-scale': 'escala de|blancos',
  'budget.target-roll': 'giro de|blancos',
  'budget.seating': 'asiento',
  'budget.rail-tilt': 'inclinac.|del carril',
  'budget.temperature': 'temperat.',
  'residuals.title': 'Residuos',
  'residuals.title-phase': 'Residuos, {phase}',
  'residuals.heading': 'residuo entre su incertidumbre típica',
  'residuals.axis': 'lecturas, en el orden de sus archivos',
  'residuals.stated': 'indicado',
  'residuals.from': 'desde {setup}',
  'residuals.count':
    '{out, plural, =0 {Ninguna lectura está fuera de los límites} one {# de {all} lecturas está fuera de los límites} other {# de {all} lecturas están fuera de los límites}}',
  'residuals.caption':
    'Punteado: los límites de la prueba de errores groseros, ± {bound}. {count}.',
  'residuals.thinned': 'De las que están dentro de ± 2 se dibuja una de cada {step}.',
  'residuals.alt':
    'Diagrama de dispersión. {title} de {all} lecturas, cada uno entre su incertidumbre típica, de {least} a {greatest}. {count}{worst, select, none {} other {: {worst}}}.',
  'overview.title': 'Todos los carriles, cada uno desde su propia recta de mínimos cuadrados',
  'overview.heading':
    'desde la recta de mínimos cuadrados del carril, {unit}; + arriba, izquierda o adelante',
  'overview.panel': '{rail}, {plane}',
  'overview.height': 'altura, {rail}',
  'overview.offset': 'lateral, {rail}',
  'overview.range': '{name}: {from} a {to}',
  'overview.caption': 'Una escala para todos.',
  'overview.alt': 'Pequeños diagramas de líneas. {title}, en {unit}. {ranges}.',
  'differences.title': 'Todos los carriles respecto al {rail}',
  'differences.heading':
    'desde el {rail} en la misma posición a lo largo, {unit}; + más alto o más a la izquierda',
  'machine.title': 'La máquina',
  'machine.above':
    'Arriba: los carriles desde arriba; la izquierda está arriba, mirando a lo largo; a través no está a escala.',
  'machine.diamonds': 'Rombos: estaciones que deciden lo no conforme o sin decidir.',
  'machine.squares': 'Cuadrados: ajustadores por ajustar.',
  'machine.triangles': 'Triángulos: emplazamientos. El carril de referencia es más oscuro.',
  'machine.below': 'Abajo: alturas {phase}, desde la media del carril de referencia.',
  'machine.from-above': 'desde arriba',
  'machine.heights': 'altura {phase}, {unit}',
  'machine.point': '{station}: {along}, {across} a lo largo y a través',
  'machine.height': '{station}: altura {figure} {phase}',
  'machine.open-rail': '{rail}: {list}',
  'machine.alt':
    '{elevation, select, true {Planta y alzado} other {Planta}} de la máquina. {rails}; {setups, plural, one {# emplazamiento} other {# emplazamientos}}. {open, select, none {Nada es no conforme ni queda sin decidir} other {{open}}}.{decided, select, none {} other { Decidido en {decided}.}}',
  'machine.alt.rail': '{rail} con {stations, plural, one {# estación} other {# estaciones}}',
  'machine.alt.datum':
    '{rail} con {stations, plural, one {# estación} other {# estaciones}}, la referencia',
  'profile.alt': 'Diagrama de líneas. {title}. {outcome}.',
  'profile.decided': 'Decidido en {at}: {verdict}.',
  'profile.compared': 'carril con que se compara',
  'profile.limits': 'Líneas oscuras: los límites.',
  'profile.zone':
    'Líneas oscuras: la zona que permite el límite, por igual alrededor de los puntos que deciden.',
  'profile.guard': 'Punteado: los límites menos la banda de guarda.',
  'profile.bar-signed': 'La barra de la derecha es el intervalo: debe estar dentro de los límites.',
  'profile.bar-range':
    'La barra de la derecha es el valor, sus topes exteriores son el extremo superior del intervalo: deben estar dentro de los límites.',
  'profile.worst-stretch':
    'Solo se dibuja el tramo más desfavorable, alrededor de su propia recta.',
  'profile.one-plane': 'Todos los carriles se dibujan desde un mismo plano.',
  'profile.y.plane': 'altura desde el plano común, {unit}',
  'profile.y.cross-level': 'peralte: + {rail} está más alto que el {other}, {unit}',
  'profile.y.height': 'altura sobre el {other}, {unit}',
  'profile.y.span': 'distancia al {other}, desde el nominal: + mayor, {unit}',
  'profile.y.sideways': 'lateral desde el {other}, + izquierda, {unit}',
  'profile.y.step.vertical': 'escalón en la junta tras su estación, + arriba, {unit}',
  'profile.y.step.horizontal': 'escalón en la junta tras su estación, + izquierda, {unit}',
  'profile.y.slope.vertical': 'cambio de pendiente en la junta, + arriba, {unit}',
  'profile.y.slope.horizontal': 'cambio de pendiente en la junta, + izquierda, {unit}',
  'profile.y.rate.vertical':
    'pendiente desde la estación, respecto a la del carril, + arriba, {unit}',
  'profile.y.rate.horizontal':
    'pendiente desde la estación, respecto a la del carril, + izquierda, {unit}',
  'profile.y.line.vertical':
    'altura desde {line, select, ends {la recta por los extremos} other {su recta de referencia}}, + arriba, {unit}',
  'profile.y.line.horizontal':
    'lateral desde {line, select, ends {la recta por los extremos} other {su recta de referencia}}, + izquierda, {unit}',

  'live.keys': '{title}: las flechas van de punto en punto, Esc termina',
  'live.phases': 'Estados en las figuras',
  'live.in-figures': 'En las figuras:',
  'live.rows': 'Mostrar solo filas con',
  'live.rows-of': 'Mostrar solo filas de «{table}» con',
  'place.height': 'altura {figure}',
  'place.sideways': 'lateral {figure}',
  'place.ahead': 'adelante {figure}',
  'place.own-vertical': 'desde su propia recta, vertical {figure}',
  'place.own-horizontal': 'horizontal {figure}',
  'place.own-along': 'a lo largo {figure}',
  'place.file-setup': '{file} desde {setup}',
  'place.rows': '{from}, {count, plural, one {fila} other {filas}} {rows}',
  'place.read': '{phase}, leído en {places}',

  'doc.monument': 'el punto fijo {monument} leído desde {setup}',
  'doc.rail': 'la altura del carril {rail} desde {setup}',
  'doc.pass': 'la pasada {pass} del carril {rail} desde {setup}, {axis}',
  'doc.curvature': 'una curvatura de la luz desde {setup}',
  'doc.target': 'el blanco {target} desde {setup}, {axis}',
  'doc.sign': 'el signo de todas las lecturas desde {setup}, {axis}',
  'doc.scale': 'la escala de todas las lecturas desde {setup}, {axis}',
  'doc.fix-monument':
    '¿Se movió el punto fijo {monument}, o se leyó otro? Leerlo de nuevo desde {setup}, o apartar allí sus filas con use = no y una nota.',
  'doc.fix-rail':
    '¿Se reajustó el vástago, o se tocó el instrumento, antes de leer el carril {rail} desde {setup}? A partir de ahí es otro blanco u otro emplazamiento.',
  'doc.fix-pass': 'Mirar qué cambió antes de leer la pasada {pass} del carril {rail} desde {setup}.',
  'doc.fix-curvature':
    'Indicar el gradiente de temperatura en {setup} («air»), leer desde ambos extremos, o cuando el aire esté mezclado.',
  'doc.fix-target':
    '¿Se reajustó el vástago o el soporte de {target}? A partir de entonces es un nuevo identificador de blanco.',
  'doc.fix-sign': 'En job.json, emplazamiento {setup}: «plus»: {new} en lugar de {old}.',
  'doc.fix-scale': 'Mirar la unidad de estas lecturas y la calibración de los blancos.',
  'doc.reading': '{point} desde {setup}, blanco {target}, pasada {pass}',
  'doc.step': 'paso de {from} a {to}, pasada {pass}',
  'doc.span': 'ancho de {from} a {to}, pasada {pass}',
  'doc.level': 'nivelación del emplazamiento {setup} ({angle})',
  'doc.squareness': 'perpendicularidad del instrumento {instrument}',
  'doc.no-drift': 'sin deriva del emplazamiento {setup} ({axis})',
  'doc.stated-setup': '{effect} del emplazamiento {setup}, como se indicó',
  'doc.no-cone': 'sin cono del instrumento {instrument} ({axis})',
  'doc.difference': 'diferencia de los {effect}, como se indicó',
  'doc.stated': '{effect}, como se indicó',
  'doc.rods': 'vástagos de {first} y {second}',
  'doc.cone-vertical': 'vertical',
  'doc.cone-horizontal': 'horizontal',
  'doc.cone-along': 'a lo largo',
  'doc.scale-of': 'escala de {target}',
  'doc.roll-of': 'giro de {target}',
  'doc.tilt-of': 'inclinación en {station}',
  'doc.gradient-vertical-over': 'gradiente vertical sobre el carril {rail}',
  'doc.gradient-sideways-over': 'gradiente lateral sobre el carril {rail}',
  'doc.gradient-vertical': 'gradiente vertical',
  'doc.gradient-sideways': 'gradiente lateral',
  'doc.bow-of': 'curvatura del carril {rail}',
  'doc.seating': 'asiento {placing} de {target}, {axis}',
  'doc.temperature': 'temperatura durante los anchos',
  'doc.zero': 'cero de {instrument}, {angle}',
  'doc.kind-offset': 'desplazamiento',
  'doc.kind-slope': 'pendiente',
  'doc.kind-span': 'ancho',
  'doc.kind-prior': 'conocido antes',
  'doc.kind-level': 'nivelación',
  'doc.kind-square': 'perpendicularidad',
  'doc.kind-drift': 'deriva',
  'doc.kind-rods': 'vástagos',
  'doc.kind-air': 'aire',
  'doc.kind-cone': 'cono',
  'doc.kind-scale': 'escala',
  'doc.kind-target-roll': 'giro del blanco',
  'doc.kind-seating': 'asiento',
  'doc.kind-level-zero': 'cero del nivel',
  'doc.kind-rail-tilt': 'inclinación del carril',
  'doc.kind-thermal-bow': 'curvatura térmica',
  'doc.kind-span-temperature': 'temperatura de los anchos',

  'way.more-passes': 'el doble de pasadas',
  'way.other-end': 'las mismas estaciones leídas otra vez desde el otro extremo',
  'way.middle': 'instrumentos en el centro de lo que leen',
  'way.new-setups': 'todo leído otra vez desde emplazamientos nivelados de nuevo',
  'way.turned-level':
    'todo leído otra vez con el instrumento girado media vuelta y nivelado de nuevo',
  'way.even-air': 'aire la mitad de desigual (mezclado con ventiladores, o de noche)',
  'way.centred-target': 'lecturas cerca del centro de los blancos',
  'way.turned-target': 'todo leído otra vez con los blancos dados la vuelta',
  'way.own-placings': 'blancos que se levantan y se asientan antes de cada lectura',
  'way.lower-rod': 'vástagos la mitad de altos',
  'way.known-temperature': 'temperaturas conocidas el doble de bien',
  'way.quicker': 'lecturas hechas en la mitad de tiempo',
  'way.monuments-again': 'puntos fijos leídos el doble de veces',
  'way.heights-again': 'transferencias de altura leídas el doble de veces',
  'way.one-target': 'un solo blanco para todas las lecturas',

  'meaning.straightness': 'Rectitud',
  'meaning.straightness.text':
    'desviación de rectitud de pico a valle (STRt de ISO 12780-1): el rango de las desviaciones de las estaciones respecto a la recta de referencia, en altura (vertical) o en lateral (horizontal).',
  'meaning.local-straightness': 'Rectitud local',
  'meaning.local-straightness.text':
    'lo mismo en el tramo más desfavorable de la longitud indicada; cada tramo tiene su propia recta.',
  'meaning.level-along-the-rail': 'Pendiente a lo largo del carril',
  'meaning.level-along-the-rail.text':
    'pendiente de la recta de mínimos cuadrados del carril respecto a la gravedad; + sube en el sentido de avance.',
  'meaning.parallelism': 'Paralelismo',
  'meaning.parallelism.text':
    'rango (mayor menos menor) de la altura sobre el carril de referencia (vertical) o de la distancia transversal a él (horizontal), en la misma posición a lo largo.',
  'meaning.height-difference': 'Diferencia de altura',
  'meaning.height-difference.text':
    'altura sobre el carril de referencia donde más se aleja de cero; + el carril está más alto que el carril de referencia.',
  'meaning.cross-level': 'Peralte',
  'meaning.cross-level.text':
    'altura sobre el carril de referencia dividida por la distancia transversal, donde más se aleja de cero; + el carril está más alto que el carril de referencia.',
  'meaning.twist': 'Alabeo',
  'meaning.twist.text': 'rango (mayor menos menor) del peralte.',
  'meaning.span': 'Ancho',
  'meaning.span.text':
    'distancia transversal al carril de referencia menos su nominal, donde más se aleja de cero; + mayor que el nominal.',
  'meaning.coplanarity': 'Coplanaridad',
  'meaning.coplanarity.text':
    'espesor de la zona alrededor del plano de referencia que contiene todas las estaciones del carril y del carril de referencia.',
  'meaning.squareness': 'Perpendicularidad',
  'meaning.squareness.text':
    'ángulo entre la recta del carril de referencia (avance a lo largo) y la del carril transversal (avance a través) menos 90°; + mayor que un ángulo recto.',
  'meaning.joints': 'Juntas',
  'meaning.joints.text':
    'cada parte del carril se prolonga hasta la junta por la recta de sus dos estaciones más próximas; escalón: de la parte posterior a la junta menos la anterior, donde más se aleja de cero, + más alto o más a la izquierda; cambio de pendiente igualmente, + sube más o gira más a la izquierda.',
  'meaning.rate-of-change': 'Tasa de variación',
  'meaning.rate-of-change.text':
    'pendiente de una estación a la más lejana dentro de la longitud indicada, menos la de la recta de mínimos cuadrados del carril, donde más se aleja de cero; + sube, o gira a la izquierda, en el sentido de avance.',
};
