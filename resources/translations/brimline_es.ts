<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" language="es" sourcelanguage="en">
<context>
    <name></name>
    <message>
        <source>(amended)</source>
        <translation>(enmendado)</translation>
    </message>
    <message>
        <source>1 day</source>
        <translation>1 día</translation>
    </message>
    <message>
        <source>1 hour</source>
        <translation>1 hora</translation>
    </message>
    <message>
        <source>1 record or amendment is missing from the chain of bay {bay}, taken from its end behind no. {found} before the next was sealed.</source>
        <translation>Falta 1 registro o enmienda en la cadena del puesto {bay}, quitado de su final tras el n.º {found} antes de sellar el siguiente.</translation>
    </message>
    <message>
        <source>1 record or amendment is missing from the end of the chain of bay {bay}, behind {link}.</source>
        <translation>Falta 1 registro o enmienda al final de la cadena del puesto {bay}, tras {link}.</translation>
    </message>
    <message>
        <source>1 record or amendment is missing from the end of the chain of bay {bay}.</source>
        <translation>Falta 1 registro o enmienda al final de la cadena del puesto {bay}.</translation>
    </message>
    <message>
        <source>1 week</source>
        <translation>1 semana</translation>
    </message>
    <message>
        <source>1,000</source>
        <translation>1&#xa0;000</translation>
    </message>
    <message>
        <source>11-bit</source>
        <translation>11 bits</translation>
    </message>
    <message>
        <source>20 times as fast</source>
        <translation>20 veces más rápido</translation>
    </message>
    <message>
        <source>29-bit</source>
        <translation>29 bits</translation>
    </message>
    <message>
        <source>3 days</source>
        <translation>3 días</translation>
    </message>
    <message>
        <source>4 hours</source>
        <translation>4 horas</translation>
    </message>
    <message>
        <source>5 times as fast</source>
        <translation>5 veces más rápido</translation>
    </message>
    <message>
        <source>A backup is being made already.</source>
        <translation>Ya se está haciendo una copia de seguridad.</translation>
    </message>
    <message>
        <source>A check was interrupted</source>
        <translation>Se interrumpió una comprobación</translation>
    </message>
    <message>
        <source>A check was interrupted with its plug out. Go on with it or end it before another one begins.</source>
        <translation>Se interrumpió una comprobación con el tapón fuera. Continúela o termínela antes de empezar otra.</translation>
    </message>
    <message>
        <source>A check without a window needs a script of taps.</source>
        <translation>Una comprobación sin ventana necesita un guion de pulsaciones.</translation>
    </message>
    <message>
        <source>A drip is more than 0 and at most 20 drops/s; faster, it runs.</source>
        <translation>Un goteo es más de 0 y como máximo 20 gotas/s; más rápido, sale a chorro.</translation>
    </message>
    <message>
        <source>A level check is under way: identifiers are looked for before or after it.</source>
        <translation>Hay una comprobación de nivel en curso: los identificadores se buscan antes o después de ella.</translation>
    </message>
    <message>
        <source>A page has 1 to {most} checks, not {limit}.</source>
        <translation>Una página tiene de 1 a {most} comprobaciones, no {limit}.</translation>
    </message>
    <message>
        <source>A pan with an emissivity of {emissivity:.2f} (±{spread:.2f}) explains that, as shiny metal has.</source>
        <translation>Un cárter con una emisividad de {emissivity:.2f} (±{spread:.2f}), como la del metal brillante, lo explica.</translation>
    </message>
    <message>
        <source>A pan with an emissivity of {emissivity:.2f} (±{spread:.2f}) explains that. Matt tape on the pan would settle it.</source>
        <translation>Un cárter con una emisividad de {emissivity:.2f} (±{spread:.2f}) lo explica. Una cinta mate sobre el cárter lo aclararía.</translation>
    </message>
    <message>
        <source>A photo is on its way into the record; close it in a moment.</source>
        <translation>Una foto se está incorporando al registro; ciérrelo dentro de un momento.</translation>
    </message>
    <message>
        <source>A reason and a name must be given.</source>
        <translation>Hay que indicar un motivo y un nombre.</translation>
    </message>
    <message>
        <source>A record or amendment is missing from the chain of bay {bay}, before {link}, if that belongs there: it was changed after it was sealed.</source>
        <translation>Falta un registro o enmienda en la cadena del puesto {bay}, antes de {link}, si es que ese va ahí: se modificó después de sellarse.</translation>
    </message>
    <message>
        <source>A record or amendment is missing from the chain of bay {bay}, before {link}.</source>
        <translation>Falta un registro o enmienda en la cadena del puesto {bay}, antes de {link}.</translation>
    </message>
    <message>
        <source>A replay goes on from the command line (“brimline resume”); here it can be ended.</source>
        <translation>Una reproducción continúa desde la línea de comandos (“brimline resume”); aquí puede terminarse.</translation>
    </message>
    <message>
        <source>A simulated vehicle answers on a bus as a real one would. Everything in it is invented. Its records are marked as training: the list of finished checks shows them only with “Training and replays too” ticked.</source>
        <translation>Un vehículo simulado contesta en un bus como lo haría uno real. Todo en él es inventado. Sus registros llevan la marca de formación: la lista de comprobaciones terminadas solo los muestra con “Formación y reproducciones” marcado.</translation>
    </message>
    <message>
        <source>A spec sheet cannot take its fluid temperature from here.</source>
        <translation>Una hoja de especificaciones no puede tomar de aquí la temperatura del fluido.</translation>
    </message>
    <message>
        <source>A tilt that is allowed moves the fluid level by {found}, more than the {limit} by which it may be off.</source>
        <translation>Una inclinación permitida mueve el nivel de fluido {found}, más de los {limit} que puede desviarse.</translation>
    </message>
    <message>
        <source>A time of day of a reading is damaged.</source>
        <translation>La hora de una lectura está dañada.</translation>
    </message>
    <message>
        <source>A vehicle that comes off its lift kills. Lock the lift before you go.</source>
        <translation>Un vehículo que cae del elevador mata. Bloquee el elevador antes de pasar debajo.</translation>
    </message>
    <message>
        <source>A whole check on a simulated vehicle, with every button working. Nothing of it touches a vehicle. Its record is marked as training: the list of finished checks shows it only with “Training and replays too” ticked.</source>
        <translation>Una comprobación completa en un vehículo simulado, con todos los botones activos. Nada de ella toca un vehículo. Su registro lleva la marca de formación: la lista de comprobaciones terminadas solo lo muestra con “Formación y reproducciones” marcado.</translation>
    </message>
    <message>
        <source>A wrong bit rate disturbs a live bus. Listen first, and try with the vehicle standing, ignition on.</source>
        <translation>Una velocidad de bits incorrecta perturba un bus activo. Escuche primero y pruebe con el vehículo parado y el contacto dado.</translation>
    </message>
    <message>
        <source>A wrong fluid can ruin the transmission. Read the label in your hand.</source>
        <translation>Un fluido equivocado puede arruinar la caja automática. Lea la etiqueta del envase.</translation>
    </message>
    <message>
        <source>Above band</source>
        <translation>Sobre la banda</translation>
    </message>
    <message>
        <source>Above band, fresh</source>
        <translation>Sobre banda, reciente</translation>
    </message>
    <message>
        <source>Acknowledge</source>
        <translation>Confirmar</translation>
    </message>
    <message>
        <source>Acknowledge ({key})</source>
        <translation>Confirmar ({key})</translation>
    </message>
    <message>
        <source>Acknowledge the cautions, then press “{button}”.</source>
        <translation>Confirme las advertencias y pulse “{button}”.</translation>
    </message>
    <message>
        <source>Adapters of the kind “{interface}” cannot be told to listen only.</source>
        <translation>A los adaptadores de tipo “{interface}” no se les puede pedir que solo escuchen.</translation>
    </message>
    <message>
        <source>Adapters of the kind “{interface}” cannot be used on this computer: their driver is missing, or there is no such kind.</source>
        <translation>Los adaptadores de tipo “{interface}” no pueden usarse en este equipo: falta su controlador o no existe ese tipo.</translation>
    </message>
    <message>
        <source>Adapters of this kind cannot be told to listen only, so this one acknowledged frames from the start.</source>
        <translation>A los adaptadores de este tipo no se les puede pedir que solo escuchen, así que este confirmó tramas desde el principio.</translation>
    </message>
    <message>
        <source>Add photo</source>
        <translation>Añadir foto</translation>
    </message>
    <message>
        <source>Add photo…</source>
        <translation>Añadir foto…</translation>
    </message>
    <message>
        <source>Added {used} of at most {limit}: {left} left.</source>
        <translation>Añadidos {used} de {limit} como máximo: quedan {left}.</translation>
    </message>
    <message>
        <source>Added {used}: {over} more than the spec sheet&apos;s {limit}.</source>
        <translation>Añadidos {used}: {over} más que los {limit} de la hoja de especificaciones.</translation>
    </message>
    <message>
        <source>Address</source>
        <translation>Dirección</translation>
    </message>
    <message>
        <source>After any stop the fluid circulates for {wait} again.</source>
        <translation>Después de cada parada el fluido vuelve a circular durante {wait}.</translation>
    </message>
    <message>
        <source>After published times to a burn of the second degree on adult skin by flowing hot water; rounded down, and for a fluid hotter than its reading by as much as the sensor may be off.</source>
        <translation>Según tiempos publicados hasta una quemadura de segundo grado en piel de adulto con agua caliente corriente; redondeados a la baja, y para un fluido más caliente que su lectura en lo que el sensor pueda errar.</translation>
    </message>
    <message>
        <source>Alarm acknowledged</source>
        <translation>Alarma confirmada</translation>
    </message>
    <message>
        <source>Alarm heard: {what}?</source>
        <translation>¿Alarma oída: {what}?</translation>
    </message>
    <message>
        <source>All</source>
        <translation>Todo</translation>
    </message>
    <message>
        <source>Amendment {amendment} of an unknown record</source>
        <translation>Enmienda {amendment} de un registro desconocido</translation>
    </message>
    <message>
        <source>Amendment {amendment} of record {number}</source>
        <translation>Enmienda {amendment} del registro {number}</translation>
    </message>
    <message>
        <source>Amount</source>
        <translation>Cantidad</translation>
    </message>
    <message>
        <source>Amounts of fluid</source>
        <translation>Cantidades de fluido</translation>
    </message>
    <message>
        <source>An alarm stands: do what the page says first.</source>
        <translation>Hay una alarma: haga primero lo que dice la página.</translation>
    </message>
    <message>
        <source>An amendment is damaged and cannot be read.</source>
        <translation>Una enmienda está dañada y no se puede leer.</translation>
    </message>
    <message>
        <source>An earlier warm-up is damaged and cannot be read.</source>
        <translation>Un calentamiento anterior está dañado y no se puede leer.</translation>
    </message>
    <message>
        <source>An entry of the record is damaged and cannot be read.</source>
        <translation>Una entrada del registro está dañada y no se puede leer.</translation>
    </message>
    <message>
        <source>An estimate: the range holds in eight of ten cases; whether the plug may come out goes by readings alone.</source>
        <translation>Es una estimación: el intervalo se cumple en ocho de cada diez casos; si se puede quitar el tapón se decide solo por las lecturas.</translation>
    </message>
    <message>
        <source>An invented sheet is for training only: it must not be used on a vehicle, and its check is listed only with “Training and replays too” ticked.</source>
        <translation>Una hoja inventada es solo para formación: no debe usarse en un vehículo, y su comprobación solo aparece en la lista con “Formación y reproducciones” marcado.</translation>
    </message>
    <message>
        <source>An unexpected fault, noted in {file_name}: {error}</source>
        <translation>Un fallo inesperado, anotado en {file_name}: {error}</translation>
    </message>
    <message>
        <source>An unknown record</source>
        <translation>Un registro desconocido</translation>
    </message>
    <message>
        <source>And {count} more in the list.</source>
        <translation>Y {count} más en la lista.</translation>
    </message>
    <message>
        <source>Angle</source>
        <translation>Ángulo</translation>
    </message>
    <message>
        <source>Another Brimline is keeping a file just now; try again in a moment.</source>
        <translation>Otro Brimline está guardando un archivo ahora mismo; inténtelo de nuevo en un momento.</translation>
    </message>
    <message>
        <source>Another Brimline is running a check on this database ({path}); close it first.</source>
        <translation>Otro Brimline está haciendo una comprobación con esta base de datos ({path}); ciérrelo primero.</translation>
    </message>
    <message>
        <source>Another Brimline is still setting up the database {path}; try again in a moment.</source>
        <translation>Otro Brimline aún está preparando la base de datos {path}; inténtelo de nuevo en un momento.</translation>
    </message>
    <message>
        <source>Answer</source>
        <translation>Respuesta</translation>
    </message>
    <message>
        <source>Approved for certain variants only ({word}); this is another.</source>
        <translation>Aprobado solo para ciertas variantes ({word}); esta es otra.</translation>
    </message>
    <message>
        <source>Apr</source>
        <translation>abr</translation>
    </message>
    <message>
        <source>As the desktop has it</source>
        <translation>Como el escritorio</translation>
    </message>
    <message>
        <source>Ask a control unit for identifiers (UDS)</source>
        <translation>Pedir identificadores a una unidad de control (UDS)</translation>
    </message>
    <message>
        <source>Ask for 1 to {most_identifiers} identifiers at a time.</source>
        <translation>Pida de 1 a {most_identifiers} identificadores cada vez.</translation>
    </message>
    <message>
        <source>Ask for a recheck after a drive</source>
        <translation>Pedir nueva comprobación tras conducir</translation>
    </message>
    <message>
        <source>Ask these too</source>
        <translation>Pedir también estos</translation>
    </message>
    <message>
        <source>Asking reads and changes nothing. Even so: vehicle standing, engine idling, nobody under it.</source>
        <translation>Pedir solo lee y no cambia nada. Aun así: vehículo parado, motor al ralentí, nadie debajo.</translation>
    </message>
    <message>
        <source>Assess the fluid&apos;s condition</source>
        <translation>Evalúe el estado del fluido</translation>
    </message>
    <message>
        <source>Assess the fluid&apos;s condition at the screen.</source>
        <translation>Evalúe el estado del fluido en la pantalla.</translation>
    </message>
    <message>
        <source>At its edge, fresh</source>
        <translation>En el borde, reciente</translation>
    </message>
    <message>
        <source>At most {left} more. Pump off, settle, then judge again.</source>
        <translation>Como máximo {left} más. Apague la bomba, deje asentar y juzgue de nuevo.</translation>
    </message>
    <message>
        <source>At the PC: fill in, then press</source>
        <translation>En el PC: anote y pulse</translation>
    </message>
    <message>
        <source>At the PC: {what}</source>
        <translation>En el PC: {what}</translation>
    </message>
    <message>
        <source>At the edge of the band</source>
        <translation>En el borde de la banda</translation>
    </message>
    <message>
        <source>At the latest after</source>
        <translation>Como máximo cada</translation>
    </message>
    <message>
        <source>Attachment</source>
        <translation>Archivo adjunto</translation>
    </message>
    <message>
        <source>Aug</source>
        <translation>ago</translation>
    </message>
    <message>
        <source>Back</source>
        <translation>Volver</translation>
    </message>
    <message>
        <source>Back (F9)</source>
        <translation>Volver (F9)</translation>
    </message>
    <message>
        <source>Back to the screen for arm&apos;s length</source>
        <translation>Vuelve a la pantalla de cerca</translation>
    </message>
    <message>
        <source>Back to this step: {cause}.</source>
        <translation>De vuelta a este paso: {cause}.</translation>
    </message>
    <message>
        <source>Back up now</source>
        <translation>Hacer copia ahora</translation>
    </message>
    <message>
        <source>Back without saving</source>
        <translation>Volver sin guardar</translation>
    </message>
    <message>
        <source>Backing up</source>
        <translation>Haciendo copia de seguridad</translation>
    </message>
    <message>
        <source>Backups</source>
        <translation>Copias de seguridad</translation>
    </message>
    <message>
        <source>Backups cannot be made so: {faults}.</source>
        <translation>Así no se pueden hacer copias de seguridad: {faults}.</translation>
    </message>
    <message>
        <source>Backups…</source>
        <translation>Copias de seguridad…</translation>
    </message>
    <message>
        <source>Band</source>
        <translation>Banda</translation>
    </message>
    <message>
        <source>Band entered</source>
        <translation>Entra en banda</translation>
    </message>
    <message>
        <source>Band left</source>
        <translation>Sale de banda</translation>
    </message>
    <message>
        <source>Band not known</source>
        <translation>Banda desconocida</translation>
    </message>
    <message>
        <source>Because: {why}.</source>
        <translation>Porque: {why}.</translation>
    </message>
    <message>
        <source>Because: {why}. Still to be chosen: {still}.</source>
        <translation>Porque: {why}. Falta elegir: {still}.</translation>
    </message>
    <message>
        <source>Begin the check</source>
        <translation>Empezar la comprobación</translation>
    </message>
    <message>
        <source>Begin the demonstration</source>
        <translation>Empezar la demostración</translation>
    </message>
    <message>
        <source>Begin with a cold engine, let it idle with the vehicle standing, and wait some minutes: what lags behind the coolant may be the fluid.</source>
        <translation>Empiece con el motor frío, déjelo al ralentí con el vehículo parado y espere unos minutos: lo que va con retraso respecto al refrigerante puede ser el fluido.</translation>
    </message>
    <message>
        <source>Begin with no records</source>
        <translation>Empezar sin registros</translation>
    </message>
    <message>
        <source>Beginning…</source>
        <translation>Empezando…</translation>
    </message>
    <message>
        <source>Behaves like a transmission&apos;s fluid; confirm it with a second instrument.</source>
        <translation>Se comporta como el fluido de una transmisión; confírmelo con un segundo instrumento.</translation>
    </message>
    <message>
        <source>Below band</source>
        <translation>Por debajo de la banda</translation>
    </message>
    <message>
        <source>Below band, fresh</source>
        <translation>Bajo banda, reciente</translation>
    </message>
    <message>
        <source>Below {lowest} no time to a burn is published; that is no leave to touch it.</source>
        <translation>Por debajo de {lowest} no hay publicado un tiempo hasta la quemadura; eso no autoriza a tocarlo.</translation>
    </message>
    <message>
        <source>Best leave the program open until the disk takes it. If it must be closed, a copy of what is not saved can be written to another place first; it is taken in when the check goes on.</source>
        <translation>Lo mejor es dejar el programa abierto hasta que el disco lo admita. Si hay que cerrarlo, antes se puede escribir en otro lugar una copia de lo no guardado; se incorpora cuando la comprobación continúa.</translation>
    </message>
    <message>
        <source>Bit rate</source>
        <translation>Velocidad de bits</translation>
    </message>
    <message>
        <source>Brake held: move the selector to {what}.</source>
        <translation>Con el freno pisado, mueva el selector a {what}.</translation>
    </message>
    <message>
        <source>Brimline cannot guide this check: spec sheet {id} ({family}) asks for the check method “{check_method}”; only “{idle_overflow}” is guided. Follow the maker&apos;s service information.</source>
        <translation>Brimline no puede guiar esta comprobación: la hoja de especificaciones {id} ({family}) pide el método “{check_method}”; solo se guía “{idle_overflow}”. Siga la información de servicio del fabricante.</translation>
    </message>
    <message>
        <source>Brimline cannot guide this check: spec sheet {id} ({family}) wants the plug out with the engine stopped. Follow the maker&apos;s service information.</source>
        <translation>Brimline no puede guiar esta comprobación: la hoja de especificaciones {id} ({family}) pide quitar el tapón con el motor parado. Siga la información de servicio del fabricante.</translation>
    </message>
    <message>
        <source>Brimline&apos;s fonts are missing: install Brimline again.</source>
        <translation>Faltan las fuentes de Brimline: vuelva a instalar Brimline.</translation>
    </message>
    <message>
        <source>Bringing the records up to this version of Brimline; {path} is copied first. With many records this takes minutes.</source>
        <translation>Se pasan los registros a esta versión de Brimline; antes se copia {path}. Con muchos registros tarda minutos.</translation>
    </message>
    <message>
        <source>Button: {key} · F9: back</source>
        <translation>Botón: {key} · F9: volver</translation>
    </message>
    <message>
        <source>By hand: {signals}.</source>
        <translation>Por el técnico: {signals}.</translation>
    </message>
    <message>
        <source>CAUTION</source>
        <translation>PRECAUCIÓN</translation>
    </message>
    <message>
        <source>Cancel</source>
        <translation>Cancelar</translation>
    </message>
    <message>
        <source>Catch the first fluid; judge it.</source>
        <translation>Recoja el primer fluido; júzguelo.</translation>
    </message>
    <message>
        <source>Cautions read</source>
        <translation>Advertencias leídas</translation>
    </message>
    <message>
        <source>Cautions read?</source>
        <translation>¿Advertencias leídas?</translation>
    </message>
    <message>
        <source>Change the sign</source>
        <translation>Cambiar el signo</translation>
    </message>
    <message>
        <source>Channel</source>
        <translation>Canal</translation>
    </message>
    <message>
        <source>Chart</source>
        <translation>Gráfico</translation>
    </message>
    <message>
        <source>Check and restore</source>
        <translation>Verificar y restaurar</translation>
    </message>
    <message>
        <source>Check on a vehicle</source>
        <translation>Comprobar un vehículo</translation>
    </message>
    <message>
        <source>Check stopped</source>
        <translation>Detenida</translation>
    </message>
    <message>
        <source>Checked</source>
        <translation>Verificada</translation>
    </message>
    <message>
        <source>Checked and put in place: {holds}.</source>
        <translation>Verificada y puesta en su sitio: {holds}.</translation>
    </message>
    <message>
        <source>Checks can go on meanwhile, but what is written may be lost; the newest good backup does not grow newer.</source>
        <translation>Mientras tanto se puede seguir comprobando, pero lo que se escriba puede perderse; la última copia buena no se renueva.</translation>
    </message>
    <message>
        <source>Choose a check first.</source>
        <translation>Elija primero una comprobación.</translation>
    </message>
    <message>
        <source>Choose a copy to see what it holds.</source>
        <translation>Elija una copia para ver qué contiene.</translation>
    </message>
    <message>
        <source>Choose a folder on another disk or a share: a copy beside the records is lost with them. Each bay needs a folder of its own.</source>
        <translation>Elija una carpeta en otro disco o en un recurso compartido: una copia junto a los registros se pierde con ellos. Cada puesto necesita su propia carpeta.</translation>
    </message>
    <message>
        <source>Choose a proposal to see why, as soon as there is one.</source>
        <translation>Elija una propuesta para ver el porqué, en cuanto haya alguna.</translation>
    </message>
    <message>
        <source>Choose one that was found, or its kind.</source>
        <translation>Elija uno de los encontrados, o su tipo.</translation>
    </message>
    <message>
        <source>Choose the connection now…</source>
        <translation>Elegir la conexión ahora…</translation>
    </message>
    <message>
        <source>Choose the fill path</source>
        <translation>Elija la vía de llenado</translation>
    </message>
    <message>
        <source>Choose the fill path and say how much fluid is within reach.</source>
        <translation>Elija la vía de llenado e indique cuánto fluido hay al alcance.</translation>
    </message>
    <message>
        <source>Choose the kind of adapter first.</source>
        <translation>Elija primero el tipo de adaptador.</translation>
    </message>
    <message>
        <source>Choose the newest copy that holds what you need. It is checked from end to end before anything changes.</source>
        <translation>Elija la copia más nueva que contenga lo que necesita. Se verifica de principio a fin antes de cambiar nada.</translation>
    </message>
    <message>
        <source>Choose what you see and smell.</source>
        <translation>Elija lo que ve y huele.</translation>
    </message>
    <message>
        <source>Choose…</source>
        <translation>Elegir…</translation>
    </message>
    <message>
        <source>Clarity</source>
        <translation>Transparencia</translation>
    </message>
    <message>
        <source>Close</source>
        <translation>Cerrar</translation>
    </message>
    <message>
        <source>Close all the same, and lose it</source>
        <translation>Cerrar de todos modos y perderlo</translation>
    </message>
    <message>
        <source>Close and seal its record…</source>
        <translation>Cerrar y sellar su registro…</translation>
    </message>
    <message>
        <source>Close and seal the record</source>
        <translation>Cerrar y sellar el registro</translation>
    </message>
    <message>
        <source>Close and seal the record first.</source>
        <translation>Cierre y selle primero el registro.</translation>
    </message>
    <message>
        <source>Close the camera</source>
        <translation>Cerrar la cámara</translation>
    </message>
    <message>
        <source>Close the program</source>
        <translation>Cerrar el programa</translation>
    </message>
    <message>
        <source>Close the record</source>
        <translation>Cierre el registro</translation>
    </message>
    <message>
        <source>Closed</source>
        <translation>Cerrada</translation>
    </message>
    <message>
        <source>Colour</source>
        <translation>Color</translation>
    </message>
    <message>
        <source>Compare the sensor</source>
        <translation>Comparar el sensor</translation>
    </message>
    <message>
        <source>Complaint</source>
        <translation>Queja</translation>
    </message>
    <message>
        <source>Condition assessed</source>
        <translation>Estado evaluado</translation>
    </message>
    <message>
        <source>Condition assessment</source>
        <translation>Evaluación del estado</translation>
    </message>
    <message>
        <source>Confirm again</source>
        <translation>Confirme de nuevo</translation>
    </message>
    <message>
        <source>Confirm again: {item}.</source>
        <translation>Confirme de nuevo: {item}.</translation>
    </message>
    <message>
        <source>Confirm the first five items, then press “{button}” here.</source>
        <translation>Confirme los cinco primeros puntos y pulse “{button}” aquí.</translation>
    </message>
    <message>
        <source>Confirmed: {item}</source>
        <translation>Confirmado: {item}</translation>
    </message>
    <message>
        <source>Connection lost</source>
        <translation>Conexión perdida</translation>
    </message>
    <message>
        <source>Connection to the vehicle&apos;s bus</source>
        <translation>Conexión con el bus del vehículo</translation>
    </message>
    <message>
        <source>Connection to the vehicle&apos;s bus…</source>
        <translation>Conexión con el bus del vehículo…</translation>
    </message>
    <message>
        <source>Connection…</source>
        <translation>Conexión…</translation>
    </message>
    <message>
        <source>Control unit {response:X} refused {asked}: {name} (code {code:02X}).</source>
        <translation>La unidad de control {response:X} rechazó {asked}: {name} (código {code:02X}).</translation>
    </message>
    <message>
        <source>Control unit {response:X}: {known}</source>
        <translation>Unidad de control {response:X}: {known}</translation>
    </message>
    <message>
        <source>Cool down: {value}, limit {limit}</source>
        <translation>Enfriar: {value}, límite {limit}</translation>
    </message>
    <message>
        <source>Coolant (if known)</source>
        <translation>Refrigerante (si se sabe)</translation>
    </message>
    <message>
        <source>Coolant and shop air are too far apart to say which the sensor should match.</source>
        <translation>El refrigerante y el aire del taller difieren demasiado para saber con cuál debería coincidir el sensor.</translation>
    </message>
    <message>
        <source>Copies of the records</source>
        <translation>Copias de los registros</translation>
    </message>
    <message>
        <source>Copying {size} MB…</source>
        <translation>Copiando {size} MB…</translation>
    </message>
    <message>
        <source>Crosswise</source>
        <translation>A lo ancho</translation>
    </message>
    <message>
        <source>Crosswise, turned</source>
        <translation>A lo ancho, girado</translation>
    </message>
    <message>
        <source>DANGER</source>
        <translation>PELIGRO</translation>
    </message>
    <message>
        <source>Dark</source>
        <translation>Oscuro</translation>
    </message>
    <message>
        <source>Date</source>
        <translation>Fecha</translation>
    </message>
    <message>
        <source>Dec</source>
        <translation>dic</translation>
    </message>
    <message>
        <source>Decimal mark</source>
        <translation>Separador decimal</translation>
    </message>
    <message>
        <source>Delete</source>
        <translation>Borrar</translation>
    </message>
    <message>
        <source>Demonstration</source>
        <translation>Demostración</translation>
    </message>
    <message>
        <source>Dictionary should have at least 1 item after validation, not 0</source>
        <translation>La tabla debe tener al menos 1 elemento</translation>
    </message>
    <message>
        <source>Did not answer in time: {those}.</source>
        <translation>Sin respuesta a tiempo: {those}.</translation>
    </message>
    <message>
        <source>Distances and speeds</source>
        <translation>Distancias y velocidades</translation>
    </message>
    <message>
        <source>Do not begin</source>
        <translation>No empezar</translation>
    </message>
    <message>
        <source>Do not drive; have the transmission and its cooler examined.</source>
        <translation>No conduzca; haga examinar la transmisión y su enfriador.</translation>
    </message>
    <message>
        <source>Do not heat the fluid by stalling the engine: it gains some 5&#xa0;°C (10&#xa0;°F) each second, burns people and ruins the converter.</source>
        <translation>No caliente el fluido forzando el motor con el vehículo frenado: gana unos 5&#xa0;°C (10&#xa0;°F) por segundo, quema a las personas y destroza el convertidor.</translation>
    </message>
    <message>
        <source>Do what stands in bold; what comes is seen here.</source>
        <translation>Haga lo que está en negrita; lo que sale se ve aquí.</translation>
    </message>
    <message>
        <source>Does fluid run?</source>
        <translation>¿Sale fluido?</translation>
    </message>
    <message>
        <source>Does it work?</source>
        <translation>¿Funciona?</translation>
    </message>
    <message>
        <source>Does nothing come?</source>
        <translation>¿No sale nada?</translation>
    </message>
    <message>
        <source>Done</source>
        <translation>Listo</translation>
    </message>
    <message>
        <source>Done. Go on with the records as they are now.</source>
        <translation>Hecho. Siga con los registros tal como están ahora.</translation>
    </message>
    <message>
        <source>Done. The record is sealed.</source>
        <translation>Listo. El registro está sellado.</translation>
    </message>
    <message>
        <source>Done: {what}.</source>
        <translation>Hecho: {what}.</translation>
    </message>
    <message>
        <source>Draw a sample and judge it.</source>
        <translation>Extraiga una muestra y júzguela.</translation>
    </message>
    <message>
        <source>Drip rate (at the rim: {rate:g} drops/s)</source>
        <translation>Goteo (en el borde: {rate:g} gotas/s)</translation>
    </message>
    <message>
        <source>Drips, {limit} at most?</source>
        <translation>¿Gotea, {limit} como máximo?</translation>
    </message>
    <message>
        <source>Dry, no leak?</source>
        <translation>¿Seco, sin fugas?</translation>
    </message>
    <message>
        <source>Dry: no leak</source>
        <translation>Seco: sin fugas</translation>
    </message>
    <message>
        <source>Duty</source>
        <translation>Servicio</translation>
    </message>
    <message>
        <source>EMPTY</source>
        <translation>VACIAR</translation>
    </message>
    <message>
        <source>ENGINE</source>
        <translation>MOTOR</translation>
    </message>
    <message>
        <source>ENGINE NOT KNOWN</source>
        <translation>MOTOR: NO SE SABE</translation>
    </message>
    <message>
        <source>ENGINE OFF</source>
        <translation>MOTOR APAGADO</translation>
    </message>
    <message>
        <source>ENGINE RUNNING</source>
        <translation>MOTOR EN MARCHA</translation>
    </message>
    <message>
        <source>Elsewhere</source>
        <translation>Otros ajustes</translation>
    </message>
    <message>
        <source>Emissivity set on it</source>
        <translation>Su emisividad ajustada</translation>
    </message>
    <message>
        <source>End</source>
        <translation>Fin</translation>
    </message>
    <message>
        <source>End here; the vehicle comes back for a recheck</source>
        <translation>Terminar aquí; el vehículo vuelve a revisión</translation>
    </message>
    <message>
        <source>End it and seal the record</source>
        <translation>Terminarla y sellar el registro</translation>
    </message>
    <message>
        <source>End it…</source>
        <translation>Terminarla…</translation>
    </message>
    <message>
        <source>Ended for a recheck</source>
        <translation>Terminada para nueva comprobación</translation>
    </message>
    <message>
        <source>Engine by taps…</source>
        <translation>Motor a mano…</translation>
    </message>
    <message>
        <source>Engine not known</source>
        <translation>Motor: desconocido</translation>
    </message>
    <message>
        <source>Engine off</source>
        <translation>Motor apagado</translation>
    </message>
    <message>
        <source>Engine off: {value}, limit {limit}</source>
        <translation>Motor apagado: {value}, límite {limit}</translation>
    </message>
    <message>
        <source>Engine on</source>
        <translation>Motor en marcha</translation>
    </message>
    <message>
        <source>Engine runs</source>
        <translation>Motor en marcha</translation>
    </message>
    <message>
        <source>Engine runs, {speed}</source>
        <translation>Motor a {speed}</translation>
    </message>
    <message>
        <source>Engine speed (rpm)</source>
        <translation>Régimen del motor (rpm)</translation>
    </message>
    <message>
        <source>Engine started</source>
        <translation>Motor arrancado</translation>
    </message>
    <message>
        <source>Engine stopped</source>
        <translation>Motor parado</translation>
    </message>
    <message>
        <source>Engine: not known</source>
        <translation>Motor: desconocido</translation>
    </message>
    <message>
        <source>Engine: not running</source>
        <translation>Motor: parado</translation>
    </message>
    <message>
        <source>Engine: not running, {speed}</source>
        <translation>Motor: parado, {speed}</translation>
    </message>
    <message>
        <source>Engine: running</source>
        <translation>Motor: en marcha</translation>
    </message>
    <message>
        <source>Engine: running, {speed}</source>
        <translation>Motor: en marcha, {speed}</translation>
    </message>
    <message>
        <source>Enter</source>
        <translation>Intro</translation>
    </message>
    <message>
        <source>Enter shop air and gun as seen here; tick the box if it stood overnight.</source>
        <translation>Anote el aire del taller y la pistola como se ven aquí; marque la casilla si pasó la noche parado.</translation>
    </message>
    <message>
        <source>Enters about {at} (from {first})</source>
        <translation>Entra hacia {at} (desde {first})</translation>
    </message>
    <message>
        <source>Enters about {at} ({first}–{last})</source>
        <translation>Entra hacia {at} ({first}–{last})</translation>
    </message>
    <message>
        <source>Entries that the disk had refused lie in {file}; they are taken in.</source>
        <translation>Las entradas que el disco rechazó están en {file}; se incorporan.</translation>
    </message>
    <message>
        <source>Everything is muted, so that nothing is heard.</source>
        <translation>Todo está silenciado, así que no se oye nada.</translation>
    </message>
    <message>
        <source>Exhaust gas</source>
        <translation>Gases de escape</translation>
    </message>
    <message>
        <source>Exhaust, pan and fluid burn; fans and belts turn without warning.</source>
        <translation>Escape, cárter y fluido queman; ventiladores y correas giran sin avisar.</translation>
    </message>
    <message>
        <source>Expected</source>
        <translation>Previsto</translation>
    </message>
    <message>
        <source>Extra inputs are not permitted</source>
        <translation>No se permiten otras entradas</translation>
    </message>
    <message>
        <source>Family</source>
        <translation>Familia</translation>
    </message>
    <message>
        <source>Fan off</source>
        <translation>Ventilador apagado</translation>
    </message>
    <message>
        <source>Fan on</source>
        <translation>Ventilador en marcha</translation>
    </message>
    <message>
        <source>Far view (F9)</source>
        <translation>Vista lejana (F9)</translation>
    </message>
    <message>
        <source>Feb</source>
        <translation>feb</translation>
    </message>
    <message>
        <source>File kept</source>
        <translation>Archivo guardado</translation>
    </message>
    <message>
        <source>Fill in vehicle and work order at the screen.</source>
        <translation>Rellene vehículo y orden de trabajo en la pantalla.</translation>
    </message>
    <message>
        <source>Fill path</source>
        <translation>Vía</translation>
    </message>
    <message>
        <source>Fill path chosen</source>
        <translation>Vía de llenado elegida</translation>
    </message>
    <message>
        <source>Filters</source>
        <translation>Filtros</translation>
    </message>
    <message>
        <source>Filters ({count})</source>
        <translation>Filtros ({count})</translation>
    </message>
    <message>
        <source>Find a finished check</source>
        <translation>Buscar una comprobación hecha</translation>
    </message>
    <message>
        <source>Find the fluid temperature</source>
        <translation>Buscar la temperatura del fluido</translation>
    </message>
    <message>
        <source>Find the temperature…</source>
        <translation>Buscar la temperatura…</translation>
    </message>
    <message>
        <source>Finished</source>
        <translation>Terminado</translation>
    </message>
    <message>
        <source>Finished checks</source>
        <translation>Comprobaciones hechas</translation>
    </message>
    <message>
        <source>First look</source>
        <translation>Primer vistazo</translation>
    </message>
    <message>
        <source>First look taken</source>
        <translation>Primer vistazo hecho</translation>
    </message>
    <message>
        <source>First look, before anything is added</source>
        <translation>Primer vistazo, antes de añadir nada</translation>
    </message>
    <message>
        <source>First look, then fluid level</source>
        <translation>Primer vistazo, luego nivel de fluido</translation>
    </message>
    <message>
        <source>Fluid</source>
        <translation>Fluido</translation>
    </message>
    <message>
        <source>Fluid and fill path in hand</source>
        <translation>Preparar el fluido</translation>
    </message>
    <message>
        <source>Fluid at</source>
        <translation>Temperatura</translation>
    </message>
    <message>
        <source>Fluid at {celsius} burns skin immediately.</source>
        <translation>El fluido a {celsius} quema la piel de inmediato.</translation>
    </message>
    <message>
        <source>Fluid at {celsius} burns skin within {time}.</source>
        <translation>El fluido a {celsius} quema la piel en {time}.</translation>
    </message>
    <message>
        <source>Fluid is being lost: engine off. The vehicle must not be lowered or driven before the plug is in.</source>
        <translation>Se pierde fluido: motor apagado. No se debe bajar ni conducir el vehículo antes de poner el tapón.</translation>
    </message>
    <message>
        <source>Fluid is being lost: plug in. Do not restart with the plug out.</source>
        <translation>Se pierde fluido: ponga el tapón. No vuelva a arrancar sin el tapón.</translation>
    </message>
    <message>
        <source>Fluid is being lost: put the plug in before anything else. Do not start the engine while the plug is out. The fluid may still be hot enough to burn.</source>
        <translation>Se pierde fluido: ponga el tapón antes que nada. No arranque el motor sin el tapón. El fluido aún puede estar tan caliente que queme.</translation>
    </message>
    <message>
        <source>Fluid ledger</source>
        <translation>Balance del fluido</translation>
    </message>
    <message>
        <source>Fluid matched</source>
        <translation>Fluido cotejado</translation>
    </message>
    <message>
        <source>Fluid may run off for {left} more.</source>
        <translation>El fluido puede rebosar {left} más.</translation>
    </message>
    <message>
        <source>Fluid ran off at this plug, so nobody can say that nothing did.</source>
        <translation>Por este tapón salió fluido: nadie puede decir que no salió nada.</translation>
    </message>
    <message>
        <source>Fluid ran off; how much is not noted yet.</source>
        <translation>Rebosó fluido; aún no está anotado cuánto.</translation>
    </message>
    <message>
        <source>Fluid ran off; it was not measured: {why}.</source>
        <translation>Rebosó fluido; no se midió: {why}.</translation>
    </message>
    <message>
        <source>Fluid runs. Watch what comes; the next answer is taken in {left}.</source>
        <translation>Sale fluido. Mire qué sale; la próxima respuesta se acepta en {left}.</translation>
    </message>
    <message>
        <source>Fluid still comes out, so none is to be added.</source>
        <translation>Todavía sale fluido, así que no se debe añadir más.</translation>
    </message>
    <message>
        <source>Fluid temperature</source>
        <translation>Temp. del fluido</translation>
    </message>
    <message>
        <source>Fluid temperature ({unit})</source>
        <translation>Temperatura del fluido ({unit})</translation>
    </message>
    <message>
        <source>Folder</source>
        <translation>Carpeta</translation>
    </message>
    <message>
        <source>Folder for backups</source>
        <translation>Carpeta para copias de seguridad</translation>
    </message>
    <message>
        <source>Folder with backups</source>
        <translation>Carpeta con copias de seguridad</translation>
    </message>
    <message>
        <source>For the rest of this check only what you key counts as the fluid temperature.</source>
        <translation>En lo que queda de esta comprobación solo vale como temperatura del fluido la que usted teclee.</translation>
    </message>
    <message>
        <source>For the rest of this check only your taps say where the selector stands.</source>
        <translation>En lo que queda de esta comprobación solo usted indica dónde está el selector.</translation>
    </message>
    <message>
        <source>For the rest of this check only your taps say whether the engine runs, and you note its speed.</source>
        <translation>En lo que queda de esta comprobación solo usted indica si el motor está en marcha, y anota su régimen.</translation>
    </message>
    <message>
        <source>For the sheet&apos;s signal map; choose and copy:</source>
        <translation>Para el mapa de señales de la hoja; seleccione y copie:</translation>
    </message>
    <message>
        <source>Found</source>
        <translation>Encontrado</translation>
    </message>
    <message>
        <source>From</source>
        <translation>Desde</translation>
    </message>
    <message>
        <source>From one end of the {word} band to the other, growth moves the fluid level by {found}, more than the {limit} by which it may be off.</source>
        <translation>De un extremo a otro de la banda {word}, la dilatación mueve el nivel de fluido {found}, más de los {limit} que puede desviarse.</translation>
    </message>
    <message>
        <source>From the top</source>
        <translation>Desde arriba</translation>
    </message>
    <message>
        <source>From the vehicle&apos;s bus</source>
        <translation>Del bus del vehículo</translation>
    </message>
    <message>
        <source>From the vehicle: {signals}.</source>
        <translation>Del vehículo: {signals}.</translation>
    </message>
    <message>
        <source>From {name} to</source>
        <translation>De {name} a</translation>
    </message>
    <message>
        <source>Functional: all control units</source>
        <translation>Funcionales: todas las unidades</translation>
    </message>
    <message>
        <source>Generic OBD carries no transmission-fluid temperature. It comes from the maker&apos;s identifier in the spec sheet&apos;s signal map, from a J1939 broadcast, or it is keyed from an instrument.</source>
        <translation>El OBD genérico no lleva la temperatura del fluido de la transmisión. Viene del identificador del fabricante en el mapa de señales de la hoja de especificaciones, de una difusión J1939, o se teclea de un instrumento.</translation>
    </message>
    <message>
        <source>Generic OBD has no transmission-fluid temperature: where it is on this vehicle, the spec sheet&apos;s signal map must say.</source>
        <translation>El OBD genérico no tiene la temperatura del fluido de la transmisión: dónde está en este vehículo lo debe decir el mapa de señales de la hoja de especificaciones.</translation>
    </message>
    <message>
        <source>Get clear. Park, lift locked, and only then the plug in.</source>
        <translation>Apártese. Estacionamiento, elevador bloqueado y solo entonces el tapón.</translation>
    </message>
    <message>
        <source>Getting ready to go on…</source>
        <translation>Preparando la continuación…</translation>
    </message>
    <message>
        <source>Give it up for this check</source>
        <translation>Prescindir de ella esta vez</translation>
    </message>
    <message>
        <source>Given up while {doing}.</source>
        <translation>Abandonado mientras se estaba {doing}.</translation>
    </message>
    <message>
        <source>Given up.</source>
        <translation>Abandonado.</translation>
    </message>
    <message>
        <source>Go on</source>
        <translation>Continuar</translation>
    </message>
    <message>
        <source>Go on against this reason</source>
        <translation>Continuar a pesar de este motivo</translation>
    </message>
    <message>
        <source>Go on by keyed temperatures</source>
        <translation>Seguir con temperaturas tecleadas</translation>
    </message>
    <message>
        <source>Go on by keyed temperatures…</source>
        <translation>Seguir con temperaturas tecleadas…</translation>
    </message>
    <message>
        <source>Go on by taps for the engine</source>
        <translation>Seguir a mano con el motor</translation>
    </message>
    <message>
        <source>Go on by taps for the selector</source>
        <translation>Seguir a mano con el selector</translation>
    </message>
    <message>
        <source>Go on with this check</source>
        <translation>Continuar esta comprobación</translation>
    </message>
    <message>
        <source>Going through the record of the check…</source>
        <translation>Repasando el registro de la comprobación…</translation>
    </message>
    <message>
        <source>Gone on with</source>
        <translation>Continuada</translation>
    </message>
    <message>
        <source>Gun and sensor agree within {allowed}.</source>
        <translation>El termómetro infrarrojo y el sensor coinciden dentro de {allowed}.</translation>
    </message>
    <message>
        <source>Gun and sensor lie on different sides of the shop air, which no surface can explain. Aim again; if it stays, doubt the sensor.</source>
        <translation>El termómetro infrarrojo y el sensor quedan a lados distintos del aire del taller, lo que ninguna superficie explica. Apunte de nuevo; si persiste, dude del sensor.</translation>
    </message>
    <message>
        <source>Hand over</source>
        <translation>Pasar a otro</translation>
    </message>
    <message>
        <source>Hand this check over</source>
        <translation>Pasar esta comprobación a otro técnico</translation>
    </message>
    <message>
        <source>Handed over</source>
        <translation>Entregada</translation>
    </message>
    <message>
        <source>Have the fluid changed.</source>
        <translation>Haga cambiar el fluido.</translation>
    </message>
    <message>
        <source>Have the fluid looked at again at the next service.</source>
        <translation>Haga revisar de nuevo el fluido en el próximo servicio.</translation>
    </message>
    <message>
        <source>Have the transmission inspected before long.</source>
        <translation>Haga inspeccionar pronto la transmisión.</translation>
    </message>
    <message>
        <source>Heard {frames:,} frames with {identifiers} identifiers and {errors:,} error frames.</source>
        <translation>Se oyeron {frames:,} tramas con {identifiers} identificadores y {errors:,} tramas de error.</translation>
    </message>
    <message>
        <source>Hold each range: {ranges}. Now: {stands}</source>
        <translation>Mantenga cada posición: {ranges}. Ahora: {stands}</translation>
    </message>
    <message>
        <source>Hold the button until the bar is full.</source>
        <translation>Mantenga el botón hasta que la barra esté llena.</translation>
    </message>
    <message>
        <source>Hold the button: cautions read</source>
        <translation>Mantenga pulsado: ya las leí</translation>
    </message>
    <message>
        <source>Hold {what} for another {left}, brake held.</source>
        <translation>Mantenga {what} otros {left} con el freno pisado.</translation>
    </message>
    <message>
        <source>Hold {what}: {left}</source>
        <translation>Mantenga {what}: {left}</translation>
    </message>
    <message>
        <source>Hold: I have read this</source>
        <translation>Mantenga pulsado: lo he leído</translation>
    </message>
    <message>
        <source>Holds</source>
        <translation>Contiene</translation>
    </message>
    <message>
        <source>Hot fluid and hot metal overhead. Eyes and hands covered.</source>
        <translation>Fluido y metal calientes por encima. Ojos y manos protegidos.</translation>
    </message>
    <message>
        <source>Hot fluid follows; hot metal is overhead. Eyes and hands covered.</source>
        <translation>Sale fluido caliente; arriba hay metal caliente. Ojos y manos protegidos.</translation>
    </message>
    <message>
        <source>Hot fluid may be running off under a running engine, and nobody watched its temperature. Gloves and eye protection. Look at the plug hole, the catch pan and the lift before you reach in; where in doubt, put the plug in.</source>
        <translation>Puede estar saliendo fluido caliente con el motor en marcha, y nadie vigiló su temperatura. Guantes y protección ocular. Mire el orificio del tapón, la bandeja de recogida y el elevador antes de meter la mano; en caso de duda, ponga el tapón.</translation>
    </message>
    <message>
        <source>Hot surface</source>
        <translation>Superficie caliente</translation>
    </message>
    <message>
        <source>How long it stood</source>
        <translation>Tiempo parado</translation>
    </message>
    <message>
        <source>How long it stood is not said, so being cold proves little.</source>
        <translation>No se indica cuánto tiempo estuvo parado, así que estar frío prueba poco.</translation>
    </message>
    <message>
        <source>How much ran off into the catch pan?</source>
        <translation>¿Cuánto rebosó a la bandeja de recogida?</translation>
    </message>
    <message>
        <source>I unlock the lift</source>
        <translation>Desbloqueo el elevador</translation>
    </message>
    <message>
        <source>IN</source>
        <translation>PUESTO</translation>
    </message>
    <message>
        <source>Identifiers</source>
        <translation>Identificadores</translation>
    </message>
    <message>
        <source>Identifiers asked for: {asked}; answered: {found}.</source>
        <translation>Identificadores consultados: {asked}; contestados: {found}.</translation>
    </message>
    <message>
        <source>Identifiers asked for: {asked}; answered: {found}; locked: {locked}.</source>
        <translation>Identificadores consultados: {asked}; contestados: {found}; bloqueados: {locked}.</translation>
    </message>
    <message>
        <source>Identifiers go from 0000 to FFFF, the first one first.</source>
        <translation>Los identificadores van de 0000 a FFFF, el menor primero.</translation>
    </message>
    <message>
        <source>Identifiers go from 0000 to FFFF.</source>
        <translation>Los identificadores van de 0000 a FFFF.</translation>
    </message>
    <message>
        <source>Identify the vehicle</source>
        <translation>Identificar el vehículo</translation>
    </message>
    <message>
        <source>Idle in park: {left}</source>
        <translation>Ralentí en estacionamiento: {left}</translation>
    </message>
    <message>
        <source>Idle speed</source>
        <translation>Ralentí</translation>
    </message>
    <message>
        <source>Idle speed noted</source>
        <translation>Régimen de ralentí anotado</translation>
    </message>
    <message>
        <source>Idle speed {value}, limit {limit}</source>
        <translation>Ralentí {value}, límite {limit}</translation>
    </message>
    <message>
        <source>Idled in park for {time}: done</source>
        <translation>Ralentí en estacionamiento durante {time}: cumplido</translation>
    </message>
    <message>
        <source>If it reads so on the vehicle, press again.</source>
        <translation>Si en el vehículo pone lo mismo, pulse otra vez.</translation>
    </message>
    <message>
        <source>If started now: {time}</source>
        <translation>Si arranca ahora: {time}</translation>
    </message>
    <message>
        <source>If the drive was taken away, connect it again. The check goes on; it is written by itself as soon as the disk takes it. Do not switch this computer off.</source>
        <translation>Si se retiró la unidad, vuelva a conectarla. La comprobación sigue; se escribe sola en cuanto el disco lo admita. No apague este equipo.</translation>
    </message>
    <message>
        <source>If the engine starts now: {outlook}.</source>
        <translation>Si el motor arranca ahora: {outlook}.</translation>
    </message>
    <message>
        <source>In band</source>
        <translation>En banda</translation>
    </message>
    <message>
        <source>In band, fresh</source>
        <translation>En banda, reciente</translation>
    </message>
    <message>
        <source>In band, not steady yet</source>
        <translation>En banda, aún no estable</translation>
    </message>
    <message>
        <source>In hand: {product}</source>
        <translation>Producto: {product}</translation>
    </message>
    <message>
        <source>In reach</source>
        <translation>Reserva</translation>
    </message>
    <message>
        <source>In the band at {temperature}.</source>
        <translation>En banda a {temperature}.</translation>
    </message>
    <message>
        <source>In the band at {temperature}: read the cautions, then the plug may come out.</source>
        <translation>En banda a {temperature}: lea las advertencias; luego ya se puede quitar el tapón.</translation>
    </message>
    <message>
        <source>In the band at {temperature}: the plug may come out.</source>
        <translation>En banda a {temperature}: ya se puede quitar el tapón.</translation>
    </message>
    <message>
        <source>In the band. What is listed beside still stands against it.</source>
        <translation>En la banda. Lo que figura al lado aún lo impide.</translation>
    </message>
    <message>
        <source>In the band: wait for steady readings</source>
        <translation>En banda: espere lecturas estables</translation>
    </message>
    <message>
        <source>Infrared gun (if used)</source>
        <translation>Infrarrojo (si se usa)</translation>
    </message>
    <message>
        <source>Input should be a valid boolean</source>
        <translation>Debe ser true o false</translation>
    </message>
    <message>
        <source>Input should be a valid dictionary</source>
        <translation>Debe ser una tabla</translation>
    </message>
    <message>
        <source>Input should be a valid integer</source>
        <translation>Debe ser un número entero</translation>
    </message>
    <message>
        <source>Input should be a valid integer, unable to parse string as an integer</source>
        <translation>Debe ser un número entero válido</translation>
    </message>
    <message>
        <source>Input should be a valid number</source>
        <translation>Debe ser un número</translation>
    </message>
    <message>
        <source>Input should be a valid number, unable to parse string as a number</source>
        <translation>Debe ser un número válido</translation>
    </message>
    <message>
        <source>Input should be a valid string</source>
        <translation>Debe ser un texto</translation>
    </message>
    <message>
        <source>Input should be a valid tuple</source>
        <translation>Debe ser una lista</translation>
    </message>
    <message>
        <source>Input should be greater than or equal to {least}</source>
        <translation>Debe ser mayor o igual que {least}</translation>
    </message>
    <message>
        <source>Input should be less than or equal to {most}</source>
        <translation>Debe ser menor o igual que {most}</translation>
    </message>
    <message>
        <source>Input should be {known}</source>
        <translation>Debe ser {known}</translation>
    </message>
    <message>
        <source>Input tag {tag} found using {key} does not match any of the expected tags: {known}</source>
        <translation>{key} no puede ser {tag}; se conocen: {known}</translation>
    </message>
    <message>
        <source>Inspect the seal. Press if it is good.</source>
        <translation>Inspeccione la junta. Pulse si está bien.</translation>
    </message>
    <message>
        <source>It began {first} from the coolant, as all fluids of a cold vehicle do.</source>
        <translation>Empezó a {first} del refrigerante, como todos los fluidos de un vehículo frío.</translation>
    </message>
    <message>
        <source>It belongs to a shop of its own: {shop}. Vehicles, fluids and people are invented too.</source>
        <translation>Pertenece a un taller aparte: {shop}. También los vehículos, los fluidos y las personas son inventados.</translation>
    </message>
    <message>
        <source>It changed by {first} a minute at most.</source>
        <translation>Cambió como máximo {first} por minuto.</translation>
    </message>
    <message>
        <source>It changed by {first} a minute, faster than a fluid at idle.</source>
        <translation>Cambió {first} por minuto, más rápido que un fluido al ralentí.</translation>
    </message>
    <message>
        <source>It comes again: there is no need to give it up.</source>
        <translation>Vuelve a llegar: no hace falta prescindir de ella.</translation>
    </message>
    <message>
        <source>It counts in steps of {first}, coarser than a sensor.</source>
        <translation>Cuenta en pasos de {first}, más gruesos que los de un sensor.</translation>
    </message>
    <message>
        <source>It counts in steps of {first}.</source>
        <translation>Cuenta en pasos de {first}.</translation>
    </message>
    <message>
        <source>It drips</source>
        <translation>Gotea</translation>
    </message>
    <message>
        <source>It goes on the record with your name.</source>
        <translation>Queda en el registro con su nombre.</translation>
    </message>
    <message>
        <source>It goes up and down: {first} of the way remained.</source>
        <translation>Sube y baja: quedó el {first} del recorrido.</translation>
    </message>
    <message>
        <source>It hears the vehicle, but no control unit answers generic requests.</source>
        <translation>Oye el vehículo, pero ninguna unidad de control contesta a peticiones genéricas.</translation>
    </message>
    <message>
        <source>It hears the vehicle; nothing was asked.</source>
        <translation>Oye el vehículo; no se preguntó nada.</translation>
    </message>
    <message>
        <source>It holds everything that the present records hold.</source>
        <translation>Contiene todo lo que contienen los registros actuales.</translation>
    </message>
    <message>
        <source>It is checked from end to end first; the present records are then moved aside.</source>
        <translation>Primero se verifica de principio a fin; luego los registros actuales se apartan.</translation>
    </message>
    <message>
        <source>It is closed; only its seal is missing.</source>
        <translation>Está cerrada; solo falta su sello.</translation>
    </message>
    <message>
        <source>It is known as something else: {word}.</source>
        <translation>Se conoce como otra cosa: {word}.</translation>
    </message>
    <message>
        <source>It is not known whether the engine runs.</source>
        <translation>No se sabe si el motor está en marcha.</translation>
    </message>
    <message>
        <source>It is not known whether the selector is in park.</source>
        <translation>No se sabe si el selector está en estacionamiento.</translation>
    </message>
    <message>
        <source>It is stripped: stop the check</source>
        <translation>Está dañada: detener la comprobación</translation>
    </message>
    <message>
        <source>It is too early to tell how long the band lasts.</source>
        <translation>Aún es pronto para saber cuánto dura la banda.</translation>
    </message>
    <message>
        <source>It is too early to tell when the band comes.</source>
        <translation>Aún es pronto para saber cuándo llega la banda.</translation>
    </message>
    <message>
        <source>It jumps, as no fluid does.</source>
        <translation>Da saltos, como no lo hace ningún fluido.</translation>
    </message>
    <message>
        <source>It knows {count} earlier warm-up of this family.</source>
        <translation>Conoce {count} calentamiento anterior de esta familia.</translation>
    </message>
    <message>
        <source>It knows {count} earlier warm-ups of this family.</source>
        <translation>Conoce {count} calentamientos anteriores de esta familia.</translation>
    </message>
    <message>
        <source>It leaks</source>
        <translation>Pierde</translation>
    </message>
    <message>
        <source>It leaks. Torque the check plug to {limit} again, or stop.</source>
        <translation>Pierde. Apriete de nuevo el tapón de nivel a {limit}, o detenga la comprobación.</translation>
    </message>
    <message>
        <source>It leaks: torque again, {limit}</source>
        <translation>Pierde: apriete de nuevo, {limit}</translation>
    </message>
    <message>
        <source>It may never slow to {found}: warming alone brings {limit} over the rim.</source>
        <translation>Puede que nunca baje a {found}: solo el calentamiento hace pasar {limit} por el borde.</translation>
    </message>
    <message>
        <source>It may not get there at all.</source>
        <translation>Puede que no llegue nunca.</translation>
    </message>
    <message>
        <source>It rose by {first} only.</source>
        <translation>Subió solo {first}.</translation>
    </message>
    <message>
        <source>It rose by {first} while the coolant rose by {second}, as a transmission&apos;s fluid lags.</source>
        <translation>Subió {first} mientras el refrigerante subía {second}, con el retraso propio del fluido de una transmisión.</translation>
    </message>
    <message>
        <source>It rose by {first} while the coolant rose by {second}; a transmission&apos;s fluid usually lags more.</source>
        <translation>Subió {first} mientras el refrigerante subía {second}; el fluido de una transmisión suele retrasarse más.</translation>
    </message>
    <message>
        <source>It rose by {first} while the engine warmed.</source>
        <translation>Subió {first} mientras el motor se calentaba.</translation>
    </message>
    <message>
        <source>It rose steadily: {first} of all ups and downs remained.</source>
        <translation>Subió de forma constante: quedó el {first} de todas las subidas y bajadas.</translation>
    </message>
    <message>
        <source>It runs</source>
        <translation>Sale</translation>
    </message>
    <message>
        <source>It stayed between {first} and {second}.</source>
        <translation>Se mantuvo entre {first} y {second}.</translation>
    </message>
    <message>
        <source>It stays within {first} of the coolant: it may be the coolant itself.</source>
        <translation>Se mantiene a menos de {first} del refrigerante: puede ser el propio refrigerante.</translation>
    </message>
    <message>
        <source>It stood until all was equally cold</source>
        <translation>Estuvo parado hasta enfriarse por igual</translation>
    </message>
    <message>
        <source>It then lasts some {stay}.</source>
        <translation>Luego dura unos {stay}.</translation>
    </message>
    <message>
        <source>It was given up.</source>
        <translation>Se abandonó.</translation>
    </message>
    <message>
        <source>It was not measured</source>
        <translation>No se midió</translation>
    </message>
    <message>
        <source>It was stopped; say how plug and engine stand, and end it.</source>
        <translation>Se detuvo; indique cómo están el tapón y el motor, y termínela.</translation>
    </message>
    <message>
        <source>It was watched for {first} only.</source>
        <translation>Se observó solo durante {first}.</translation>
    </message>
    <message>
        <source>It went from {first} to {second}, which no fluid does.</source>
        <translation>Fue de {first} a {second}, lo que no hace ningún fluido.</translation>
    </message>
    <message>
        <source>It works: One control unit answered.</source>
        <translation>Funciona: contestó una unidad de control.</translation>
    </message>
    <message>
        <source>It works: {count} control units answered.</source>
        <translation>Funciona: contestaron {count} unidades de control.</translation>
    </message>
    <message>
        <source>Its seals do not all hold: {fault}</source>
        <translation>No todos sus sellos son válidos: {fault}</translation>
    </message>
    <message>
        <source>Its temperature (if known)</source>
        <translation>Su temperatura (si se sabe)</translation>
    </message>
    <message>
        <source>J1939 SPN {spn} from source address {address:02X}</source>
        <translation>SPN {spn} de J1939, dirección de origen {address:02X}</translation>
    </message>
    <message>
        <source>JPEG, PNG or WebP pictures, PDF and plain text</source>
        <translation>imágenes JPEG, PNG o WebP, PDF y texto sin formato</translation>
    </message>
    <message>
        <source>Jan</source>
        <translation>ene</translation>
    </message>
    <message>
        <source>Judge nothing by the last temperature shown. Plug in if no reading comes within {left}.</source>
        <translation>No juzgue nada por la última temperatura mostrada. Tapón puesto si no llega una lectura en {left}.</translation>
    </message>
    <message>
        <source>Judge the first fluid</source>
        <translation>Juzgue el primer fluido</translation>
    </message>
    <message>
        <source>Judge the first fluid at the screen, before anything is added.</source>
        <translation>Juzgue el primer fluido en la pantalla, antes de añadir nada.</translation>
    </message>
    <message>
        <source>Jul</source>
        <translation>jul</translation>
    </message>
    <message>
        <source>Jun</source>
        <translation>jun</translation>
    </message>
    <message>
        <source>Keep</source>
        <translation>Conservar</translation>
    </message>
    <message>
        <source>Keep holding…</source>
        <translation>Siga pulsando…</translation>
    </message>
    <message>
        <source>Keeping the file…</source>
        <translation>Guardando el archivo…</translation>
    </message>
    <message>
        <source>Key in the fluid temperature</source>
        <translation>Teclee la temperatura del fluido</translation>
    </message>
    <message>
        <source>Key in the fluid temperature now, or put the plug in.</source>
        <translation>Teclee ahora la temperatura del fluido, o ponga el tapón.</translation>
    </message>
    <message>
        <source>Key in the idle speed</source>
        <translation>Teclee el régimen de ralentí</translation>
    </message>
    <message>
        <source>Keyed from an instrument</source>
        <translation>Leída en un instrumento y tecleada</translation>
    </message>
    <message>
        <source>Kind</source>
        <translation>Tipo</translation>
    </message>
    <message>
        <source>Kind of adapter</source>
        <translation>Tipo de adaptador</translation>
    </message>
    <message>
        <source>Language</source>
        <translation>Idioma</translation>
    </message>
    <message>
        <source>Largest angle {angle:.1f}°, allowed {allowed:.1f}°. This leaves {off}; the allowed tilt costs {most} at most, the fluid level may be off by {accepted}.</source>
        <translation>Ángulo mayor {angle:.1f}°, permitido {allowed:.1f}°. Esto deja {off}; la inclinación permitida cuesta {most} como máximo, el nivel de fluido puede desviarse {accepted}.</translation>
    </message>
    <message>
        <source>Last answer: {tap}</source>
        <translation>Última respuesta: {tap}</translation>
    </message>
    <message>
        <source>Last backup: {moment} to {folder}.</source>
        <translation>Última copia de seguridad: {moment} en {folder}.</translation>
    </message>
    <message>
        <source>Leave it for now</source>
        <translation>Dejarlo por ahora</translation>
    </message>
    <message>
        <source>Leave it open</source>
        <translation>Dejarlo abierto</translation>
    </message>
    <message>
        <source>Leave it open: to the first screen</source>
        <translation>Dejarla abierta: a la primera pantalla</translation>
    </message>
    <message>
        <source>Leave whatever you do not know yet: all of it is found again under “Settings…” on the first screen.</source>
        <translation>Deje lo que aún no sepa: todo se encuentra de nuevo en “Ajustes…” en la primera pantalla.</translation>
    </message>
    <message>
        <source>Leaves about {at} ({first}–{last})</source>
        <translation>Sale hacia {at} ({first}–{last})</translation>
    </message>
    <message>
        <source>Leaves the band after {first}</source>
        <translation>Sale de banda después de {first}</translation>
    </message>
    <message>
        <source>Lengthwise</source>
        <translation>A lo largo</translation>
    </message>
    <message>
        <source>Lengthwise, turned</source>
        <translation>A lo largo, girado</translation>
    </message>
    <message>
        <source>Let it settle: {left}</source>
        <translation>Déjelo asentar: {left}</translation>
    </message>
    <message>
        <source>Let the engine idle in park for another {left}.</source>
        <translation>Deje el motor al ralentí en estacionamiento otros {left}.</translation>
    </message>
    <message>
        <source>Let the fluid circulate for another {left}, engine idling in park.</source>
        <translation>Deje circular el fluido otros {left}, con el motor al ralentí en estacionamiento.</translation>
    </message>
    <message>
        <source>Let the fluid circulate: {left}</source>
        <translation>Deje circular el fluido: {left}</translation>
    </message>
    <message>
        <source>Level corrected</source>
        <translation>Nivel corregido</translation>
    </message>
    <message>
        <source>Level set</source>
        <translation>Nivel ajustado</translation>
    </message>
    <message>
        <source>Light</source>
        <translation>Claro</translation>
    </message>
    <message>
        <source>Listen</source>
        <translation>Escuchar</translation>
    </message>
    <message>
        <source>Listen before anything is sent</source>
        <translation>Escuchar antes de enviar nada</translation>
    </message>
    <message>
        <source>Listening, then asking every control unit…</source>
        <translation>Escuchando; luego se pregunta a cada unidad de control…</translation>
    </message>
    <message>
        <source>Listening. Let the engine idle: what warms slowly and steadily shows itself.</source>
        <translation>Escuchando. Deje el motor al ralentí: lo que se calienta despacio y de forma constante se delata.</translation>
    </message>
    <message>
        <source>Look</source>
        <translation>Aspecto</translation>
    </message>
    <message>
        <source>Look again</source>
        <translation>Buscar de nuevo</translation>
    </message>
    <message>
        <source>Look and language</source>
        <translation>Aspecto e idioma</translation>
    </message>
    <message>
        <source>Look at plug and pan. Press if both are dry.</source>
        <translation>Mire el tapón y el cárter. Pulse si ambos están secos.</translation>
    </message>
    <message>
        <source>Look at the vehicle, then say both:</source>
        <translation>Mire el vehículo e indique ambas cosas:</translation>
    </message>
    <message>
        <source>Look in another folder…</source>
        <translation>Buscar en otra carpeta…</translation>
    </message>
    <message>
        <source>Look whether the engine runs. Plug in if the vehicle does not tell it within {left}.</source>
        <translation>Mire si el motor está en marcha. Tapón puesto si el vehículo no lo dice en {left}.</translation>
    </message>
    <message>
        <source>Looking at the records…</source>
        <translation>Mirando los registros…</translation>
    </message>
    <message>
        <source>Looking for adapters…</source>
        <translation>Buscando adaptadores…</translation>
    </message>
    <message>
        <source>Looking for copies…</source>
        <translation>Buscando copias…</translation>
    </message>
    <message>
        <source>Looking through the records after an unclean end</source>
        <translation>Revisando los registros tras un cierre incorrecto</translation>
    </message>
    <message>
        <source>Looking…</source>
        <translation>Buscando…</translation>
    </message>
    <message>
        <source>Lot</source>
        <translation>Lote</translation>
    </message>
    <message>
        <source>Lower the lift: {what} was not held</source>
        <translation>Baje el elevador: {what} no se mantuvo</translation>
    </message>
    <message>
        <source>Lower the vehicle first.</source>
        <translation>Baje primero el vehículo.</translation>
    </message>
    <message>
        <source>Made</source>
        <translation>Hecha</translation>
    </message>
    <message>
        <source>Mar</source>
        <translation>mar</translation>
    </message>
    <message>
        <source>Marks</source>
        <translation>Notas</translation>
    </message>
    <message>
        <source>Match the fluid</source>
        <translation>Cotejar el fluido</translation>
    </message>
    <message>
        <source>Match the fluid in hand</source>
        <translation>Coteje el fluido que va a usar</translation>
    </message>
    <message>
        <source>Match the product in hand against the spec sheet, at the screen.</source>
        <translation>Coteje en la pantalla el producto que va a usar con la hoja de especificaciones.</translation>
    </message>
    <message>
        <source>Match the product in hand, choose the fill path, confirm the items.</source>
        <translation>Coteje el producto que va a usar, elija la vía de llenado y confirme los puntos.</translation>
    </message>
    <message>
        <source>May</source>
        <translation>may</translation>
    </message>
    <message>
        <source>Meanwhile</source>
        <translation>Mientras tanto</translation>
    </message>
    <message>
        <source>Meanwhile: catch pan under the plug, pump and fluid at hand.</source>
        <translation>Mientras tanto: bandeja de recogida bajo el tapón, bomba y fluido al alcance.</translation>
    </message>
    <message>
        <source>Measure the vehicle&apos;s tilt</source>
        <translation>Mida la inclinación del vehículo</translation>
    </message>
    <message>
        <source>Measure the vehicle&apos;s tilt on its datum, each way and turned round.</source>
        <translation>Mida la inclinación del vehículo en su referencia, en cada sentido y girando el instrumento.</translation>
    </message>
    <message>
        <source>Metric</source>
        <translation>Métrico</translation>
    </message>
    <message>
        <source>More ran off than was added, though nothing came at first: an amount is wrong, check both.</source>
        <translation>Salió más de lo añadido, aunque al principio no salía nada: una cantidad está mal, revise las dos.</translation>
    </message>
    <message>
        <source>More than {most_characters} characters cannot be looked for.</source>
        <translation>No se pueden buscar más de {most_characters} caracteres.</translation>
    </message>
    <message>
        <source>Moving parts</source>
        <translation>Piezas móviles</translation>
    </message>
    <message>
        <source>Mute everything</source>
        <translation>Silenciar todo</translation>
    </message>
    <message>
        <source>NEW</source>
        <translation>NUEVA</translation>
    </message>
    <message>
        <source>NOT KNOWN</source>
        <translation>NO SE SABE</translation>
    </message>
    <message>
        <source>NOT SAVED since {at}</source>
        <translation>SIN GUARDAR desde {at}</translation>
    </message>
    <message>
        <source>NOT SAVED since {at}: {count:,} entries are only in this computer&apos;s memory</source>
        <translation>SIN GUARDAR desde {at}: {count:,} entradas están solo en la memoria de este equipo</translation>
    </message>
    <message>
        <source>NOT SAVED since {at}: {count} entry is only in this computer&apos;s memory</source>
        <translation>SIN GUARDAR desde {at}: {count} entrada está solo en la memoria de este equipo</translation>
    </message>
    <message>
        <source>NOT SEALED since {at}</source>
        <translation>SIN SELLAR desde {at}</translation>
    </message>
    <message>
        <source>NOT SEALED since {at}: {count:,} entries are only in this computer&apos;s memory</source>
        <translation>SIN SELLAR desde {at}: {count:,} entradas están solo en la memoria de este equipo</translation>
    </message>
    <message>
        <source>NOT SEALED since {at}: {count} entry is only in this computer&apos;s memory</source>
        <translation>SIN SELLAR desde {at}: {count} entrada está solo en la memoria de este equipo</translation>
    </message>
    <message>
        <source>NOTICE</source>
        <translation>AVISO</translation>
    </message>
    <message>
        <source>Name</source>
        <translation>Nombre</translation>
    </message>
    <message>
        <source>Net {amount} in at {at}.</source>
        <translation>Neto: {amount} añadidos, a {at}.</translation>
    </message>
    <message>
        <source>Net {amount} out at {at}.</source>
        <translation>Neto: {amount} salidos, a {at}.</translation>
    </message>
    <message>
        <source>Net {measured} in as measured; at {at} not known.</source>
        <translation>Neto: {measured} añadidos según lo medido; a {at} no se sabe.</translation>
    </message>
    <message>
        <source>Net {measured} out as measured; at {at} not known.</source>
        <translation>Neto: {measured} salidos según lo medido; a {at} no se sabe.</translation>
    </message>
    <message>
        <source>Newest kept</source>
        <translation>Últimas que se guardan</translation>
    </message>
    <message>
        <source>Next field</source>
        <translation>Campo siguiente</translation>
    </message>
    <message>
        <source>Next track</source>
        <translation>Pista siguiente</translation>
    </message>
    <message>
        <source>No adapter was found. Plug it in and look again, or choose its kind and type its channel.</source>
        <translation>No se encontró ningún adaptador. Enchúfelo y busque de nuevo, o elija su tipo y escriba su canal.</translation>
    </message>
    <message>
        <source>No backups are made: choose a folder for them.</source>
        <translation>No se hacen copias de seguridad: elija una carpeta para ellas.</translation>
    </message>
    <message>
        <source>No camera here: a library is missing ({detail}). Add a file instead.</source>
        <translation>Aquí no hay cámara: falta una biblioteca ({detail}). Añada un archivo en su lugar.</translation>
    </message>
    <message>
        <source>No camera here: this computer has none. Add a file instead.</source>
        <translation>Aquí no hay cámara: este equipo no tiene ninguna. Añada un archivo en su lugar.</translation>
    </message>
    <message>
        <source>No check has been finished yet. Begin one on the left, or the demonstration below.</source>
        <translation>Aún no se ha terminado ninguna comprobación. Empiece una a la izquierda, o la demostración de abajo.</translation>
    </message>
    <message>
        <source>No connection is chosen yet: press “Connection…” to choose and try one.</source>
        <translation>Aún no se ha elegido una conexión: pulse “Conexión…” para elegir y probar una.</translation>
    </message>
    <message>
        <source>No connection to a vehicle is set: give --interface and --channel; “brimline bus list” shows what there is.</source>
        <translation>No hay conexión con un vehículo: indique --interface y --channel; “brimline bus list” muestra lo que hay.</translation>
    </message>
    <message>
        <source>No connection to a vehicle&apos;s bus is chosen yet: see “Connection…”.</source>
        <translation>Aún no se ha elegido una conexión con el bus de un vehículo: véase “Conexión…”.</translation>
    </message>
    <message>
        <source>No connection to a vehicle&apos;s bus is chosen: see “Connection…”.</source>
        <translation>No se ha elegido una conexión con el bus de un vehículo: véase “Conexión…”.</translation>
    </message>
    <message>
        <source>No copy anywhere?</source>
        <translation>¿No hay ninguna copia?</translation>
    </message>
    <message>
        <source>No copy was found. Connect the disk or share with the backups and look there, or look in another folder.</source>
        <translation>No se encontró ninguna copia. Conecte el disco o recurso compartido con las copias y busque allí, o busque en otra carpeta.</translation>
    </message>
    <message>
        <source>No driver for any kind of adapter is installed on this computer: install the one that came with the adapter, then look again.</source>
        <translation>En este equipo no hay instalado ningún controlador de adaptador: instale el que venía con el adaptador y busque de nuevo.</translation>
    </message>
    <message>
        <source>No earlier warm-up of this family is known in this shop.</source>
        <translation>En este taller no se conoce ningún calentamiento anterior de esta familia.</translation>
    </message>
    <message>
        <source>No fill path has been chosen.</source>
        <translation>No se ha elegido ninguna vía de llenado.</translation>
    </message>
    <message>
        <source>No fluid chosen yet: type or choose the one in hand.</source>
        <translation>Aún no hay fluido: escriba o elija el que va a usar.</translation>
    </message>
    <message>
        <source>No fresh reading of the fluid temperature.</source>
        <translation>Sin lectura reciente de la temperatura del fluido.</translation>
    </message>
    <message>
        <source>No fresh temperature: take it that the fluid burns skin immediately.</source>
        <translation>No hay temperatura reciente: dé por hecho que el fluido quema la piel de inmediato.</translation>
    </message>
    <message>
        <source>No further action for the fluid.</source>
        <translation>El fluido no requiere ninguna acción más.</translation>
    </message>
    <message>
        <source>No photo yet: add one of the fluid on something white.</source>
        <translation>Aún no hay foto: añada una del fluido sobre algo blanco.</translation>
    </message>
    <message>
        <source>No reading of the {what} comes. Wait for it; see to the cable.</source>
        <translation>No llega ninguna lectura ({what}). Espérela; revise el cable.</translation>
    </message>
    <message>
        <source>No reading yet</source>
        <translation>Aún sin lectura</translation>
    </message>
    <message>
        <source>No reading: {time}</source>
        <translation>Sin lectura: {time}</translation>
    </message>
    <message>
        <source>No reading: {what}</source>
        <translation>Sin lectura: {what}</translation>
    </message>
    <message>
        <source>No readings come. Put the plug in, then press.</source>
        <translation>No llegan lecturas. Ponga el tapón y pulse.</translation>
    </message>
    <message>
        <source>No readings come: put the plug in.</source>
        <translation>No llegan lecturas: ponga el tapón.</translation>
    </message>
    <message>
        <source>No service on a vehicle is on record; tick “Training and replays too” for the rest.</source>
        <translation>No hay registrado ningún servicio en un vehículo; marque “Formación y reproducciones” para ver el resto.</translation>
    </message>
    <message>
        <source>No sounds here but the computer&apos;s beep: a library is missing ({detail}).</source>
        <translation>Aquí no hay más sonido que el pitido del equipo: falta una biblioteca ({detail}).</translation>
    </message>
    <message>
        <source>No sounds here but the computer&apos;s beep: the audio device failed.</source>
        <translation>Aquí no hay más sonido que el pitido del equipo: falló el dispositivo de audio.</translation>
    </message>
    <message>
        <source>No sounds here but the computer&apos;s beep: there is no audio device.</source>
        <translation>Aquí no hay más sonido que el pitido del equipo: no hay dispositivo de audio.</translation>
    </message>
    <message>
        <source>No tilt that the readings could tell.</source>
        <translation>Ninguna inclinación que las lecturas puedan indicar.</translation>
    </message>
    <message>
        <source>No usable {names} from the vehicle for {time}.</source>
        <translation>Sin valores utilizables del vehículo ({names}) desde hace {time}.</translation>
    </message>
    <message>
        <source>No usable {names} has come from the vehicle yet; is the ignition on?</source>
        <translation>Aún no llega del vehículo ningún valor utilizable ({names}); ¿está dado el contacto?</translation>
    </message>
    <message>
        <source>No voice and no sounds here: this window was opened without them.</source>
        <translation>Aquí no hay voz ni sonidos: esta ventana se abrió sin ellos.</translation>
    </message>
    <message>
        <source>No voice here, and no sounds but the computer&apos;s beep: a library is missing ({detail}).</source>
        <translation>Aquí no hay voz ni más sonido que el pitido del equipo: falta una biblioteca ({detail}).</translation>
    </message>
    <message>
        <source>No voice here, and no sounds but the computer&apos;s beep: the program that makes them does not answer.</source>
        <translation>Aquí no hay voz ni más sonido que el pitido del equipo: no contesta el programa que los produce.</translation>
    </message>
    <message>
        <source>No voice here: a library is missing ({detail}).</source>
        <translation>Aquí no hay voz: falta una biblioteca ({detail}).</translation>
    </message>
    <message>
        <source>No voice here: the speech engine does not answer.</source>
        <translation>Aquí no hay voz: el motor de voz no contesta.</translation>
    </message>
    <message>
        <source>No voice here: the speech engine failed ({detail}).</source>
        <translation>Aquí no hay voz: falló el motor de voz ({detail}).</translation>
    </message>
    <message>
        <source>No voice here: the speech engine has none for this language.</source>
        <translation>Aquí no hay voz: el motor de voz no tiene ninguna para este idioma.</translation>
    </message>
    <message>
        <source>No voice here: this computer has no speech engine.</source>
        <translation>Aquí no hay voz: este equipo no tiene motor de voz.</translation>
    </message>
    <message>
        <source>No work order</source>
        <translation>Sin orden de trabajo</translation>
    </message>
    <message>
        <source>No.</source>
        <translation>Núm.</translation>
    </message>
    <message>
        <source>No. {number}</source>
        <translation>N.º {number}</translation>
    </message>
    <message>
        <source>Nobody has looked for a leak yet.</source>
        <translation>Nadie ha buscado aún una fuga.</translation>
    </message>
    <message>
        <source>Nobody has looked whether the check plug is dry. Do not drive before that is done.</source>
        <translation>Nadie ha mirado si el tapón de nivel está seco. No conduzca antes de que se haga.</translation>
    </message>
    <message>
        <source>Nobody has said how much fluid ran off.</source>
        <translation>Nadie ha indicado cuánto fluido rebosó.</translation>
    </message>
    <message>
        <source>Nobody has said yet what comes out of the plug hole.</source>
        <translation>Nadie ha indicado aún qué sale por el orificio del tapón.</translation>
    </message>
    <message>
        <source>Nobody watched</source>
        <translation>Sin vigilancia</translation>
    </message>
    <message>
        <source>Nobody watched for a while. Press to confirm again: {what}.</source>
        <translation>Nadie vigiló durante un tiempo. Pulse para confirmar de nuevo: {what}.</translation>
    </message>
    <message>
        <source>Nose up and right side up are positive.</source>
        <translation>Son positivos el morro arriba y el lado derecho arriba.</translation>
    </message>
    <message>
        <source>Not confirmed: {item}.</source>
        <translation>Sin confirmar: {item}.</translation>
    </message>
    <message>
        <source>Not everything of this check is saved</source>
        <translation>No todo lo de esta comprobación está guardado</translation>
    </message>
    <message>
        <source>Not in it, or not as it is now: {records}.</source>
        <translation>Faltan en ella, o difieren de lo actual: {records}.</translation>
    </message>
    <message>
        <source>Not measured yet: enter the four readings, then write them down.</source>
        <translation>Aún sin medir: introduzca las cuatro lecturas y anótelas.</translation>
    </message>
    <message>
        <source>Not measured, because</source>
        <translation>Sin medir, porque</translation>
    </message>
    <message>
        <source>Not needed where temperatures are keyed from an instrument; it may be chosen at any time.</source>
        <translation>No hace falta si las temperaturas se leen en un instrumento y se teclean; puede elegirse en cualquier momento.</translation>
    </message>
    <message>
        <source>Not so any more: {item}</source>
        <translation>Ya no es así: {item}</translation>
    </message>
    <message>
        <source>Not steady, fresh</source>
        <translation>No estable, reciente</translation>
    </message>
    <message>
        <source>Not the temperature of a transmission&apos;s fluid.</source>
        <translation>No es la temperatura del fluido de una transmisión.</translation>
    </message>
    <message>
        <source>Not tried yet: press “Try it” with the ignition on.</source>
        <translation>Aún sin probar: pulse “Probar la conexión” con el contacto dado.</translation>
    </message>
    <message>
        <source>Not yet: {what}</source>
        <translation>Aún no: {what}</translation>
    </message>
    <message>
        <source>Note</source>
        <translation>Nota</translation>
    </message>
    <message>
        <source>Note it</source>
        <translation>Anotar</translation>
    </message>
    <message>
        <source>Note the idle speed</source>
        <translation>Anotar el régimen de ralentí</translation>
    </message>
    <message>
        <source>Nothing comes</source>
        <translation>No sale nada</translation>
    </message>
    <message>
        <source>Nothing comes. Not to be topped up yet: {why}</source>
        <translation>No sale nada. Aún no se debe añadir: {why}</translation>
    </message>
    <message>
        <source>Nothing comes. Start the pump, then press; {limit} more at most.</source>
        <translation>No sale nada. Ponga en marcha la bomba y pulse; {limit} más como máximo.</translation>
    </message>
    <message>
        <source>Nothing comes: top up in small amounts, {left} more at most.</source>
        <translation>No sale nada: añada en pequeñas cantidades, {left} más como máximo.</translation>
    </message>
    <message>
        <source>Nothing fits the filters.</source>
        <translation>Nada corresponde a los filtros.</translation>
    </message>
    <message>
        <source>Nothing fits “{text}”.</source>
        <translation>Nada corresponde a “{text}”.</translation>
    </message>
    <message>
        <source>Nothing on this computer opens {path}; a PDF viewer is needed.</source>
        <translation>Nada en este ordenador abre {path}; hace falta un visor de PDF.</translation>
    </message>
    <message>
        <source>Nothing ran off</source>
        <translation>No rebosó nada</translation>
    </message>
    <message>
        <source>Nothing stands against it: take the check plug out, then press.</source>
        <translation>Nada lo impide: quite el tapón de nivel y pulse.</translation>
    </message>
    <message>
        <source>Nothing stands against taking the plug out.</source>
        <translation>Nada impide quitar el tapón.</translation>
    </message>
    <message>
        <source>Nothing that could be a temperature has been heard yet: let the engine idle for some minutes, or ask a control unit for identifiers.</source>
        <translation>Aún no se ha oído nada que pueda ser una temperatura: deje el motor al ralentí unos minutos, o pida identificadores a una unidad de control.</translation>
    </message>
    <message>
        <source>Nothing that was tapped in the last {time} can be taken back.</source>
        <translation>Nada de lo pulsado en los últimos {time} puede deshacerse.</translation>
    </message>
    <message>
        <source>Nothing to press</source>
        <translation>Nada que pulsar</translation>
    </message>
    <message>
        <source>Nothing was found.</source>
        <translation>No se encontró nada.</translation>
    </message>
    <message>
        <source>Nothing was sent.</source>
        <translation>No se envió nada.</translation>
    </message>
    <message>
        <source>Nothing went in or out yet.</source>
        <translation>Aún no ha entrado ni salido nada.</translation>
    </message>
    <message>
        <source>Nov</source>
        <translation>nov</translation>
    </message>
    <message>
        <source>Now</source>
        <translation>Ahora</translation>
    </message>
    <message>
        <source>Now listen: the sound of an alarm, and that of a prompt.</source>
        <translation>Escuche: el sonido de una alarma y el de un aviso.</translation>
    </message>
    <message>
        <source>Now listen: the sound of an alarm, that of a prompt, and a sentence.</source>
        <translation>Escuche: el sonido de una alarma, el de un aviso y una frase.</translation>
    </message>
    <message>
        <source>Number pad</source>
        <translation>Teclado numérico</translation>
    </message>
    <message>
        <source>Number pad (F4)</source>
        <translation>Teclado numérico (F4)</translation>
    </message>
    <message>
        <source>OBD PID {pid} in replies {response}</source>
        <translation>PID OBD {pid} en las respuestas {response}</translation>
    </message>
    <message>
        <source>OFF</source>
        <translation>APAGADO</translation>
    </message>
    <message>
        <source>OUT</source>
        <translation>FUERA</translation>
    </message>
    <message>
        <source>Oct</source>
        <translation>oct</translation>
    </message>
    <message>
        <source>Odometer</source>
        <translation>Odómetro</translation>
    </message>
    <message>
        <source>Older</source>
        <translation>Anteriores</translation>
    </message>
    <message>
        <source>On the ground: precondition</source>
        <translation>En el suelo: preparación</translation>
    </message>
    <message>
        <source>On {connection}.</source>
        <translation>En {connection}.</translation>
    </message>
    <message>
        <source>One check was interrupted and not finished.</source>
        <translation>Se interrumpió una comprobación y no se terminó.</translation>
    </message>
    <message>
        <source>One is made after each check, and when the newest is older than this. Each is read back and checked. Of older ones the last of each day, week and month is kept: for 14 days, 8 weeks and 24 months.</source>
        <translation>Se hace una después de cada comprobación y cuando la última supera esta edad. Cada una se relee y se verifica. De las anteriores se guarda la última de cada día, semana y mes: durante 14 días, 8 semanas y 24 meses.</translation>
    </message>
    <message>
        <source>One more</source>
        <translation>1 más</translation>
    </message>
    <message>
        <source>Open it</source>
        <translation>Abrirlo</translation>
    </message>
    <message>
        <source>Opening {connection}, and listening before anything is sent…</source>
        <translation>Abriendo {connection} y escuchando antes de enviar nada…</translation>
    </message>
    <message>
        <source>Opening {connection}…</source>
        <translation>Abriendo {connection}…</translation>
    </message>
    <message>
        <source>Options</source>
        <translation>Opciones</translation>
    </message>
    <message>
        <source>Override</source>
        <translation>Omitir</translation>
    </message>
    <message>
        <source>Override…</source>
        <translation>Omitir…</translation>
    </message>
    <message>
        <source>PID {number}</source>
        <translation>PID {number}</translation>
    </message>
    <message>
        <source>PID {pid:02X} is not this signal</source>
        <translation>el PID {pid:02X} no es esta señal</translation>
    </message>
    <message>
        <source>PIDs {pids}</source>
        <translation>PID {pids}</translation>
    </message>
    <message>
        <source>PLUG</source>
        <translation>TAPÓN</translation>
    </message>
    <message>
        <source>PLUG IS IN</source>
        <translation>TAPÓN PUESTO</translation>
    </message>
    <message>
        <source>PLUG OUT {time}</source>
        <translation>TAPÓN FUERA {time}</translation>
    </message>
    <message>
        <source>Page Down</source>
        <translation>Av Pág</translation>
    </message>
    <message>
        <source>Page Up</source>
        <translation>Re Pág</translation>
    </message>
    <message>
        <source>Particles</source>
        <translation>Partículas</translation>
    </message>
    <message>
        <source>Photo of</source>
        <translation>Foto de</translation>
    </message>
    <message>
        <source>Photos and files (*.jpg *.jpeg *.png *.webp *.pdf *.txt);;All files (*)</source>
        <translation>Fotos y archivos (*.jpg *.jpeg *.png *.webp *.pdf *.txt);;Todos los archivos (*)</translation>
    </message>
    <message>
        <source>Physical: one control unit</source>
        <translation>Físicas: una unidad</translation>
    </message>
    <message>
        <source>Plate</source>
        <translation>Matrícula</translation>
    </message>
    <message>
        <source>Plug hole: {flow}.</source>
        <translation>Orificio del tapón: {flow}.</translation>
    </message>
    <message>
        <source>Plug in</source>
        <translation>Tapón puesto</translation>
    </message>
    <message>
        <source>Plug in at once</source>
        <translation>Tapón puesto ya</translation>
    </message>
    <message>
        <source>Plug in before anything else.</source>
        <translation>Ponga el tapón antes que nada.</translation>
    </message>
    <message>
        <source>Plug in now</source>
        <translation>Ponga ya el tapón</translation>
    </message>
    <message>
        <source>Plug in, engine off, refer the vehicle.</source>
        <translation>Tapón puesto, motor apagado, derive el vehículo.</translation>
    </message>
    <message>
        <source>Plug in, engine off: find the leak, then start over.</source>
        <translation>Tapón puesto, motor apagado: busque la fuga y empiece de nuevo.</translation>
    </message>
    <message>
        <source>Plug in, engine off: suspect the standpipe or a gross overfill.</source>
        <translation>Tapón puesto, motor apagado: sospeche del tubo de rebose o de un exceso grande de fluido.</translation>
    </message>
    <message>
        <source>Plug is in</source>
        <translation>Tapón puesto</translation>
    </message>
    <message>
        <source>Plug is out</source>
        <translation>Tapón fuera</translation>
    </message>
    <message>
        <source>Plug out</source>
        <translation>Tapón fuera</translation>
    </message>
    <message>
        <source>Plug out (min:s)</source>
        <translation>Tapón fuera (min:s)</translation>
    </message>
    <message>
        <source>Plug put in</source>
        <translation>Tapón puesto</translation>
    </message>
    <message>
        <source>Plug torqued</source>
        <translation>Tapón apretado al par</translation>
    </message>
    <message>
        <source>Plug, pan and what ran off are still hot.</source>
        <translation>El tapón, el cárter y lo rebosado siguen calientes.</translation>
    </message>
    <message>
        <source>Press P here: back to park.</source>
        <translation>Pulse P aquí: de vuelta a estacionamiento.</translation>
    </message>
    <message>
        <source>Press if fluid runs. If it drips or nothing comes, say so instead.</source>
        <translation>Pulse si sale fluido. Si gotea o no sale nada, indíquelo.</translation>
    </message>
    <message>
        <source>Press if nothing comes. If it drips or runs, say so instead.</source>
        <translation>Pulse si no sale nada. Si gotea o sale a chorro, indíquelo.</translation>
    </message>
    <message>
        <source>Press to acknowledge the alarm: {what}.</source>
        <translation>Pulse para confirmar la alarma: {what}.</translation>
    </message>
    <message>
        <source>Press to confirm: {what}.</source>
        <translation>Pulse para confirmar: {what}.</translation>
    </message>
    <message>
        <source>Press to give the verdict and close the record.</source>
        <translation>Pulse para dar el veredicto y cerrar el registro.</translation>
    </message>
    <message>
        <source>Press {range} here and wait {seconds:g} s, until it says “{held}”.</source>
        <translation>Pulse {range} aquí y espere {seconds:g} s, hasta que diga “{held}”.</translation>
    </message>
    <message>
        <source>Press “{button}” here.</source>
        <translation>Pulse aquí «{button}».</translation>
    </message>
    <message>
        <source>Press “{button}”.</source>
        <translation>Pulse “{button}”.</translation>
    </message>
    <message>
        <source>Press: close the record</source>
        <translation>Pulse: cerrar el registro</translation>
    </message>
    <message>
        <source>Press: it runs · else: at the PC</source>
        <translation>Pulse: sale · si no: en el PC</translation>
    </message>
    <message>
        <source>Press: send what is filled in</source>
        <translation>Pulse: enviar lo anotado</translation>
    </message>
    <message>
        <source>Press: yes, so it is</source>
        <translation>Pulse: sí, así es</translation>
    </message>
    <message>
        <source>Press: yes, still so</source>
        <translation>Pulse: sí, sigue así</translation>
    </message>
    <message>
        <source>Press: {tap}</source>
        <translation>Pulse: {tap}</translation>
    </message>
    <message>
        <source>Press: {tap} · hold: 10 s ago</source>
        <translation>Pulse: {tap} · manténgalo: fue hace 10 s</translation>
    </message>
    <message>
        <source>Product in hand</source>
        <translation>Producto</translation>
    </message>
    <message>
        <source>Pump off</source>
        <translation>Bomba apagada</translation>
    </message>
    <message>
        <source>Pump off, plug in, bring the fluid back into its band, then start again from circulation.</source>
        <translation>Bomba apagada, tapón puesto; devuelva el fluido a su banda y empiece de nuevo desde la circulación.</translation>
    </message>
    <message>
        <source>Pump off, {amount} in</source>
        <translation>Bomba parada, {amount} añadidos</translation>
    </message>
    <message>
        <source>Pump on</source>
        <translation>Bomba en marcha</translation>
    </message>
    <message>
        <source>Pump started</source>
        <translation>Bomba arrancada</translation>
    </message>
    <message>
        <source>Pump stopped</source>
        <translation>Bomba parada</translation>
    </message>
    <message>
        <source>Pumped fluid is still running back; judge again at {at} of the check.</source>
        <translation>El fluido bombeado aún está volviendo; juzgue de nuevo a {at} de la comprobación.</translation>
    </message>
    <message>
        <source>Pumped fluid runs back. Judge again in {left}.</source>
        <translation>El fluido bombeado vuelve. Juzgue de nuevo en {left}.</translation>
    </message>
    <message>
        <source>Pumped in</source>
        <translation>Bombeado</translation>
    </message>
    <message>
        <source>Pumping. Say when the pump is off, and how much went in.</source>
        <translation>Bombeando. Indique cuándo se apaga la bomba y cuánto entró.</translation>
    </message>
    <message>
        <source>Put the check plug in first.</source>
        <translation>Ponga primero el tapón de nivel.</translation>
    </message>
    <message>
        <source>Put the plug in</source>
        <translation>Ponga el tapón</translation>
    </message>
    <message>
        <source>Put the plug in and say so, or say that it stays out.</source>
        <translation>Ponga el tapón e indíquelo, o indique que se queda fuera.</translation>
    </message>
    <message>
        <source>RUNNING</source>
        <translation>EN MARCHA</translation>
    </message>
    <message>
        <source>Raise</source>
        <translation>Elevar</translation>
    </message>
    <message>
        <source>Raise {sides}.</source>
        <translation>Eleve {sides}.</translation>
    </message>
    <message>
        <source>Raised load</source>
        <translation>Carga elevada</translation>
    </message>
    <message>
        <source>Ran off into the catch pan</source>
        <translation>Rebosado a la bandeja de recogida</translation>
    </message>
    <message>
        <source>Ran off {used} of at most {limit}: {left} left.</source>
        <translation>Rebosados {used} de {limit} como máximo: quedan {left}.</translation>
    </message>
    <message>
        <source>Ran off {used}: {over} more than the spec sheet&apos;s {limit}.</source>
        <translation>Rebosados {used}: {over} más que los {limit} de la hoja de especificaciones.</translation>
    </message>
    <message>
        <source>Range {range} has not been held for {time}.</source>
        <translation>La posición {range} no se ha mantenido durante {time}.</translation>
    </message>
    <message>
        <source>Read from</source>
        <translation>Se lee desde</translation>
    </message>
    <message>
        <source>Read the caution first. The plug may go in at any time.</source>
        <translation>Lea primero la advertencia. El tapón puede ponerse en cualquier momento.</translation>
    </message>
    <message>
        <source>Read the cautions {what}, then press.</source>
        <translation>Lea las advertencias {what} y pulse.</translation>
    </message>
    <message>
        <source>Read the cautions, confirm each item, then enter the tilt as seen here.</source>
        <translation>Lea las advertencias, confirme cada punto y anote la inclinación tal como se ve aquí.</translation>
    </message>
    <message>
        <source>Read the fluid temperature and key it in; it counts for a minute.</source>
        <translation>Lea la temperatura del fluido y tecléela; vale durante un minuto.</translation>
    </message>
    <message>
        <source>Read the idle speed and key it in.</source>
        <translation>Lea el régimen de ralentí y tecléelo.</translation>
    </message>
    <message>
        <source>Reading unusable</source>
        <translation>Lectura no válida</translation>
    </message>
    <message>
        <source>Readings come again.</source>
        <translation>Vuelven a llegar lecturas.</translation>
    </message>
    <message>
        <source>Readings come again. Wait until they hold.</source>
        <translation>Vuelven a llegar lecturas. Espere a que se mantengan.</translation>
    </message>
    <message>
        <source>Readings lost</source>
        <translation>Lecturas perdidas</translation>
    </message>
    <message>
        <source>Real time</source>
        <translation>Tiempo real</translation>
    </message>
    <message>
        <source>Recheck needed</source>
        <translation>Requiere nueva comprobación</translation>
    </message>
    <message>
        <source>Record closed</source>
        <translation>Registro cerrado</translation>
    </message>
    <message>
        <source>Record the bus beside the check&apos;s record</source>
        <translation>Grabar el bus junto al registro de la comprobación</translation>
    </message>
    <message>
        <source>Record {number}</source>
        <translation>Registro {number}</translation>
    </message>
    <message>
        <source>Record {number} has this file already.</source>
        <translation>El registro {number} ya tiene este archivo.</translation>
    </message>
    <message>
        <source>Record {number} is damaged and cannot be read.</source>
        <translation>El registro {number} está dañado y no se puede leer.</translation>
    </message>
    <message>
        <source>Record {number} is finished and sealed; it stays as it is.</source>
        <translation>El registro {number} está terminado y sellado; se queda como está.</translation>
    </message>
    <message>
        <source>Record {number} is finished, but stands in no chain.</source>
        <translation>El registro {number} está terminado, pero no está en ninguna cadena.</translation>
    </message>
    <message>
        <source>Record {number} is finished; it cannot be gone on with.</source>
        <translation>El registro {number} está terminado; no se puede continuar.</translation>
    </message>
    <message>
        <source>Record {number} is not finished, but has packed readings.</source>
        <translation>El registro {number} no está terminado, pero tiene lecturas empaquetadas.</translation>
    </message>
    <message>
        <source>Record {number} is not finished, but lists attachments.</source>
        <translation>El registro {number} no está terminado, pero lista archivos adjuntos.</translation>
    </message>
    <message>
        <source>Record {number} is not finished, but was amended.</source>
        <translation>El registro {number} no está terminado, pero fue enmendado.</translation>
    </message>
    <message>
        <source>Record {number} is not finished, so it has no seal yet.</source>
        <translation>El registro {number} no está terminado, así que aún no tiene sello.</translation>
    </message>
    <message>
        <source>Record {number} is not finished; what is wrong in it is put right there.</source>
        <translation>El registro {number} no está terminado; lo que esté mal se corrige allí mismo.</translation>
    </message>
    <message>
        <source>Record {number} is sealed: {verdict}.</source>
        <translation>El registro {number} está sellado: {verdict}.</translation>
    </message>
    <message>
        <source>Record {number} says so already; nothing was amended.</source>
        <translation>El registro {number} ya lo dice así; no se enmendó nada.</translation>
    </message>
    <message>
        <source>Record {number}, or an amendment of it, stands at no place of a chain.</source>
        <translation>El registro {number}, o una enmienda suya, no está en ningún lugar de una cadena.</translation>
    </message>
    <message>
        <source>Records are being sealed all the time; try again in a moment.</source>
        <translation>Se están sellando registros continuamente; inténtelo de nuevo en un momento.</translation>
    </message>
    <message>
        <source>Records keep one unit for each kind of quantity; they are shown in these.</source>
        <translation>Los registros guardan una unidad por cada tipo de magnitud; se muestran en estas.</translation>
    </message>
    <message>
        <source>Referred</source>
        <translation>Derivado</translation>
    </message>
    <message>
        <source>Replace the seal of the check plug, then press.</source>
        <translation>Cambie la junta del tapón de nivel y pulse.</translation>
    </message>
    <message>
        <source>Request</source>
        <translation>Petición</translation>
    </message>
    <message>
        <source>Requests</source>
        <translation>Peticiones</translation>
    </message>
    <message>
        <source>Rested and cold: the sensor is right within what can be told (±{spread}).</source>
        <translation>Reposado y frío: el sensor es correcto dentro de lo que puede saberse (±{spread}).</translation>
    </message>
    <message>
        <source>Rested and cold: the sensor reads {off} too high (±{spread}).</source>
        <translation>Reposado y frío: el sensor marca {off} de más (±{spread}).</translation>
    </message>
    <message>
        <source>Rested and cold: the sensor reads {off} too low (±{spread}).</source>
        <translation>Reposado y frío: el sensor marca {off} de menos (±{spread}).</translation>
    </message>
    <message>
        <source>Run-off written down</source>
        <translation>Rebose anotado</translation>
    </message>
    <message>
        <source>Running engine: nobody under the vehicle. Extract the exhaust.</source>
        <translation>Motor en marcha: nadie bajo el vehículo. Extraiga los gases de escape.</translation>
    </message>
    <message>
        <source>SPN {spn} is not this signal</source>
        <translation>el SPN {spn} no es esta señal</translation>
    </message>
    <message>
        <source>Save</source>
        <translation>Guardar</translation>
    </message>
    <message>
        <source>Saved again at {at:%H:%M}.</source>
        <translation>Guardado de nuevo a las {at:%H:%M}.</translation>
    </message>
    <message>
        <source>Say at the screen what the sensor is compared with.</source>
        <translation>Indique en la pantalla con qué se compara el sensor.</translation>
    </message>
    <message>
        <source>Say first whether the plug is out and whether the engine runs.</source>
        <translation>Indique primero si el tapón está fuera y si el motor está en marcha.</translation>
    </message>
    <message>
        <source>Say how much ran off</source>
        <translation>Indique cuánto rebosó</translation>
    </message>
    <message>
        <source>Say how much ran off, or that nobody measured it.</source>
        <translation>Indique cuánto rebosó, o que nadie lo midió.</translation>
    </message>
    <message>
        <source>Say how plug and engine stand now; then go on with it, or end it.</source>
        <translation>Indique cómo están ahora el tapón y el motor; luego continúela o termínela.</translation>
    </message>
    <message>
        <source>Say what comes out of the plug hole.</source>
        <translation>Indique qué sale por el orificio del tapón.</translation>
    </message>
    <message>
        <source>Say which spec sheet to use with --sheet.</source>
        <translation>Indique con --sheet qué hoja de especificaciones usar.</translation>
    </message>
    <message>
        <source>Say which spec sheet to use with --sheet; known are: {known}.</source>
        <translation>Indique con --sheet qué hoja de especificaciones usar; se conocen: {known}.</translation>
    </message>
    <message>
        <source>Say why it ends; it goes on the record.</source>
        <translation>Indique por qué termina; queda en el registro.</translation>
    </message>
    <message>
        <source>Say why the check ends; it goes on the record.</source>
        <translation>Indique por qué termina la comprobación; queda en el registro.</translation>
    </message>
    <message>
        <source>Say why what ran off was not measured.</source>
        <translation>Indique por qué no se midió lo que rebosó.</translation>
    </message>
    <message>
        <source>Say why you differ from the recommendation.</source>
        <translation>Indique por qué se aparta de la recomendación.</translation>
    </message>
    <message>
        <source>Seal inspected and good</source>
        <translation>Junta inspeccionada y bien</translation>
    </message>
    <message>
        <source>Seal inspected and good?</source>
        <translation>¿Junta inspeccionada y bien?</translation>
    </message>
    <message>
        <source>Seal its record</source>
        <translation>Sellar su registro</translation>
    </message>
    <message>
        <source>Seal replaced</source>
        <translation>Junta cambiada</translation>
    </message>
    <message>
        <source>Seal replaced?</source>
        <translation>¿Junta cambiada?</translation>
    </message>
    <message>
        <source>Seal, torque (this wrench reads {low} to {high}), then look for a leak.</source>
        <translation>Junta, par de apriete (esta llave marca de {low} a {high}) y luego busque fugas.</translation>
    </message>
    <message>
        <source>Seen: {parts}.</source>
        <translation>Se ve: {parts}.</translation>
    </message>
    <message>
        <source>Select {what}</source>
        <translation>Seleccione {what}</translation>
    </message>
    <message>
        <source>Selector by taps…</source>
        <translation>Selector a mano…</translation>
    </message>
    <message>
        <source>Selector in {range}</source>
        <translation>Selector en {range}</translation>
    </message>
    <message>
        <source>Selector is in P</source>
        <translation>Selector en P</translation>
    </message>
    <message>
        <source>Selector now in {range}</source>
        <translation>Selector ahora en {range}</translation>
    </message>
    <message>
        <source>Sensor compared</source>
        <translation>Sensor comparado</translation>
    </message>
    <message>
        <source>Sep</source>
        <translation>sep</translation>
    </message>
    <message>
        <source>Set now, the fluid level will be at least {off} in its band.</source>
        <translation>Ajustado ahora, el nivel de fluido quedará al menos {off} en su banda.</translation>
    </message>
    <message>
        <source>Settings… (F2)</source>
        <translation>Ajustes… (F2)</translation>
    </message>
    <message>
        <source>Shop</source>
        <translation>Taller</translation>
    </message>
    <message>
        <source>Shop air</source>
        <translation>Aire del taller</translation>
    </message>
    <message>
        <source>Show it</source>
        <translation>Mostrarla</translation>
    </message>
    <message>
        <source>Show the chart again</source>
        <translation>Volver a mostrar el gráfico</translation>
    </message>
    <message>
        <source>Show them</source>
        <translation>Mostrarlas</translation>
    </message>
    <message>
        <source>Shows the check from its beginning, and back. Key: W</source>
        <translation>Muestra la comprobación desde su inicio, y vuelve. Tecla: W</translation>
    </message>
    <message>
        <source>Shows the target band with a margin, and back. Key: B</source>
        <translation>Muestra la banda objetivo con un margen, y vuelve. Tecla: B</translation>
    </message>
    <message>
        <source>Signal given up</source>
        <translation>Señal abandonada</translation>
    </message>
    <message>
        <source>Signs of water or coolant always lead to a referral.</source>
        <translation>Los indicios de agua o refrigerante llevan siempre a una derivación.</translation>
    </message>
    <message>
        <source>Signs of water or coolant always lead to a referral; nobody may differ.</source>
        <translation>Los indicios de agua o refrigerante llevan siempre a una derivación; nadie puede apartarse de ello.</translation>
    </message>
    <message>
        <source>Simulated
vehicle</source>
        <translation>Vehículo
simulado</translation>
    </message>
    <message>
        <source>Smell</source>
        <translation>Olor</translation>
    </message>
    <message>
        <source>Somebody may have moved, started or opened the vehicle meanwhile. Look at it before you answer.</source>
        <translation>Mientras tanto alguien pudo mover, arrancar o abrir el vehículo. Mírelo antes de contestar.</translation>
    </message>
    <message>
        <source>Sound</source>
        <translation>Sonido</translation>
    </message>
    <message>
        <source>Sound is off</source>
        <translation>Sonido: no</translation>
    </message>
    <message>
        <source>Sound is on</source>
        <translation>Sonido: sí</translation>
    </message>
    <message>
        <source>Sound vehicle</source>
        <translation>Sin averías</translation>
    </message>
    <message>
        <source>Sounds and voice, on and off by {keys}</source>
        <translation>Sonidos y voz: se encienden y apagan con {keys}</translation>
    </message>
    <message>
        <source>Speak prompts</source>
        <translation>Avisos hablados</translation>
    </message>
    <message>
        <source>Spec sheet</source>
        <translation>Hoja</translation>
    </message>
    <message>
        <source>Spec sheet {id} ({family}), revision {revision}, has been withdrawn; take the one that replaces it.</source>
        <translation>La hoja de especificaciones {id} ({family}), revisión {revision}, se ha retirado; use la que la sustituye.</translation>
    </message>
    <message>
        <source>Spec sheet {id} has no duty “{duty}”.</source>
        <translation>La hoja de especificaciones {id} no tiene el servicio “{duty}”.</translation>
    </message>
    <message>
        <source>Spec sheet {id} is a draft: have it approved first.</source>
        <translation>La hoja de especificaciones {id} es un borrador: hágala aprobar primero.</translation>
    </message>
    <message>
        <source>Speed</source>
        <translation>Velocidad</translation>
    </message>
    <message>
        <source>Stands at: {stage}</source>
        <translation>Paso: {stage}</translation>
    </message>
    <message>
        <source>Start the engine</source>
        <translation>Arranque el motor</translation>
    </message>
    <message>
        <source>Start the engine and let it idle.</source>
        <translation>Arranque el motor y déjelo al ralentí.</translation>
    </message>
    <message>
        <source>Start the engine and let it idle; the vehicle tells when it runs.</source>
        <translation>Arranque el motor y déjelo al ralentí; el vehículo avisa cuando está en marcha.</translation>
    </message>
    <message>
        <source>Start the pump: {limit} more at most</source>
        <translation>Arranque la bomba: máx. {limit} más</translation>
    </message>
    <message>
        <source>Still to be chosen: {still}.</source>
        <translation>Falta elegir: {still}.</translation>
    </message>
    <message>
        <source>Still: {what}?</source>
        <translation>¿Sigue así: {what}?</translation>
    </message>
    <message>
        <source>Stop listening</source>
        <translation>Dejar de escuchar</translation>
    </message>
    <message>
        <source>Stop the check</source>
        <translation>Detener la comprobación</translation>
    </message>
    <message>
        <source>Stop the pump and say how much went in.</source>
        <translation>Pare la bomba e indique cuánto entró.</translation>
    </message>
    <message>
        <source>Stop the pump: say how much</source>
        <translation>Pare la bomba y diga cuánto</translation>
    </message>
    <message>
        <source>Stop this check</source>
        <translation>Detener esta comprobación</translation>
    </message>
    <message>
        <source>Stop trying</source>
        <translation>Parar la prueba</translation>
    </message>
    <message>
        <source>Stopped before there was a result.</source>
        <translation>Detenida antes de dar un resultado.</translation>
    </message>
    <message>
        <source>Stopped, and not closed yet</source>
        <translation>Detenida y aún sin cerrar</translation>
    </message>
    <message>
        <source>Stopped. What was found stays here until you leave.</source>
        <translation>Detenido. Lo encontrado queda aquí hasta que salga.</translation>
    </message>
    <message>
        <source>Stop…</source>
        <translation>Detener…</translation>
    </message>
    <message>
        <source>Stream to drip: {low}–{high} min ({allowed} allowed)</source>
        <translation>De chorro a goteo: {low}–{high} min (se permiten {allowed})</translation>
    </message>
    <message>
        <source>String should have at least 1 character</source>
        <translation>Debe tener al menos 1 carácter</translation>
    </message>
    <message>
        <source>String should match pattern {pattern}</source>
        <translation>Debe seguir el patrón {pattern}</translation>
    </message>
    <message>
        <source>Take</source>
        <translation>Anotar</translation>
    </message>
    <message>
        <source>Take a photo…</source>
        <translation>Hacer una foto…</translation>
    </message>
    <message>
        <source>Take back ({left})</source>
        <translation>Deshacer ({left})</translation>
    </message>
    <message>
        <source>Take it now</source>
        <translation>Hacerla ahora</translation>
    </message>
    <message>
        <source>Take over</source>
        <translation>Hacerse cargo</translation>
    </message>
    <message>
        <source>Take the last figure away</source>
        <translation>Borrar la última cifra</translation>
    </message>
    <message>
        <source>Take the plug out</source>
        <translation>Quite el tapón</translation>
    </message>
    <message>
        <source>Take the run-off down as seen here, then press “{button}”.</source>
        <translation>Anote lo rebosado tal como se ve aquí y pulse “{button}”.</translation>
    </message>
    <message>
        <source>Taken back</source>
        <translation>Deshecho</translation>
    </message>
    <message>
        <source>Technician</source>
        <translation>Técnico</translation>
    </message>
    <message>
        <source>Telephone</source>
        <translation>Teléfono</translation>
    </message>
    <message>
        <source>Temperature</source>
        <translation>Temperatura</translation>
    </message>
    <message>
        <source>Temperature when the plug went in: {at}</source>
        <translation>Temperatura al poner el tapón: {at}</translation>
    </message>
    <message>
        <source>Temperatures</source>
        <translation>Temperaturas</translation>
    </message>
    <message>
        <source>Test the sound</source>
        <translation>Probar el sonido</translation>
    </message>
    <message>
        <source>That number cannot be right; check it and its unit.</source>
        <translation>Ese número no puede ser correcto; revíselo junto con su unidad.</translation>
    </message>
    <message>
        <source>That was too long ago to be judged.</source>
        <translation>Eso fue hace demasiado tiempo para juzgarlo.</translation>
    </message>
    <message>
        <source>The adapter cannot be opened.</source>
        <translation>No se puede abrir el adaptador.</translation>
    </message>
    <message>
        <source>The adapter is not open yet: ask once it listens.</source>
        <translation>El adaptador aún no está abierto: pregunte cuando ya escuche.</translation>
    </message>
    <message>
        <source>The adapter opens, but nothing was heard; nothing was asked.</source>
        <translation>El adaptador se abre, pero no se oyó nada; no se preguntó nada.</translation>
    </message>
    <message>
        <source>The adapter opens, but the connection breaks: check the adapter and its cable.</source>
        <translation>El adaptador se abre, pero la conexión se corta: revise el adaptador y su cable.</translation>
    </message>
    <message>
        <source>The adapter opens, but the vehicle is silent: check ignition, plug and bit rate.</source>
        <translation>El adaptador se abre, pero el vehículo no dice nada: revise el contacto, el conector y la velocidad de bits.</translation>
    </message>
    <message>
        <source>The adapter {name} cannot be opened so: check its channel, bit rate and options.</source>
        <translation>El adaptador {name} no se puede abrir así: revise su canal, su velocidad de bits y sus opciones.</translation>
    </message>
    <message>
        <source>The adapter {name} cannot be opened: check that it is plugged in and that no other program uses it.</source>
        <translation>El adaptador {name} no se puede abrir: compruebe que está enchufado y que no lo usa otro programa.</translation>
    </message>
    <message>
        <source>The adapter {name} cannot be opened: it needs the address of its server, as the options host and port, such as host=127.0.0.1 and port=28600.</source>
        <translation>El adaptador {name} no se puede abrir: necesita la dirección de su servidor, como las opciones host y port, por ejemplo host=127.0.0.1 y port=28600.</translation>
    </message>
    <message>
        <source>The adapter {name} cannot be opened: nothing answers at {host}, port {port}.</source>
        <translation>El adaptador {name} no se puede abrir: nada contesta en {host}, puerto {port}.</translation>
    </message>
    <message>
        <source>The anchor names no. {number} of bay {bay}&apos;s chain, which ends with no. {end}.</source>
        <translation>El ancla nombra el n.º {number} de la cadena del puesto {bay}, que termina en el n.º {end}.</translation>
    </message>
    <message>
        <source>The approval of this fluid has a condition to confirm: {word}.</source>
        <translation>La aprobación de este fluido tiene una condición por confirmar: {word}.</translation>
    </message>
    <message>
        <source>The attachment “{name}” cannot be read: {why}.</source>
        <translation>El archivo adjunto “{name}” no se puede leer: {why}.</translation>
    </message>
    <message>
        <source>The attachment “{name}” is missing.</source>
        <translation>Falta el archivo adjunto “{name}”.</translation>
    </message>
    <message>
        <source>The attachment “{name}” is not the file that was kept.</source>
        <translation>El archivo adjunto “{name}” no es el que se guardó.</translation>
    </message>
    <message>
        <source>The attachment “{name}” of {link} {fault}.</source>
        <translation>El archivo adjunto “{name}” de {link} {fault}.</translation>
    </message>
    <message>
        <source>The backup folder {folder} cannot be written: see that this user may write there.</source>
        <translation>No se puede escribir en la carpeta de copias {folder}: compruebe que este usuario puede escribir en ella.</translation>
    </message>
    <message>
        <source>The backup folder {folder} has {free:,.0f} MB free and a backup takes {needed:,.0f} MB: free some space there.</source>
        <translation>La carpeta de copias {folder} tiene {free:,.0f} MB libres y una copia ocupa {needed:,.0f} MB: libere espacio en ella.</translation>
    </message>
    <message>
        <source>The backup folder {folder} holds none of the backups made into it: connect its disk or share, or choose another folder.</source>
        <translation>La carpeta de copias {folder} no contiene ninguna de las copias hechas en ella: conecte su disco o recurso compartido, o elija otra carpeta.</translation>
    </message>
    <message>
        <source>The backup folder {folder} is full: free some space there.</source>
        <translation>La carpeta de copias {folder} está llena: libere espacio en ella.</translation>
    </message>
    <message>
        <source>The backup folder {folder} is not there: connect its disk or share.</source>
        <translation>La carpeta de copias {folder} no está: conecte su disco o recurso compartido.</translation>
    </message>
    <message>
        <source>The backup folder {folder} went away: connect its disk or share.</source>
        <translation>La carpeta de copias {folder} desapareció: conecte su disco o recurso compartido.</translation>
    </message>
    <message>
        <source>The band is left: too cold at {temperature}.</source>
        <translation>Fuera de banda: demasiado frío a {temperature}.</translation>
    </message>
    <message>
        <source>The band is left: too hot at {temperature}.</source>
        <translation>Fuera de banda: demasiado caliente a {temperature}.</translation>
    </message>
    <message>
        <source>The bus is disturbed at {rate}: probably the wrong bit rate; nothing was sent.</source>
        <translation>El bus está perturbado a {rate}: probablemente la velocidad de bits es incorrecta; no se envió nada.</translation>
    </message>
    <message>
        <source>The camera failed ({detail}). Add a file instead.</source>
        <translation>Falló la cámara ({detail}). Añada un archivo en su lugar.</translation>
    </message>
    <message>
        <source>The camera shows nothing. Add a file instead.</source>
        <translation>La cámara no muestra nada. Añada un archivo en su lugar.</translation>
    </message>
    <message>
        <source>The camera&apos;s program does not answer. Add a file instead.</source>
        <translation>El programa de la cámara no contesta. Añada un archivo en su lugar.</translation>
    </message>
    <message>
        <source>The cautions before fluid is pumped in have not been acknowledged.</source>
        <translation>No se han confirmado las advertencias previas al bombeo de fluido.</translation>
    </message>
    <message>
        <source>The cautions before the lift goes up have not been acknowledged.</source>
        <translation>No se han confirmado las advertencias previas a subir el elevador.</translation>
    </message>
    <message>
        <source>The cautions before the plug comes out have not been acknowledged.</source>
        <translation>No se han confirmado las advertencias previas a quitar el tapón.</translation>
    </message>
    <message>
        <source>The chain of bay {bay} cannot be read behind {link}: the database is damaged.</source>
        <translation>La cadena del puesto {bay} no se puede leer tras {link}: la base de datos está dañada.</translation>
    </message>
    <message>
        <source>The chain of bay {bay} cannot be read: the database is damaged.</source>
        <translation>La cadena del puesto {bay} no se puede leer: la base de datos está dañada.</translation>
    </message>
    <message>
        <source>The check cannot be ended</source>
        <translation>La comprobación no se puede terminar</translation>
    </message>
    <message>
        <source>The check digit of VIN {vin} does not match. Many markets do not use one; compare the number with the one on the vehicle.</source>
        <translation>El dígito de control del VIN {vin} no coincide. Muchos mercados no lo usan; compare el número con el que figura en el vehículo.</translation>
    </message>
    <message>
        <source>The check is closed; nothing in it changes any more.</source>
        <translation>La comprobación está cerrada; ya no cambia nada en ella.</translation>
    </message>
    <message>
        <source>The check is finished; nothing more can be entered into its record.</source>
        <translation>La comprobación está terminada; no se puede anotar nada más en su registro.</translation>
    </message>
    <message>
        <source>The check is over.</source>
        <translation>La comprobación ha terminado.</translation>
    </message>
    <message>
        <source>The check is over; it is sealed by itself as soon as the disk takes it. Leave this window open, and do not switch this computer off.</source>
        <translation>La comprobación ha terminado; se sella sola en cuanto el disco lo admite. Deje esta ventana abierta y no apague este equipo.</translation>
    </message>
    <message>
        <source>The check plug has not been torqued to {torque}.</source>
        <translation>El tapón de nivel no se ha apretado a {torque}.</translation>
    </message>
    <message>
        <source>The check plug is in.</source>
        <translation>El tapón de nivel está puesto.</translation>
    </message>
    <message>
        <source>The check plug is out.</source>
        <translation>El tapón de nivel está fuera.</translation>
    </message>
    <message>
        <source>The check plug is out: engine off, plug in, do not lower or drive before.</source>
        <translation>El tapón de nivel está fuera: motor apagado, tapón puesto; no baje ni conduzca antes.</translation>
    </message>
    <message>
        <source>The check plug leaks.</source>
        <translation>El tapón de nivel pierde.</translation>
    </message>
    <message>
        <source>The check plug leaks. Do not drive before it is dry.</source>
        <translation>El tapón de nivel pierde. No conduzca antes de que esté seco.</translation>
    </message>
    <message>
        <source>The check plug was put in, but not tightened to its torque. Do not drive before it is tightened and dry.</source>
        <translation>Se puso el tapón de nivel, pero no se apretó a su par. No conduzca antes de que esté apretado y seco.</translation>
    </message>
    <message>
        <source>The check stops here. The vehicle must not be lowered or driven.</source>
        <translation>La comprobación se detiene aquí. No se debe bajar ni conducir el vehículo.</translation>
    </message>
    <message>
        <source>The check was given up.</source>
        <translation>La comprobación se abandonó.</translation>
    </message>
    <message>
        <source>The condition of its approval is met</source>
        <translation>Se cumple la condición de su aprobación</translation>
    </message>
    <message>
        <source>The connection cannot be used: {faults}.</source>
        <translation>La conexión no se puede usar: {faults}.</translation>
    </message>
    <message>
        <source>The connection to the bus is lost: check the adapter, then begin again.</source>
        <translation>Se perdió la conexión con el bus: revise el adaptador y empiece de nuevo.</translation>
    </message>
    <message>
        <source>The connection to the vehicle&apos;s bus is lost: check the adapter and its cable, then connect again.</source>
        <translation>Se perdió la conexión con el bus del vehículo: revise el adaptador y su cable y conecte de nuevo.</translation>
    </message>
    <message>
        <source>The connection to the vehicle&apos;s bus is lost; it is tried again by itself. Check the adapter and its cable.</source>
        <translation>Se perdió la conexión con el bus del vehículo; se reintenta sola. Revise el adaptador y su cable.</translation>
    </message>
    <message>
        <source>The database file is damaged: {fault}.</source>
        <translation>El archivo de la base de datos está dañado: {fault}.</translation>
    </message>
    <message>
        <source>The database is damaged: it holds a time of day that is none.</source>
        <translation>La base de datos está dañada: contiene una hora que no lo es.</translation>
    </message>
    <message>
        <source>The database is sound, but its copy in the backup folder {folder} is not: that disk or share is not to be trusted.</source>
        <translation>La base de datos está bien, pero su copia en la carpeta {folder} no: no se fíe de ese disco o recurso compartido.</translation>
    </message>
    <message>
        <source>The database {database} is damaged, so that its backup was not kept, but older ones are</source>
        <translation>La base de datos {database} está dañada, por lo que no se conservó su copia de seguridad, pero sí las anteriores</translation>
    </message>
    <message>
        <source>The database {database} is empty, though there were records in it</source>
        <translation>La base de datos {database} está vacía, aunque contenía registros</translation>
    </message>
    <message>
        <source>The database {database} is gone, though there were records in it</source>
        <translation>La base de datos {database} ha desaparecido, aunque contenía registros</translation>
    </message>
    <message>
        <source>The database {path} cannot be opened; check that you may write the file and its folder.</source>
        <translation>No se puede abrir la base de datos {path}; compruebe que puede escribir en el archivo y su carpeta.</translation>
    </message>
    <message>
        <source>The database {path} cannot be used as it is: put a backup in its place.</source>
        <translation>La base de datos {path} no se puede usar tal como está: ponga una copia de seguridad en su lugar.</translation>
    </message>
    <message>
        <source>The database {path} cannot be written; check that you may write the file and its folder.</source>
        <translation>No se puede escribir en la base de datos {path}; compruebe que puede escribir en el archivo y su carpeta.</translation>
    </message>
    <message>
        <source>The database {path} could not be brought up to this version of Brimline and is as it was; a copy of it is {copy}.</source>
        <translation>La base de datos {path} no se pudo pasar a esta versión de Brimline y está como estaba; hay una copia en {copy}.</translation>
    </message>
    <message>
        <source>The database {path} could not be brought up to this version of Brimline nor put back as it was; put the copy {copy} in its place.</source>
        <translation>La base de datos {path} no se pudo pasar a esta versión de Brimline ni dejar como estaba; ponga la copia {copy} en su lugar.</translation>
    </message>
    <message>
        <source>The database {path} could not be set up.</source>
        <translation>No se pudo preparar la base de datos {path}.</translation>
    </message>
    <message>
        <source>The database {path} does not hold together after its upgrade.</source>
        <translation>La base de datos {path} no es coherente después de actualizarse.</translation>
    </message>
    <message>
        <source>The database {path} is damaged</source>
        <translation>La base de datos {path} está dañada</translation>
    </message>
    <message>
        <source>The database {path} is in use by another program; close that first.</source>
        <translation>Otro programa usa la base de datos {path}; ciérrelo primero.</translation>
    </message>
    <message>
        <source>The database {path} must be upgraded, but no copy of it can be made beside it; free some space or make the folder writable.</source>
        <translation>Hay que actualizar la base de datos {path}, pero no se puede hacer una copia junto a ella; libere espacio o permita escribir en la carpeta.</translation>
    </message>
    <message>
        <source>The database {path} was written by a newer Brimline; update this one first.</source>
        <translation>La base de datos {path} la escribió un Brimline más nuevo; actualice este primero.</translation>
    </message>
    <message>
        <source>The day {day} is too far away.</source>
        <translation>El día {day} queda demasiado lejos.</translation>
    </message>
    <message>
        <source>The demonstration did not end within {duration}.</source>
        <translation>La demostración no terminó en {duration}.</translation>
    </message>
    <message>
        <source>The disk with the database {path} is full; free some space on it.</source>
        <translation>El disco con la base de datos {path} está lleno; libere espacio en él.</translation>
    </message>
    <message>
        <source>The disk with the database {path} reports an error; check the disk.</source>
        <translation>El disco con la base de datos {path} da un error; revise el disco.</translation>
    </message>
    <message>
        <source>The disk with the records has only {free:,.0f} MB left, which the records themselves need: free some space on it.</source>
        <translation>Al disco con los registros le quedan solo {free:,.0f} MB, que los propios registros necesitan: libere espacio en él.</translation>
    </message>
    <message>
        <source>The engine RUNS</source>
        <translation>Motor EN MARCHA</translation>
    </message>
    <message>
        <source>The engine has not idled in park for {time} yet.</source>
        <translation>El motor aún no ha estado al ralentí en estacionamiento durante {time}.</translation>
    </message>
    <message>
        <source>The engine has not idled in park for {time} yet; it will have at {at} of the check.</source>
        <translation>El motor aún no ha estado al ralentí en estacionamiento durante {time}; se cumplirá a {at} de la comprobación.</translation>
    </message>
    <message>
        <source>The engine has stopped: the fluid has to circulate again.</source>
        <translation>El motor se ha parado: el fluido tiene que circular de nuevo.</translation>
    </message>
    <message>
        <source>The engine is OFF</source>
        <translation>Motor APAGADO</translation>
    </message>
    <message>
        <source>The engine is not running.</source>
        <translation>El motor no está en marcha.</translation>
    </message>
    <message>
        <source>The engine may still be running with nobody near. See that nobody is under a vehicle on its wheels and that the exhaust is extracted.</source>
        <translation>El motor puede seguir en marcha sin nadie cerca. Cuide de que no haya nadie bajo un vehículo apoyado en sus ruedas y de que se extraigan los gases de escape.</translation>
    </message>
    <message>
        <source>The entry “{kind}” cannot be written into the record.</source>
        <translation>La entrada “{kind}” no se puede escribir en el registro.</translation>
    </message>
    <message>
        <source>The far view then wants its main words {main} mm high and all others {rest} mm. On this screen the main ones are read from {reach} m, all from {all} m.</source>
        <translation>La vista lejana pide entonces palabras principales de {main} mm de alto y las demás de {rest} mm. En esta pantalla las principales se leen desde {reach} m, y todas desde {all} m.</translation>
    </message>
    <message>
        <source>The file {file}, which notes the newest records, cannot be read.</source>
        <translation>No se puede leer el archivo {file}, que anota los registros más nuevos.</translation>
    </message>
    <message>
        <source>The file {name} that belongs to Brimline is missing or damaged: install Brimline again.</source>
        <translation>El archivo {name}, que pertenece a Brimline, falta o está dañado: vuelva a instalar Brimline.</translation>
    </message>
    <message>
        <source>The file {note_file} says how to finish restoring, and cannot be read: move it away and restore anew.</source>
        <translation>El archivo {note_file} dice cómo terminar la restauración y no se puede leer: apártelo y restaure de nuevo.</translation>
    </message>
    <message>
        <source>The file {path} cannot be read: {why}.</source>
        <translation>No se puede leer el archivo {path}: {why}.</translation>
    </message>
    <message>
        <source>The filling would stand {found} deep, and pans end at {limit}.</source>
        <translation>El llenado tendría {found} de profundidad, y los cárteres terminan en {limit}.</translation>
    </message>
    <message>
        <source>The first fluid has not been judged for its condition.</source>
        <translation>No se ha juzgado el estado del primer fluido.</translation>
    </message>
    <message>
        <source>The fluid has not circulated for {time} since the last start.</source>
        <translation>El fluido no ha circulado durante {time} desde el último arranque.</translation>
    </message>
    <message>
        <source>The fluid has not circulated for {time} since the last start; it will have at {at} of the check.</source>
        <translation>El fluido no ha circulado durante {time} desde el último arranque; se cumplirá a {at} de la comprobación.</translation>
    </message>
    <message>
        <source>The fluid has settled: judge the drip now.</source>
        <translation>El fluido se ha asentado: juzgue ahora el goteo.</translation>
    </message>
    <message>
        <source>The fluid in hand has not been matched against the spec sheet.</source>
        <translation>El fluido que va a usar no se ha cotejado con la hoja de especificaciones.</translation>
    </message>
    <message>
        <source>The fluid is above its target band: {celsius}, band up to {edge}.</source>
        <translation>El fluido está por encima de su banda objetivo: {celsius}, banda hasta {edge}.</translation>
    </message>
    <message>
        <source>The fluid is at its band. Wait until the readings stay inside.</source>
        <translation>El fluido está en su banda. Espere a que las lecturas se mantengan dentro.</translation>
    </message>
    <message>
        <source>The fluid is at the rim. Put the plug in.</source>
        <translation>El fluido está en el borde. Ponga el tapón.</translation>
    </message>
    <message>
        <source>The fluid is at {value}, the band begins at {limit}. Let it idle in park.</source>
        <translation>El fluido está a {value}, la banda empieza en {limit}. Déjelo al ralentí en estacionamiento.</translation>
    </message>
    <message>
        <source>The fluid is at {value}, the limit {limit}. Engine off or a fan until it cools.</source>
        <translation>El fluido está a {value}, el límite es {limit}. Motor apagado o un ventilador hasta que se enfríe.</translation>
    </message>
    <message>
        <source>The fluid is at {value}, the limit {limit}. Engine off until it cools.</source>
        <translation>El fluido está a {value}, el límite es {limit}. Motor apagado hasta que se enfríe.</translation>
    </message>
    <message>
        <source>The fluid is below its target band: {celsius}, band from {edge}.</source>
        <translation>El fluido está por debajo de su banda objetivo: {celsius}, banda desde {edge}.</translation>
    </message>
    <message>
        <source>The fluid is hardly inside its target band yet: {celsius}, band from {edge}.</source>
        <translation>El fluido apenas está dentro de su banda objetivo: {celsius}, banda desde {edge}.</translation>
    </message>
    <message>
        <source>The fluid is hardly inside its target band yet: {celsius}, band up to {edge}.</source>
        <translation>El fluido apenas está dentro de su banda objetivo: {celsius}, banda hasta {edge}.</translation>
    </message>
    <message>
        <source>The fluid is in its band already</source>
        <translation>El fluido ya está en su banda</translation>
    </message>
    <message>
        <source>The fluid is still too near the limit for the plug: {celsius}, limit {edge}.</source>
        <translation>El fluido aún está demasiado cerca del límite para el tapón: {celsius}, límite {edge}.</translation>
    </message>
    <message>
        <source>The fluid is too hot for the plug: {celsius}, limit {edge}.</source>
        <translation>El fluido está demasiado caliente para el tapón: {celsius}, límite {edge}.</translation>
    </message>
    <message>
        <source>The fluid level was set at {celsius}, outside the target band; by that alone it will be at least {off} once the fluid is in its band.</source>
        <translation>El nivel de fluido se ajustó a {celsius}, fuera de la banda objetivo; solo por eso quedará al menos {off} cuando el fluido esté en su banda.</translation>
    </message>
    <message>
        <source>The fluid shows signs of water or coolant.</source>
        <translation>El fluido muestra indicios de agua o refrigerante.</translation>
    </message>
    <message>
        <source>The fluid temperature</source>
        <translation>La temperatura del fluido</translation>
    </message>
    <message>
        <source>The fluid was above its target band then.</source>
        <translation>El fluido estaba entonces por encima de su banda objetivo.</translation>
    </message>
    <message>
        <source>The fluid was below its target band then.</source>
        <translation>El fluido estaba entonces por debajo de su banda objetivo.</translation>
    </message>
    <message>
        <source>The fluid was too hot for the plug then.</source>
        <translation>El fluido estaba entonces demasiado caliente para el tapón.</translation>
    </message>
    <message>
        <source>The fluid&apos;s condition has not been assessed.</source>
        <translation>No se ha evaluado el estado del fluido.</translation>
    </message>
    <message>
        <source>The folder {folder} for recordings cannot be made: {why}.</source>
        <translation>No se puede crear la carpeta {folder} para grabaciones: {why}.</translation>
    </message>
    <message>
        <source>The folder {folder} for the database cannot be made; choose another data folder.</source>
        <translation>No se puede crear la carpeta {folder} para la base de datos; elija otra carpeta de datos.</translation>
    </message>
    <message>
        <source>The folder {name} that belongs to Brimline is missing: install Brimline again.</source>
        <translation>Falta la carpeta {name}, que pertenece a Brimline: vuelva a instalar Brimline.</translation>
    </message>
    <message>
        <source>The folder {parent} cannot be written, so no backup is made.</source>
        <translation>No se puede escribir en la carpeta {parent}, así que no se hace copia de seguridad.</translation>
    </message>
    <message>
        <source>The folder {parent} cannot be written; choose another data folder or let this user write in it.</source>
        <translation>No se puede escribir en la carpeta {parent}; elija otra carpeta de datos o permita que este usuario escriba en ella.</translation>
    </message>
    <message>
        <source>The folder {parent} for the work summary does not exist.</source>
        <translation>La carpeta {parent} para el resumen de trabajo no existe.</translation>
    </message>
    <message>
        <source>The folder {parent} refuses, so nothing was replaced: see that it has room, that this user may write there, and that no other program has the database open.</source>
        <translation>La carpeta {parent} lo rechaza, así que no se reemplazó nada: compruebe que tiene espacio, que este usuario puede escribir en ella y que ningún otro programa tiene abierta la base de datos.</translation>
    </message>
    <message>
        <source>The folder {summaries} cannot be made: {why}.</source>
        <translation>No se puede crear la carpeta {summaries}: {why}.</translation>
    </message>
    <message>
        <source>The font of the work summary is missing or damaged: install Brimline again.</source>
        <translation>La fuente del resumen de trabajo falta o está dañada: vuelva a instalar Brimline.</translation>
    </message>
    <message>
        <source>The font {file} is damaged: install Brimline again.</source>
        <translation>La fuente {file} está dañada: vuelva a instalar Brimline.</translation>
    </message>
    <message>
        <source>The former records lie at {place}</source>
        <translation>Los registros anteriores están en {place}</translation>
    </message>
    <message>
        <source>The gun is taken as set to {setting:.2f}.</source>
        <translation>Se supone que el termómetro infrarrojo está ajustado a {setting:.2f}.</translation>
    </message>
    <message>
        <source>The gun reads far off the sensor</source>
        <translation>El termómetro infrarrojo se aleja mucho del sensor</translation>
    </message>
    <message>
        <source>The gun reads {apart} above the sensor</source>
        <translation>El termómetro infrarrojo marca {apart} por encima del sensor</translation>
    </message>
    <message>
        <source>The gun reads {apart} below the sensor</source>
        <translation>El termómetro infrarrojo marca {apart} por debajo del sensor</translation>
    </message>
    <message>
        <source>The gun says nothing here, for the sensor or against it: gun or fluid is too near the shop air.</source>
        <translation>El termómetro infrarrojo no dice nada aquí, ni a favor del sensor ni en contra: él o el fluido están demasiado cerca del aire del taller.</translation>
    </message>
    <message>
        <source>The idle speed is not known.</source>
        <translation>No se conoce el régimen de ralentí.</translation>
    </message>
    <message>
        <source>The idle speed is outside its window, or only just back: {speed}, limit {limit}.</source>
        <translation>El régimen de ralentí está fuera de su margen, o acaba de volver a él: {speed}, límite {limit}.</translation>
    </message>
    <message>
        <source>The idle speed is {value}, the limit {limit}. Bring it inside.</source>
        <translation>El ralentí está a {value}, el límite es {limit}. Llévelo dentro del margen.</translation>
    </message>
    <message>
        <source>The interrupted check is not shown.</source>
        <translation>La comprobación interrumpida no se muestra.</translation>
    </message>
    <message>
        <source>The last day, {last}, is before the first, {first}.</source>
        <translation>El último día, {last}, es anterior al primero, {first}.</translation>
    </message>
    <message>
        <source>The lift is not up and locked.</source>
        <translation>El elevador no está arriba y bloqueado.</translation>
    </message>
    <message>
        <source>The listening was given up.</source>
        <translation>La escucha se abandonó.</translation>
    </message>
    <message>
        <source>The newest record is sealed, but this cannot be noted in {tail_file}; see that the file can be written.</source>
        <translation>El registro más nuevo está sellado, pero no se puede anotar en {tail_file}; compruebe que se puede escribir en el archivo.</translation>
    </message>
    <message>
        <source>The output folder {folder} cannot be written: {why}.</source>
        <translation>No se puede escribir en la carpeta de salida {folder}: {why}.</translation>
    </message>
    <message>
        <source>The output folder {out} cannot be made: {why}.</source>
        <translation>No se puede crear la carpeta de salida {out}: {why}.</translation>
    </message>
    <message>
        <source>The photo could not be written to {detail}.</source>
        <translation>No se pudo escribir la foto en {detail}.</translation>
    </message>
    <message>
        <source>The picture {path} cannot be written.</source>
        <translation>No se puede escribir la imagen {path}.</translation>
    </message>
    <message>
        <source>The plug is IN</source>
        <translation>Tapón PUESTO</translation>
    </message>
    <message>
        <source>The plug is OUT</source>
        <translation>Tapón FUERA</translation>
    </message>
    <message>
        <source>The plug is in. Say that the pump is off, and how much went in.</source>
        <translation>El tapón está puesto. Indique que la bomba está apagada y cuánto entró.</translation>
    </message>
    <message>
        <source>The plug stays in for good: stop the check, with the reason.</source>
        <translation>El tapón se queda puesto: detenga la comprobación, con el motivo.</translation>
    </message>
    <message>
        <source>The plug stays in until readings come; if none do, stop.</source>
        <translation>El tapón sigue puesto hasta que lleguen lecturas; si no llegan, detenga la comprobación.</translation>
    </message>
    <message>
        <source>The plug stays out</source>
        <translation>El tapón se queda fuera</translation>
    </message>
    <message>
        <source>The plug takes a very small torque; too much strips the pan.</source>
        <translation>El tapón lleva un par muy pequeño; si es demasiado, daña la rosca del cárter.</translation>
    </message>
    <message>
        <source>The plug takes {asked}; {given} is outside the tolerance.</source>
        <translation>El tapón lleva {asked}; {given} está fuera de la tolerancia.</translation>
    </message>
    <message>
        <source>The plug was {plug} and it was not known whether the engine ran when the program stopped, {ago}.</source>
        <translation>El tapón estaba {plug} y no se sabía si el motor estaba en marcha cuando se detuvo el programa, {ago}.</translation>
    </message>
    <message>
        <source>The plug was {plug} and the engine was off when the program stopped, {ago}.</source>
        <translation>El tapón estaba {plug} y el motor estaba apagado cuando se detuvo el programa, {ago}.</translation>
    </message>
    <message>
        <source>The plug was {plug} and the engine was running when the program stopped, {ago}.</source>
        <translation>El tapón estaba {plug} y el motor estaba en marcha cuando se detuvo el programa, {ago}.</translation>
    </message>
    <message>
        <source>The plug&apos;s thread is stripped, or it does not seal</source>
        <translation>La rosca del tapón está dañada, o no sella</translation>
    </message>
    <message>
        <source>The pump is running.</source>
        <translation>La bomba está en marcha.</translation>
    </message>
    <message>
        <source>The pump was not started.</source>
        <translation>La bomba no se puso en marcha.</translation>
    </message>
    <message>
        <source>The readings have not stayed inside the target band for {time} yet.</source>
        <translation>Las lecturas aún no se han mantenido dentro de la banda objetivo durante {time}.</translation>
    </message>
    <message>
        <source>The readings of {signal} are damaged.</source>
        <translation>Las lecturas de {signal} están dañadas.</translation>
    </message>
    <message>
        <source>The reason</source>
        <translation>El motivo</translation>
    </message>
    <message>
        <source>The record cannot be written to {path}: {why}.</source>
        <translation>El registro no se puede escribir en {path}: {why}.</translation>
    </message>
    <message>
        <source>The record does not begin with the opening of its check.</source>
        <translation>El registro no empieza con la apertura de su comprobación.</translation>
    </message>
    <message>
        <source>The record is damaged: it does not say when its attachments came.</source>
        <translation>El registro está dañado: no dice cuándo llegaron sus archivos adjuntos.</translation>
    </message>
    <message>
        <source>The record is not sealed yet; leave the window open until it is.</source>
        <translation>El registro aún no está sellado; deje la ventana abierta hasta que lo esté.</translation>
    </message>
    <message>
        <source>The recording {path} cannot be written: {why}.</source>
        <translation>La grabación {path} no se puede escribir: {why}.</translation>
    </message>
    <message>
        <source>The records are damaged</source>
        <translation>Los registros están dañados</translation>
    </message>
    <message>
        <source>The records are of this version now.</source>
        <translation>Los registros ya son de esta versión.</translation>
    </message>
    <message>
        <source>The records cannot be used</source>
        <translation>Los registros no se pueden usar</translation>
    </message>
    <message>
        <source>The scan was not taken. {why}</source>
        <translation>La lectura del código no se tomó. {why}</translation>
    </message>
    <message>
        <source>The seal of the check plug has not been inspected or replaced.</source>
        <translation>No se ha inspeccionado ni cambiado la junta del tapón de nivel.</translation>
    </message>
    <message>
        <source>The seal of the check plug has not been replaced.</source>
        <translation>No se ha cambiado la junta del tapón de nivel.</translation>
    </message>
    <message>
        <source>The search was given up.</source>
        <translation>La búsqueda se abandonó.</translation>
    </message>
    <message>
        <source>The selector is in {word}, not in park.</source>
        <translation>El selector está en {word}, no en estacionamiento.</translation>
    </message>
    <message>
        <source>The sensor in the transmission decides. On a shiny pan a gun shows little more than the shop air; what no surface can explain casts doubt on the sensor.</source>
        <translation>Decide el sensor de la caja automática. Sobre un cárter brillante, un termómetro infrarrojo muestra poco más que el aire del taller; lo que ninguna superficie explica hace dudar del sensor.</translation>
    </message>
    <message>
        <source>The sensor is not trusted: take it that the fluid burns skin immediately.</source>
        <translation>El sensor no es de fiar: dé por hecho que el fluido quema la piel de inmediato.</translation>
    </message>
    <message>
        <source>The sensor is too far off what it was compared with.</source>
        <translation>El sensor se aleja demasiado de aquello con lo que se comparó.</translation>
    </message>
    <message>
        <source>The sensor is {off} off what it was compared with; allowed are {allowed}.</source>
        <translation>El sensor se aleja {off} de aquello con lo que se comparó; se permiten {allowed}.</translation>
    </message>
    <message>
        <source>The sensor says: no reading yet</source>
        <translation>El sensor marca: aún sin lectura</translation>
    </message>
    <message>
        <source>The sensor says: {said}</source>
        <translation>El sensor marca: {said}</translation>
    </message>
    <message>
        <source>The settings {path} are not TOML: {error}.</source>
        <translation>Los ajustes {path} no son TOML: {error}.</translation>
    </message>
    <message>
        <source>The settings {path} cannot be read: {why}.</source>
        <translation>Los ajustes {path} no se pueden leer: {why}.</translation>
    </message>
    <message>
        <source>The settings {path} cannot be used: {faults}.</source>
        <translation>Los ajustes {path} no se pueden usar: {faults}.</translation>
    </message>
    <message>
        <source>The settings {path} cannot be written: {why}.</source>
        <translation>Los ajustes {path} no se pueden escribir: {why}.</translation>
    </message>
    <message>
        <source>The spec sheet asks for no range {word}.</source>
        <translation>La hoja de especificaciones no pide ninguna posición {word}.</translation>
    </message>
    <message>
        <source>The spec sheet asks for the {words} with the id of the answer, {response:X}.</source>
        <translation>La hoja de especificaciones pide {words} con el identificador de la respuesta, {response:X}.</translation>
    </message>
    <message>
        <source>The spec sheet has no fill path “{word}”.</source>
        <translation>La hoja de especificaciones no tiene la vía de llenado “{word}”.</translation>
    </message>
    <message>
        <source>The spec sheet has no variant “{word}”.</source>
        <translation>La hoja de especificaciones no tiene la variante “{word}”.</translation>
    </message>
    <message>
        <source>The standard calls it the transmission oil temperature.</source>
        <translation>La norma la llama temperatura del aceite de la transmisión.</translation>
    </message>
    <message>
        <source>The temperature comes</source>
        <translation>La temperatura viene</translation>
    </message>
    <message>
        <source>The temperature of something, maybe of the coolant; confirm it with a second instrument.</source>
        <translation>Es la temperatura de algo, quizá del refrigerante; confírmelo con un segundo instrumento.</translation>
    </message>
    <message>
        <source>The temperature reading cannot be used: {why}.</source>
        <translation>La lectura de temperatura no se puede usar: {why}.</translation>
    </message>
    <message>
        <source>The temperature reading is lost since {at} of the check.</source>
        <translation>La lectura de temperatura falta desde {at} de la comprobación.</translation>
    </message>
    <message>
        <source>The temperature readings are lost.</source>
        <translation>Faltan las lecturas de temperatura.</translation>
    </message>
    <message>
        <source>The temperature sensor has not been compared with anything.</source>
        <translation>El sensor de temperatura no se ha comparado con nada.</translation>
    </message>
    <message>
        <source>The thread is stripped…</source>
        <translation>La rosca está dañada…</translation>
    </message>
    <message>
        <source>The tilt alone costs more than the fluid level may be off.</source>
        <translation>La sola inclinación cuesta más de lo que puede desviarse el nivel de fluido.</translation>
    </message>
    <message>
        <source>The tilt alone costs more than the fluid level may be off: {off}; accepted are {most} at most.</source>
        <translation>La sola inclinación cuesta más de lo que puede desviarse el nivel de fluido: {off}; se aceptan {most} como máximo.</translation>
    </message>
    <message>
        <source>The translation {file} is missing or damaged, so that everything is in English: install Brimline again.</source>
        <translation>La traducción {file} falta o está dañada, por lo que todo aparece en inglés: vuelva a instalar Brimline.</translation>
    </message>
    <message>
        <source>The transmission was drained or opened</source>
        <translation>La transmisión se vació o se abrió</translation>
    </message>
    <message>
        <source>The trial was given up.</source>
        <translation>La prueba se abandonó.</translation>
    </message>
    <message>
        <source>The two readings of a pair differ by more than an instrument&apos;s offset explains: turned round, give the angle in the vehicle&apos;s sense, nose up positive.</source>
        <translation>Las dos lecturas de un par difieren más de lo que explica el desfase de un instrumento: al girarlo, dé el ángulo en el sentido del vehículo, positivo con el morro arriba.</translation>
    </message>
    <message>
        <source>The vehicle is not heard for it any more. The record says so, with your reason.</source>
        <translation>Para ello ya no se escucha al vehículo. Así consta en el registro, con su motivo.</translation>
    </message>
    <message>
        <source>The vehicle is not identified.</source>
        <translation>El vehículo no está identificado.</translation>
    </message>
    <message>
        <source>The vehicle is tilted more than the spec sheet allows.</source>
        <translation>El vehículo está más inclinado de lo que permite la hoja de especificaciones.</translation>
    </message>
    <message>
        <source>The vehicle is tilted more than the spec sheet allows: {off}; the allowed tilt costs {most} at most.</source>
        <translation>El vehículo está más inclinado de lo que permite la hoja de especificaciones: {off}; la inclinación permitida cuesta {most} como máximo.</translation>
    </message>
    <message>
        <source>The vehicle maker&apos;s service information, local codes and licensed practice come first; where they differ from what is shown here, they hold.</source>
        <translation>La información de servicio del fabricante, las normas locales y la práctica autorizada van primero: si difieren de lo que se muestra aquí, prevalecen.</translation>
    </message>
    <message>
        <source>The vehicle moves ({speed}).</source>
        <translation>El vehículo se mueve ({speed}).</translation>
    </message>
    <message>
        <source>The vehicle moves, {value}. Bring it to a stop.</source>
        <translation>El vehículo se mueve, {value}. Deténgalo.</translation>
    </message>
    <message>
        <source>The vehicle moves: stop it</source>
        <translation>El vehículo se mueve: deténgalo</translation>
    </message>
    <message>
        <source>The vehicle tells the {signal} itself, so a tap cannot replace it.</source>
        <translation>El vehículo mismo da este dato ({signal}), así que una pulsación no puede sustituirlo.</translation>
    </message>
    <message>
        <source>The vehicle tells this itself, so that nothing keyed replaces it.</source>
        <translation>El vehículo mismo da este dato, así que nada tecleado lo sustituye.</translation>
    </message>
    <message>
        <source>The vehicle&apos;s tilt has not been measured.</source>
        <translation>No se ha medido la inclinación del vehículo.</translation>
    </message>
    <message>
        <source>The words hold characters that no record keeps; type them anew.</source>
        <translation>El texto contiene caracteres que ningún registro guarda; tecléelo de nuevo.</translation>
    </message>
    <message>
        <source>The work at the check plug is not finished.</source>
        <translation>El trabajo en el tapón de nivel no está terminado.</translation>
    </message>
    <message>
        <source>The work at the plug is done. Put it in, then press.</source>
        <translation>El trabajo en el tapón está hecho. Póngalo y pulse.</translation>
    </message>
    <message>
        <source>The work summary cannot be written to {path}: the folder is protected, the disk is full, or the file is open in another program.</source>
        <translation>El resumen de trabajo no se puede escribir en {path}: la carpeta está protegida, el disco está lleno o el archivo está abierto en otro programa.</translation>
    </message>
    <message>
        <source>The wrench does not reach {torque}; take another.</source>
        <translation>La llave no llega a {torque}; use otra.</translation>
    </message>
    <message>
        <source>The {what} cannot be used: {fault}</source>
        <translation>No se puede usar ({what}): {fault}</translation>
    </message>
    <message>
        <source>The {what} cannot be used; it has {count} faults:
{listed}</source>
        <translation>No se puede usar ({what}); tiene {count} fallos:
{listed}</translation>
    </message>
    <message>
        <source>Then idle in park, {low:.0f} to {high:.0f}&#xa0;rpm, for {time}</source>
        <translation>Luego ralentí en estacionamiento, {low:.0f} a {high:.0f}&#xa0;rpm, durante {time}</translation>
    </message>
    <message>
        <source>Then idle in park, {low:.0f} to {high:.0f}&#xa0;rpm, for {time}, {left} left</source>
        <translation>Luego ralentí en estacionamiento, {low:.0f} a {high:.0f}&#xa0;rpm, durante {time}; quedan {left}</translation>
    </message>
    <message>
        <source>There are no records now.</source>
        <translation>Ahora no hay registros.</translation>
    </message>
    <message>
        <source>There is a record “{check_id}” already; the new check was not begun.</source>
        <translation>Ya existe un registro “{check_id}”; la nueva comprobación no empezó.</translation>
    </message>
    <message>
        <source>There is no approved spec sheet: write one into the folder “sheets” beside the records, and approve it.</source>
        <translation>No hay ninguna hoja de especificaciones aprobada: escriba una en la carpeta “sheets” junto a los registros y apruébela.</translation>
    </message>
    <message>
        <source>There is no backup yet: finish a check, or press “Back up now” under “Backups…”.</source>
        <translation>Aún no hay copia de seguridad: termine una comprobación o pulse “Hacer copia ahora” en “Copias de seguridad…”.</translation>
    </message>
    <message>
        <source>There is no display to open a window on; “brimline demo --auto” needs none.</source>
        <translation>No hay pantalla en la que abrir una ventana; “brimline demo --auto” no la necesita.</translation>
    </message>
    <message>
        <source>There is no file {named}.</source>
        <translation>No existe el archivo {named}.</translation>
    </message>
    <message>
        <source>There is no file {source}.</source>
        <translation>No existe el archivo {source}.</translation>
    </message>
    <message>
        <source>There is no language “{code}”: {known}, or all.</source>
        <translation>No existe el idioma “{code}”: {known}, o all.</translation>
    </message>
    <message>
        <source>There is no open record “{check_id}” to go on with.</source>
        <translation>No hay un registro abierto “{check_id}” con el que continuar.</translation>
    </message>
    <message>
        <source>There is no provisional result to end with.</source>
        <translation>No hay un resultado provisional con el que terminar.</translation>
    </message>
    <message>
        <source>There is no reading of the fluid temperature.</source>
        <translation>No hay lectura de la temperatura del fluido.</translation>
    </message>
    <message>
        <source>There is no record “{check_id}” to finish.</source>
        <translation>No hay un registro “{check_id}” que terminar.</translation>
    </message>
    <message>
        <source>There is no record “{check_id}” to go on with.</source>
        <translation>No hay un registro “{check_id}” con el que continuar.</translation>
    </message>
    <message>
        <source>There is no record “{wanted}”; give its number, its id, or at least the first {shortest_prefix} characters of its id.</source>
        <translation>No hay un registro “{wanted}”; indique su número, su identificador o al menos los primeros {shortest_prefix} caracteres de este.</translation>
    </message>
    <message>
        <source>There is no script “{name}”; shipped are: {known}.</source>
        <translation>No existe el guion “{name}”; se incluyen: {known}.</translation>
    </message>
    <message>
        <source>There is no simulated vehicle to work on.</source>
        <translation>No hay ningún vehículo simulado en el que trabajar.</translation>
    </message>
    <message>
        <source>There is no simulated {family} to go on with, so that it can only be ended.</source>
        <translation>No hay un {family} simulado con el que continuar, así que solo puede terminarse.</translation>
    </message>
    <message>
        <source>There is nothing of that kind to acknowledge.</source>
        <translation>No hay nada de ese tipo que confirmar.</translation>
    </message>
    <message>
        <source>There is nothing to amend: say what it is to be.</source>
        <translation>No hay nada que enmendar: indique cómo debe quedar.</translation>
    </message>
    <message>
        <source>There is nothing to override: {what}.</source>
        <translation>No hay nada que omitir: {what}.</translation>
    </message>
    <message>
        <source>There was no coolant temperature to compare it with: it may be the coolant.</source>
        <translation>No había temperatura del refrigerante con la que compararla: puede ser el refrigerante.</translation>
    </message>
    <message>
        <source>They cannot listen without acknowledging frames.</source>
        <translation>No pueden escuchar sin confirmar tramas.</translation>
    </message>
    <message>
        <source>This bay is new</source>
        <translation>Este puesto es nuevo</translation>
    </message>
    <message>
        <source>This check is closed and only its seal is missing: end it first.</source>
        <translation>Esta comprobación está cerrada y solo falta su sello: termínela primero.</translation>
    </message>
    <message>
        <source>This check is not finished yet, so there is no work summary of it.</source>
        <translation>Esta comprobación aún no está terminada, así que no hay resumen de trabajo.</translation>
    </message>
    <message>
        <source>This check is over.</source>
        <translation>Esta comprobación ha terminado.</translation>
    </message>
    <message>
        <source>This check is running. Stop it first, or go through to its end.</source>
        <translation>Esta comprobación está en curso. Deténgala primero, o llévela hasta el final.</translation>
    </message>
    <message>
        <source>This file is with the record already.</source>
        <translation>Este archivo ya está con el registro.</translation>
    </message>
    <message>
        <source>This is how prompts sound.</source>
        <translation>Así suenan los avisos.</translation>
    </message>
    <message>
        <source>This is never overridden: {what}.</source>
        <translation>Esto no se omite nunca: {what}.</translation>
    </message>
    <message>
        <source>This is new: look, then press.</source>
        <translation>Esto es nuevo: mire y pulse.</translation>
    </message>
    <message>
        <source>This no longer stands against taking the plug out.</source>
        <translation>Esto ya no impide quitar el tapón.</translation>
    </message>
    <message>
        <source>This program cannot reach a vehicle&apos;s bus: choose “Keyed from an instrument”.</source>
        <translation>Este programa no llega al bus de un vehículo: elija “Leída en un instrumento y tecleada”.</translation>
    </message>
    <message>
        <source>This program cannot reach a vehicle&apos;s bus; key the temperatures.</source>
        <translation>Este programa no llega al bus de un vehículo; teclee las temperaturas.</translation>
    </message>
    <message>
        <source>This proposes only: confirm the one you take against a second instrument.</source>
        <translation>Son solo propuestas: confirme con un segundo instrumento la que elija.</translation>
    </message>
    <message>
        <source>This record is incomplete, so there is no work summary of it.</source>
        <translation>Este registro está incompleto, así que no hay resumen de trabajo.</translation>
    </message>
    <message>
        <source>This sheet does not say where the fluid temperature is on the bus: it is keyed, and the rest comes from the bus.</source>
        <translation>Esta hoja no dice dónde está en el bus la temperatura del fluido: se teclea, y lo demás viene del bus.</translation>
    </message>
    <message>
        <source>Thread stripped</source>
        <translation>Rosca dañada</translation>
    </message>
    <message>
        <source>Tilt on the vehicle&apos;s datum, each way and turned round</source>
        <translation>Inclinación en la referencia del vehículo, en cada sentido y girando el instrumento</translation>
    </message>
    <message>
        <source>Tilt written down</source>
        <translation>Inclinación anotada</translation>
    </message>
    <message>
        <source>Time</source>
        <translation>Tiempo</translation>
    </message>
    <message>
        <source>Time of check (min:s)</source>
        <translation>Tiempo (min:s)</translation>
    </message>
    <message>
        <source>To</source>
        <translation>Hasta</translation>
    </message>
    <message>
        <source>To temperature</source>
        <translation>A temperatura</translation>
    </message>
    <message>
        <source>To the first screen</source>
        <translation>A la primera pantalla</translation>
    </message>
    <message>
        <source>To the work summary</source>
        <translation>Al resumen de trabajo</translation>
    </message>
    <message>
        <source>Too hot for the plug</source>
        <translation>Demasiado caliente</translation>
    </message>
    <message>
        <source>Too hot, fresh</source>
        <translation>Muy caliente, reciente</translation>
    </message>
    <message>
        <source>Too short a rest to compare: as much as {left} of its heat may be left. It takes {hours:.1f} h.</source>
        <translation>Reposo demasiado corto para comparar: pueden quedar hasta {left} de su calor. Hacen falta {hours:.1f} h.</translation>
    </message>
    <message>
        <source>Too short: hold it longer</source>
        <translation>Muy corto: pulse más tiempo</translation>
    </message>
    <message>
        <source>Top up</source>
        <translation>Añadir fluido</translation>
    </message>
    <message>
        <source>Torque applied</source>
        <translation>Par aplicado</translation>
    </message>
    <message>
        <source>Torque the check plug to {limit} and write it down at the screen.</source>
        <translation>Apriete el tapón de nivel a {limit} y anótelo en la pantalla.</translation>
    </message>
    <message>
        <source>Torque the plug: {limit}</source>
        <translation>Apriete el tapón: {limit}</translation>
    </message>
    <message>
        <source>Torque: {wanted}</source>
        <translation>Par de apriete: {wanted}</translation>
    </message>
    <message>
        <source>Torques</source>
        <translation>Pares de apriete</translation>
    </message>
    <message>
        <source>Training and replays are left out.</source>
        <translation>No se incluyen la formación ni las reproducciones.</translation>
    </message>
    <message>
        <source>Training and replays too</source>
        <translation>Formación y reproducciones</translation>
    </message>
    <message>
        <source>Trust the sensor</source>
        <translation>Comprobar el sensor</translation>
    </message>
    <message>
        <source>Try a demonstration first</source>
        <translation>Probar antes una demostración</translation>
    </message>
    <message>
        <source>Try it</source>
        <translation>Probar la conexión</translation>
    </message>
    <message>
        <source>Tuple should have at least 1 item after validation, not 0</source>
        <translation>La lista debe tener al menos 1 elemento</translation>
    </message>
    <message>
        <source>Turned round, an instrument with a sign shows the opposite one: reverse it, so that both readings of a pair have the vehicle&apos;s sense.</source>
        <translation>Al girarlo, un instrumento con signo marca el contrario: inviértalo, para que las dos lecturas de un par tengan el sentido del vehículo.</translation>
    </message>
    <message>
        <source>Type VIN {vin} and a work order, then press “{button}”.</source>
        <translation>Escriba el VIN {vin} y una orden de trabajo, y pulse “{button}”.</translation>
    </message>
    <message>
        <source>Type a whole VIN or its last eight characters, a whole plate or work order, or words that were written down.</source>
        <translation>Escriba un VIN completo o sus últimos ocho caracteres, una matrícula u orden de trabajo completas, o palabras que se anotaron.</translation>
    </message>
    <message>
        <source>Type again</source>
        <translation>Escribir de nuevo</translation>
    </message>
    <message>
        <source>Type the first reading below</source>
        <translation>Escriba abajo la primera lectura</translation>
    </message>
    <message>
        <source>Type the product that is in hand.</source>
        <translation>Escriba el producto que va a usar.</translation>
    </message>
    <message>
        <source>Type the technician&apos;s name.</source>
        <translation>Escriba el nombre del técnico.</translation>
    </message>
    <message>
        <source>Type the temperature that the instrument shows.</source>
        <translation>Escriba la temperatura que marca el instrumento.</translation>
    </message>
    <message>
        <source>Type the word</source>
        <translation>Escriba la palabra</translation>
    </message>
    <message>
        <source>UDS identifier {identifier:04X} in replies {response:X}, byte {byte}, read as {layout}</source>
        <translation>Identificador UDS {identifier:04X} en las respuestas {response:X}, byte {byte}, leído como {layout}</translation>
    </message>
    <message>
        <source>UDS identifier {identifier} in replies {response}</source>
        <translation>identificador UDS {identifier} en las respuestas {response}</translation>
    </message>
    <message>
        <source>US</source>
        <translation>Estadounidense</translation>
    </message>
    <message>
        <source>Unable to extract tag using discriminator {key}</source>
        <translation>Falta la clave {key}</translation>
    </message>
    <message>
        <source>Units</source>
        <translation>Unidades</translation>
    </message>
    <message>
        <source>Until</source>
        <translation>Hasta</translation>
    </message>
    <message>
        <source>VIN</source>
        <translation>VIN</translation>
    </message>
    <message>
        <source>VIN {text} contains {named}; a VIN has only digits and capital letters, without I, O and Q.</source>
        <translation>El VIN {text} contiene {named}; un VIN tiene solo cifras y letras mayúsculas, sin I, O ni Q.</translation>
    </message>
    <message>
        <source>VIN {text} is mistyped or misread: its check digit (position 9) is “{found}” but the other characters give “{expected}”.</source>
        <translation>El VIN {text} está mal escrito o mal leído: su dígito de control (posición 9) es “{found}”, pero los demás caracteres dan “{expected}”.</translation>
    </message>
    <message>
        <source>VIN {vin}</source>
        <translation>VIN {vin}</translation>
    </message>
    <message>
        <source>VIN {vin} was scanned.</source>
        <translation>Se leyó el VIN {vin}.</translation>
    </message>
    <message>
        <source>VIN “{text}” has {count} characters; a VIN has exactly {length} letters and digits.</source>
        <translation>El VIN “{text}” tiene {count} caracteres; un VIN tiene exactamente {length} letras y cifras.</translation>
    </message>
    <message>
        <source>VIN, last eight, plate, order or words</source>
        <translation>VIN o su final, matrícula, orden o texto</translation>
    </message>
    <message>
        <source>Value error, {error}</source>
        <translation>Valor erróneo, {error}</translation>
    </message>
    <message>
        <source>Variant</source>
        <translation>Variante</translation>
    </message>
    <message>
        <source>Vehicle</source>
        <translation>Vehículo</translation>
    </message>
    <message>
        <source>Vehicle identified</source>
        <translation>Vehículo identificado</translation>
    </message>
    <message>
        <source>Verdict</source>
        <translation>Veredicto</translation>
    </message>
    <message>
        <source>Verdict and record</source>
        <translation>Veredicto y registro</translation>
    </message>
    <message>
        <source>Volume</source>
        <translation>Volumen</translation>
    </message>
    <message>
        <source>Volume up</source>
        <translation>Subir volumen</translation>
    </message>
    <message>
        <source>WARNING</source>
        <translation>ADVERTENCIA</translation>
    </message>
    <message>
        <source>Wait for the band. Too hot: “Engine off” and “Fan on” here, then on again.</source>
        <translation>Espere a la banda. Demasiado caliente: “Motor apagado” y “Ventilador en marcha” aquí, y luego motor en marcha otra vez.</translation>
    </message>
    <message>
        <source>Wait until it only drips, then say how fast.</source>
        <translation>Espere a que solo gotee e indique con qué ritmo.</translation>
    </message>
    <message>
        <source>Wait until it only drips, {limit} at most, then press.</source>
        <translation>Espere a que solo gotee, {limit} como máximo, y pulse.</translation>
    </message>
    <message>
        <source>Wait: {value}, band from {limit}</source>
        <translation>Espere: {value}, banda desde {limit}</translation>
    </message>
    <message>
        <source>Waiting for the camera…</source>
        <translation>Esperando a la cámara…</translation>
    </message>
    <message>
        <source>Waiting for the first reading: ignition on</source>
        <translation>Esperando la primera lectura: dé el contacto</translation>
    </message>
    <message>
        <source>Watch what comes: {left}</source>
        <translation>Mire qué sale: {left}</translation>
    </message>
    <message>
        <source>Water or coolant</source>
        <translation>Agua o refrigerante</translation>
    </message>
    <message>
        <source>Wear eye protection</source>
        <translation>Use protección ocular</translation>
    </message>
    <message>
        <source>Wear hand protection</source>
        <translation>Use protección de manos</translation>
    </message>
    <message>
        <source>What</source>
        <translation>Qué</translation>
    </message>
    <message>
        <source>What called for the plug is over.</source>
        <translation>Lo que pedía el tapón ha terminado.</translation>
    </message>
    <message>
        <source>What comes out of the plug hole?</source>
        <translation>¿Qué sale por el orificio del tapón?</translation>
    </message>
    <message>
        <source>What is added stays with the record.</source>
        <translation>Lo que se añade queda con el registro.</translation>
    </message>
    <message>
        <source>What is left of the file stays where it is until a copy takes its place. Then it is moved aside in the same folder, under a name that says when. Nothing is deleted, and nothing is begun anew by itself.</source>
        <translation>Lo que queda del archivo permanece donde está hasta que una copia ocupe su lugar. Entonces se aparta en la misma carpeta, con un nombre que dice cuándo. No se borra nada, y nada empieza de nuevo por sí solo.</translation>
    </message>
    <message>
        <source>What is not saved could not be written to another place either: {refusals}.</source>
        <translation>Lo que no está guardado tampoco se pudo escribir en otro lugar: {refusals}.</translation>
    </message>
    <message>
        <source>What it may be</source>
        <translation>Qué puede ser</translation>
    </message>
    <message>
        <source>What numbers look like</source>
        <translation>Aspecto de los números</translation>
    </message>
    <message>
        <source>What record {number} is searched by was changed: {what}.</source>
        <translation>Se modificó aquello por lo que se busca el registro {number}: {what}.</translation>
    </message>
    <message>
        <source>What record {number} says of an attachment is damaged.</source>
        <translation>Lo que dice el registro {number} de un archivo adjunto está dañado.</translation>
    </message>
    <message>
        <source>What record {number} was sealed behind is missing from the chain.</source>
        <translation>Falta en la cadena aquello tras lo que se selló el registro {number}.</translation>
    </message>
    <message>
        <source>What stands against taking the plug out</source>
        <translation>Qué impide quitar el tapón</translation>
    </message>
    <message>
        <source>What the camera shows</source>
        <translation>Lo que muestra la cámara</translation>
    </message>
    <message>
        <source>What the present records hold besides cannot be told: they cannot be read.</source>
        <translation>No se puede saber qué más contienen los registros actuales: no se pueden leer.</translation>
    </message>
    <message>
        <source>What to enter in the sheet&apos;s signal map</source>
        <translation>Qué anotar en el mapa de señales de la hoja</translation>
    </message>
    <message>
        <source>What was not saved of this check lies in {path}, and does not fit its record; move the file away to go on without it.</source>
        <translation>Lo que no se guardó de esta comprobación está en {path} y no encaja con su registro; aparte el archivo para continuar sin él.</translation>
    </message>
    <message>
        <source>What you recommend</source>
        <translation>Lo que usted recomienda</translation>
    </message>
    <message>
        <source>When the band comes can be told once the engine has run for some minutes.</source>
        <translation>Cuándo llega la banda se sabrá cuando el motor lleve unos minutos en marcha.</translation>
    </message>
    <message>
        <source>When to come back</source>
        <translation>Cuándo volver</translation>
    </message>
    <message>
        <source>Where</source>
        <translation>Dónde</translation>
    </message>
    <message>
        <source>Where there is no copy at all: type {word} to begin with no records. What is there is moved aside as well, in case somebody can mend it.</source>
        <translation>Si no hay ninguna copia: escriba {word} para empezar sin registros. Lo que hay también se aparta, por si alguien puede repararlo.</translation>
    </message>
    <message>
        <source>Whether the engine ran is not known.</source>
        <translation>No se sabe si el motor estuvo en marcha.</translation>
    </message>
    <message>
        <source>While it listened, the adapter was told to stay silent.</source>
        <translation>Mientras escuchaba, se ordenó al adaptador que callara.</translation>
    </message>
    <message>
        <source>Who amends</source>
        <translation>Quién enmienda</translation>
    </message>
    <message>
        <source>Why</source>
        <translation>Por qué</translation>
    </message>
    <message>
        <source>Why it ends</source>
        <translation>Por qué termina</translation>
    </message>
    <message>
        <source>Work order</source>
        <translation>Orden de trabajo</translation>
    </message>
    <message>
        <source>Work order {order}</source>
        <translation>Orden de trabajo {order}</translation>
    </message>
    <message>
        <source>Wrench reads from</source>
        <translation>Alcance de la llave, desde</translation>
    </message>
    <message>
        <source>Wrench reads to</source>
        <translation>Alcance de la llave, hasta</translation>
    </message>
    <message>
        <source>Write a copy to another place</source>
        <translation>Escribir una copia en otro lugar</translation>
    </message>
    <message>
        <source>Write down the run-off</source>
        <translation>Anotar lo rebosado</translation>
    </message>
    <message>
        <source>Write down the tilt</source>
        <translation>Anotar la inclinación</translation>
    </message>
    <message>
        <source>Write the work summary (PDF)</source>
        <translation>Crear el resumen de trabajo (PDF)</translation>
    </message>
    <message>
        <source>Written to {path}</source>
        <translation>Escrito en {path}</translation>
    </message>
    <message>
        <source>Written to {path}. The next start tells of it.</source>
        <translation>Escrito en {path}. El próximo arranque avisa de ello.</translation>
    </message>
    <message>
        <source>Wrong fluid: take another</source>
        <translation>Fluido incorrecto: use otro</translation>
    </message>
    <message>
        <source>Yes, put it in their place</source>
        <translation>Sí, ponerla en su lugar</translation>
    </message>
    <message>
        <source>You should hear three tones, then a sentence.</source>
        <translation>Debería oír tres tonos y luego una frase.</translation>
    </message>
    <message>
        <source>Your reason for that</source>
        <translation>Su motivo para ello</translation>
    </message>
    <message>
        <source>a bus made of network packets; it leaves this computer</source>
        <translation>un bus hecho de paquetes de red; sale de este equipo</translation>
    </message>
    <message>
        <source>a bus within this program, for simulated vehicles only</source>
        <translation>un bus dentro de este programa, solo para vehículos simulados</translation>
    </message>
    <message>
        <source>a condition was overridden: {against}</source>
        <translation>se omitió una condición: {against}</translation>
    </message>
    <message>
        <source>a port, a device or a name</source>
        <translation>un puerto, un dispositivo o un nombre</translation>
    </message>
    <message>
        <source>a selector range was not held for its time</source>
        <translation>una posición del selector no se mantuvo su tiempo</translation>
    </message>
    <message>
        <source>a simulated vehicle: {source}</source>
        <translation>un vehículo simulado: {source}</translation>
    </message>
    <message>
        <source>acknowledged</source>
        <translation>confirmada</translation>
    </message>
    <message>
        <source>adapter or fill opening ready</source>
        <translation>adaptador o boca de llenado a punto</translation>
    </message>
    <message>
        <source>adapters of the kind “{name}”</source>
        <translation>adaptadores de tipo “{name}”</translation>
    </message>
    <message>
        <source>adapters that the Linux kernel knows (SocketCAN)</source>
        <translation>adaptadores que conoce el núcleo de Linux (SocketCAN)</translation>
    </message>
    <message>
        <source>added</source>
        <translation>añadido</translation>
    </message>
    <message>
        <source>amended</source>
        <translation>enmendado</translation>
    </message>
    <message>
        <source>amended: {fields}</source>
        <translation>enmendado: {fields}</translation>
    </message>
    <message>
        <source>an adapter on another computer, by TCP (socketcand)</source>
        <translation>un adaptador en otro equipo, por TCP (socketcand)</translation>
    </message>
    <message>
        <source>angle</source>
        <translation>ángulo</translation>
    </message>
    <message>
        <source>answered</source>
        <translation>contestó</translation>
    </message>
    <message>
        <source>any</source>
        <translation>cualquiera</translation>
    </message>
    <message>
        <source>area</source>
        <translation>área</translation>
    </message>
    <message>
        <source>arrives above the target band</source>
        <translation>llega por encima de la banda objetivo</translation>
    </message>
    <message>
        <source>as it stands on the work summary</source>
        <translation>como irá en el resumen</translation>
    </message>
    <message>
        <source>as it stands on the work summary; may wait</source>
        <translation>como aparecerá en el resumen; puede esperar</translation>
    </message>
    <message>
        <source>as the adapter is set</source>
        <translation>según el adaptador</translation>
    </message>
    <message>
        <source>at least one end of the band must be given</source>
        <translation>debe indicarse al menos un extremo de la banda</translation>
    </message>
    <message>
        <source>at least one fluid must be approved</source>
        <translation>al menos un fluido debe estar aprobado</translation>
    </message>
    <message>
        <source>automatic engine stop disabled</source>
        <translation>parada automática del motor desactivada</translation>
    </message>
    <message>
        <source>backup</source>
        <translation>copia de seguridad</translation>
    </message>
    <message>
        <source>band in about</source>
        <translation>banda en unos</translation>
    </message>
    <message>
        <source>band lasts about</source>
        <translation>la banda dura unos</translation>
    </message>
    <message>
        <source>band lasts beyond</source>
        <translation>la banda dura más allá de</translation>
    </message>
    <message>
        <source>band lasts over</source>
        <translation>la banda dura más de</translation>
    </message>
    <message>
        <source>band may end within</source>
        <translation>la banda puede acabar en</translation>
    </message>
    <message>
        <source>band not within</source>
        <translation>sin banda antes de</translation>
    </message>
    <message>
        <source>band within</source>
        <translation>banda en menos de</translation>
    </message>
    <message>
        <source>band:</source>
        <translation>banda:</translation>
    </message>
    <message>
        <source>before an upgrade</source>
        <translation>antes de una actualización</translation>
    </message>
    <message>
        <source>before fluid is pumped in</source>
        <translation>antes de bombear fluido</translation>
    </message>
    <message>
        <source>before the lift goes up</source>
        <translation>antes de subir el elevador</translation>
    </message>
    <message>
        <source>before the plug comes out</source>
        <translation>antes de quitar el tapón</translation>
    </message>
    <message>
        <source>begun {day} {year}, {time:%H:%M} ({offset})</source>
        <translation>empezada el {day} {year}, {time:%H:%M} ({offset})</translation>
    </message>
    <message>
        <source>black</source>
        <translation>negro</translation>
    </message>
    <message>
        <source>brake held</source>
        <translation>freno pisado</translation>
    </message>
    <message>
        <source>bringing the records to this version of Brimline; a copy is made first</source>
        <translation>pasando los registros a esta versión de Brimline; antes se hace una copia</translation>
    </message>
    <message>
        <source>brown</source>
        <translation>marrón</translation>
    </message>
    <message>
        <source>burnt</source>
        <translation>quemado</translation>
    </message>
    <message>
        <source>cannot be read</source>
        <translation>no se puede leer</translation>
    </message>
    <message>
        <source>cannot be read: {why}</source>
        <translation>no se puede leer: {why}</translation>
    </message>
    <message>
        <source>catch pan in place</source>
        <translation>bandeja de recogida en su sitio</translation>
    </message>
    <message>
        <source>catch pan with room for {amount}, measuring jug</source>
        <translation>bandeja de recogida con sitio para {amount}, jarra graduada</translation>
    </message>
    <message>
        <source>catch pan {caught}, pumped {pumped}</source>
        <translation>bandeja {caught}, bombeado {pumped}</translation>
    </message>
    <message>
        <source>change the fluid</source>
        <translation>cambiar el fluido</translation>
    </message>
    <message>
        <source>check mark</source>
        <translation>marca de verificación</translation>
    </message>
    <message>
        <source>check plug found, not a drain plug</source>
        <translation>tapón de nivel hallado, no de vaciado</translation>
    </message>
    <message>
        <source>checking every page</source>
        <translation>comprobando cada página</translation>
    </message>
    <message>
        <source>choose…</source>
        <translation>elegir…</translation>
    </message>
    <message>
        <source>clear</source>
        <translation>transparente</translation>
    </message>
    <message>
        <source>clear amber</source>
        <translation>ámbar claro</translation>
    </message>
    <message>
        <source>clear red</source>
        <translation>rojo claro</translation>
    </message>
    <message>
        <source>code {code:02X}</source>
        <translation>código {code:02X}</translation>
    </message>
    <message>
        <source>comparing</source>
        <translation>comparando</translation>
    </message>
    <message>
        <source>connection lost</source>
        <translation>conexión perdida</translation>
    </message>
    <message>
        <source>coolant in the fluid: milky, pink, sweet</source>
        <translation>refrigerante en el fluido: lechoso, rosado, dulce</translation>
    </message>
    <message>
        <source>coolant {celsius}</source>
        <translation>refrigerante {celsius}</translation>
    </message>
    <message>
        <source>copying attachments</source>
        <translation>copiando archivos adjuntos</translation>
    </message>
    <message>
        <source>copying {size:,.0f} MB</source>
        <translation>copiando {size:,.0f} MB</translation>
    </message>
    <message>
        <source>cross</source>
        <translation>aspa</translation>
    </message>
    <message>
        <source>current</source>
        <translation>actual</translation>
    </message>
    <message>
        <source>dark red</source>
        <translation>rojo oscuro</translation>
    </message>
    <message>
        <source>dash</source>
        <translation>raya</translation>
    </message>
    <message>
        <source>degrees Celsius</source>
        <translation>grados Celsius</translation>
    </message>
    <message>
        <source>degrees Fahrenheit</source>
        <translation>grados Fahrenheit</translation>
    </message>
    <message>
        <source>density</source>
        <translation>densidad</translation>
    </message>
    <message>
        <source>disc</source>
        <translation>disco</translation>
    </message>
    <message>
        <source>distance</source>
        <translation>distancia</translation>
    </message>
    <message>
        <source>done</source>
        <translation>hecha</translation>
    </message>
    <message>
        <source>drip rate</source>
        <translation>ritmo de goteo</translation>
    </message>
    <message>
        <source>drips</source>
        <translation>gotea</translation>
    </message>
    <message>
        <source>drips {rate:.1f} drops/s</source>
        <translation>gotea {rate:.1f} gotas/s</translation>
    </message>
    <message>
        <source>droplets or test strip</source>
        <translation>gotas de agua o tira reactiva</translation>
    </message>
    <message>
        <source>drops/min</source>
        <translation>gotas/min</translation>
    </message>
    <message>
        <source>drops/s</source>
        <translation>gotas/s</translation>
    </message>
    <message>
        <source>e.g. {example}</source>
        <translation>p. ej. {example}</translation>
    </message>
    <message>
        <source>ended</source>
        <translation>terminada</translation>
    </message>
    <message>
        <source>engine coolant temperature</source>
        <translation>temperatura del refrigerante del motor</translation>
    </message>
    <message>
        <source>engine oil temperature</source>
        <translation>temperatura del aceite del motor</translation>
    </message>
    <message>
        <source>engine speed</source>
        <translation>régimen del motor</translation>
    </message>
    <message>
        <source>engine {speed}</source>
        <translation>motor {speed}</translation>
    </message>
    <message>
        <source>error</source>
        <translation>error</translation>
    </message>
    <message>
        <source>everybody warned and clear of the lift</source>
        <translation>todos avisados y lejos del elevador</translation>
    </message>
    <message>
        <source>exhaust extraction on</source>
        <translation>extracción de gases de escape en marcha</translation>
    </message>
    <message>
        <source>expansion coefficient</source>
        <translation>coeficiente de dilatación</translation>
    </message>
    <message>
        <source>expected {middle} ({low} to {high})</source>
        <translation>previsto {middle} ({low} a {high})</translation>
    </message>
    <message>
        <source>far too much fluid inside: more runs off than the sheet allows</source>
        <translation>demasiado fluido dentro: rebosa más de lo que permite la hoja</translation>
    </message>
    <message>
        <source>file</source>
        <translation>archivo</translation>
    </message>
    <message>
        <source>fine dark wear material</source>
        <translation>material de desgaste fino y oscuro</translation>
    </message>
    <message>
        <source>fine dark wear material in the fluid</source>
        <translation>material de desgaste fino y oscuro en el fluido</translation>
    </message>
    <message>
        <source>fine metal</source>
        <translation>metal fino</translation>
    </message>
    <message>
        <source>fine metal in the fluid</source>
        <translation>metal fino en el fluido</translation>
    </message>
    <message>
        <source>fluid ran off for longer than the spec sheet allows</source>
        <translation>el fluido rebosó más tiempo del que permite la hoja de especificaciones</translation>
    </message>
    <message>
        <source>fluid temperature</source>
        <translation>temperatura del fluido</translation>
    </message>
    <message>
        <source>fluid was added up to the standpipe</source>
        <translation>se añadió fluido hasta el tubo de rebose</translation>
    </message>
    <message>
        <source>fluid within reach</source>
        <translation>fluido al alcance</translation>
    </message>
    <message>
        <source>fluid_temperature: PID 05 is the engine coolant; generic OBD has no transmission-fluid temperature</source>
        <translation>fluid_temperature: el PID 05 es el refrigerante del motor; el OBD genérico no tiene la temperatura del fluido de la transmisión</translation>
    </message>
    <message>
        <source>foamy</source>
        <translation>espumoso</translation>
    </message>
    <message>
        <source>for {time} (min:s)</source>
        <translation>desde hace {time} (min:s)</translation>
    </message>
    <message>
        <source>from {low}</source>
        <translation>desde {low}</translation>
    </message>
    <message>
        <source>frozen</source>
        <translation>congelada</translation>
    </message>
    <message>
        <source>gloves, eye protection, lamp</source>
        <translation>guantes, protección ocular, lámpara</translation>
    </message>
    <message>
        <source>half-filled disc</source>
        <translation>disco medio lleno</translation>
    </message>
    <message>
        <source>hand and eye protection worn</source>
        <translation>protección de manos y ojos puesta</translation>
    </message>
    <message>
        <source>has a name that no kept file bears</source>
        <translation>tiene un nombre que no lleva ningún archivo guardado</translation>
    </message>
    <message>
        <source>hazy</source>
        <translation>turbio</translation>
    </message>
    <message>
        <source>held</source>
        <translation>cumplida</translation>
    </message>
    <message>
        <source>how long ago is not known</source>
        <translation>no se sabe cuánto hace</translation>
    </message>
    <message>
        <source>identifier {number}</source>
        <translation>identificador {number}</translation>
    </message>
    <message>
        <source>if started now,</source>
        <translation>si arranca ahora,</translation>
    </message>
    <message>
        <source>implausible step</source>
        <translation>salto imposible</translation>
    </message>
    <message>
        <source>initial fill done as the maker says</source>
        <translation>llenado inicial hecho según el fabricante</translation>
    </message>
    <message>
        <source>inspect</source>
        <translation>inspeccionar</translation>
    </message>
    <message>
        <source>is missing</source>
        <translation>falta</translation>
    </message>
    <message>
        <source>is not TOML: {why}</source>
        <translation>no es TOML: {why}</translation>
    </message>
    <message>
        <source>is not known; known are: {known}</source>
        <translation>no se conoce; se conocen: {known}</translation>
    </message>
    <message>
        <source>is not text in UTF-8</source>
        <translation>no es texto en UTF-8</translation>
    </message>
    <message>
        <source>is “{id}”, but the file is called {file}</source>
        <translation>es “{id}”, pero el archivo se llama {file}</translation>
    </message>
    <message>
        <source>it has stood still for too long</source>
        <translation>lleva demasiado tiempo sin moverse</translation>
    </message>
    <message>
        <source>it is missing</source>
        <translation>falta</translation>
    </message>
    <message>
        <source>it jumped faster than fluid can change</source>
        <translation>saltó más rápido de lo que puede cambiar un fluido</translation>
    </message>
    <message>
        <source>its bit rate</source>
        <translation>su velocidad de bits</translation>
    </message>
    <message>
        <source>keyed</source>
        <translation>tecleada</translation>
    </message>
    <message>
        <source>keyed by the technician from an instrument</source>
        <translation>leído por el técnico en un instrumento y tecleado</translation>
    </message>
    <message>
        <source>keyed readings</source>
        <translation>lecturas tecleadas</translation>
    </message>
    <message>
        <source>kinematic viscosity</source>
        <translation>viscosidad cinemática</translation>
    </message>
    <message>
        <source>leaks elsewhere and is so low that the sheet&apos;s largest top-up does not reach</source>
        <translation>pierde por otro lado y está tan bajo que no basta ni la adición máxima de la hoja</translation>
    </message>
    <message>
        <source>least, in {unit}</source>
        <translation>mínimo, en {unit}</translation>
    </message>
    <message>
        <source>length</source>
        <translation>longitud</translation>
    </message>
    <message>
        <source>lift up and locked</source>
        <translation>elevador arriba y bloqueado</translation>
    </message>
    <message>
        <source>live</source>
        <translation>en vivo</translation>
    </message>
    <message>
        <source>live from the vehicle&apos;s bus: {signals}</source>
        <translation>en vivo desde el bus del vehículo: {signals}</translation>
    </message>
    <message>
        <source>lock</source>
        <translation>candado</translation>
    </message>
    <message>
        <source>look again next time</source>
        <translation>revisar la próxima vez</translation>
    </message>
    <message>
        <source>looking at every seal</source>
        <translation>revisando cada sello</translation>
    </message>
    <message>
        <source>looking for copies</source>
        <translation>buscando copias</translation>
    </message>
    <message>
        <source>lot {lot}</source>
        <translation>lote {lot}</translation>
    </message>
    <message>
        <source>metal flakes</source>
        <translation>virutas de metal</translation>
    </message>
    <message>
        <source>metal flakes in the fluid</source>
        <translation>virutas de metal en el fluido</translation>
    </message>
    <message>
        <source>milky</source>
        <translation>lechoso</translation>
    </message>
    <message>
        <source>min:s</source>
        <translation>min:s</translation>
    </message>
    <message>
        <source>minutes</source>
        <translation>minutos</translation>
    </message>
    <message>
        <source>more fluid ran off than the spec sheet allows</source>
        <translation>rebosó más fluido del que permite la hoja de especificaciones</translation>
    </message>
    <message>
        <source>most, in {unit}</source>
        <translation>máximo, en {unit}</translation>
    </message>
    <message>
        <source>moved aside</source>
        <translation>apartada</translation>
    </message>
    <message>
        <source>must be a date such as 2031-05-06</source>
        <translation>debe ser una fecha como 2031-05-06</translation>
    </message>
    <message>
        <source>must be above speed_low</source>
        <translation>debe ser mayor que speed_low</translation>
    </message>
    <message>
        <source>must be above start</source>
        <translation>debe ser mayor que start</translation>
    </message>
    <message>
        <source>must be above {limit:g} {symbol}</source>
        <translation>debe ser mayor que {limit:g} {symbol}</translation>
    </message>
    <message>
        <source>must be at least {limit:g} {symbol}</source>
        <translation>debe ser al menos {limit:g} {symbol}</translation>
    </message>
    <message>
        <source>must be at most {most:g}°</source>
        <translation>debe ser como máximo {most:g}°</translation>
    </message>
    <message>
        <source>must be below viscosity_40</source>
        <translation>debe ser menor que viscosity_40</translation>
    </message>
    <message>
        <source>must be between -60 °C and 200 °C</source>
        <translation>debe estar entre -60 °C y 200 °C</translation>
    </message>
    <message>
        <source>must be between 1 s and {most:g} s</source>
        <translation>debe estar entre 1 s y {most:g} s</translation>
    </message>
    <message>
        <source>must be given for an approved fluid</source>
        <translation>debe indicarse para un fluido aprobado</translation>
    </message>
    <message>
        <source>must be given, because one end of the band is open</source>
        <translation>debe indicarse, porque un extremo de la banda está abierto</translation>
    </message>
    <message>
        <source>must be less than the capacity</source>
        <translation>debe ser menor que la capacidad</translation>
    </message>
    <message>
        <source>must be less than the torque</source>
        <translation>debe ser menor que el par</translation>
    </message>
    <message>
        <source>must not be 0</source>
        <translation>no debe ser 0</translation>
    </message>
    <message>
        <source>must not lie below the band, which reaches {floor:g} °C</source>
        <translation>no debe quedar por debajo de la banda, que llega a {floor:g} °C</translation>
    </message>
    <message>
        <source>name, as it goes on the record</source>
        <translation>nombre, tal como irá en el registro</translation>
    </message>
    <message>
        <source>named more than once: {those}</source>
        <translation>se nombra más de una vez: {those}</translation>
    </message>
    <message>
        <source>names: belong to the range signal, which needs them</source>
        <translation>names: pertenecen a la señal de posición, que los necesita</translation>
    </message>
    <message>
        <source>new plug seal, torque wrench that shows {torque}</source>
        <translation>junta nueva del tapón, llave dinamométrica que marque {torque}</translation>
    </message>
    <message>
        <source>next reading due in {time}</source>
        <translation>próxima lectura en {time}</translation>
    </message>
    <message>
        <source>no action</source>
        <translation>ninguna acción</translation>
    </message>
    <message>
        <source>no connection chosen</source>
        <translation>sin conexión elegida</translation>
    </message>
    <message>
        <source>no fill path was chosen</source>
        <translation>no se eligió vía de llenado</translation>
    </message>
    <message>
        <source>no fluid chosen</source>
        <translation>sin fluido elegido</translation>
    </message>
    <message>
        <source>no fluid is that hot or cold</source>
        <translation>ningún fluido está tan caliente ni tan frío</translation>
    </message>
    <message>
        <source>no folder: no backups</source>
        <translation>sin carpeta no hay copias</translation>
    </message>
    <message>
        <source>no good reading</source>
        <translation>sin lectura válida</translation>
    </message>
    <message>
        <source>no reading for {time}</source>
        <translation>sin lectura desde hace {time}</translation>
    </message>
    <message>
        <source>no reading yet</source>
        <translation>aún sin lectura</translation>
    </message>
    <message>
        <source>no reading yet: type one</source>
        <translation>aún sin lectura: escriba una</translation>
    </message>
    <message>
        <source>no records</source>
        <translation>ningún registro</translation>
    </message>
    <message>
        <source>no signal</source>
        <translation>ninguna señal</translation>
    </message>
    <message>
        <source>no signs</source>
        <translation>sin indicios</translation>
    </message>
    <message>
        <source>no surface could explain what the infrared gun read beside the temperature sensor</source>
        <translation>ninguna superficie podía explicar lo que marcó el termómetro infrarrojo junto al sensor de temperatura</translation>
    </message>
    <message>
        <source>no usable {signal} from the vehicle for {time}</source>
        <translation>sin valores utilizables del vehículo ({signal}) desde hace {time}</translation>
    </message>
    <message>
        <source>nobody under the vehicle</source>
        <translation>nadie bajo el vehículo</translation>
    </message>
    <message>
        <source>none</source>
        <translation>ninguna</translation>
    </message>
    <message>
        <source>none; else KEY=VALUE, KEY=VALUE</source>
        <translation>ninguna; si no, CLAVE=VALOR, CLAVE=VALOR</translation>
    </message>
    <message>
        <source>normal</source>
        <translation>normal</translation>
    </message>
    <message>
        <source>not available</source>
        <translation>no disponible</translation>
    </message>
    <message>
        <source>not confirmed was: {item}</source>
        <translation>quedó sin confirmar: {item}</translation>
    </message>
    <message>
        <source>not done</source>
        <translation>sin hacer</translation>
    </message>
    <message>
        <source>not known</source>
        <translation>no se sabe</translation>
    </message>
    <message>
        <source>not watched before {until:%H:%M}, for how long is not known</source>
        <translation>sin vigilancia antes de {until:%H:%M}, no se sabe cuánto tiempo</translation>
    </message>
    <message>
        <source>not watched {first} {since:%H:%M} – {last} {until:%H:%M}</source>
        <translation>sin vigilancia {first} {since:%H:%M} – {last} {until:%H:%M}</translation>
    </message>
    <message>
        <source>not watched {since:%H:%M}–{until:%H:%M}</source>
        <translation>sin vigilancia {since:%H:%M}–{until:%H:%M}</translation>
    </message>
    <message>
        <source>not yet</source>
        <translation>todavía no</translation>
    </message>
    <message>
        <source>nothing</source>
        <translation>nada</translation>
    </message>
    <message>
        <source>nothing found</source>
        <translation>no se encontró nada</translation>
    </message>
    <message>
        <source>nothing ran off</source>
        <translation>no rebosó nada</translation>
    </message>
    <message>
        <source>occupant out of the vehicle</source>
        <translation>ocupante fuera del vehículo</translation>
    </message>
    <message>
        <source>on the ground</source>
        <translation>en el suelo</translation>
    </message>
    <message>
        <source>or a part</source>
        <translation>nombre o parte</translation>
    </message>
    <message>
        <source>other</source>
        <translation>otra</translation>
    </message>
    <message>
        <source>out of range</source>
        <translation>fuera de rango</translation>
    </message>
    <message>
        <source>over, not acknowledged</source>
        <translation>terminada, sin confirmar</translation>
    </message>
    <message>
        <source>park was left, the vehicle moved or the lift was unlocked with the plug out</source>
        <translation>se dejó el estacionamiento, el vehículo se movió o se desbloqueó el elevador sin el tapón</translation>
    </message>
    <message>
        <source>parking brake set</source>
        <translation>freno de estacionamiento puesto</translation>
    </message>
    <message>
        <source>pink</source>
        <translation>rosado</translation>
    </message>
    <message>
        <source>plate</source>
        <translation>matrícula</translation>
    </message>
    <message>
        <source>plug hole: {flow}; fluid {colour}, {clarity}, smells {odour}</source>
        <translation>orificio del tapón: {flow}; fluido {colour}, {clarity}, olor {odour}</translation>
    </message>
    <message>
        <source>pump primed</source>
        <translation>bomba cebada</translation>
    </message>
    <message>
        <source>putting it in place</source>
        <translation>poniéndola en su sitio</translation>
    </message>
    <message>
        <source>question mark in a ring</source>
        <translation>signo de interrogación en un anillo</translation>
    </message>
    <message>
        <source>reading fresh</source>
        <translation>lectura reciente</translation>
    </message>
    <message>
        <source>reading unusable: {why}</source>
        <translation>lectura no válida: {why}</translation>
    </message>
    <message>
        <source>record {numbers}</source>
        <translation>registro {numbers}</translation>
    </message>
    <message>
        <source>recording</source>
        <translation>grabando</translation>
    </message>
    <message>
        <source>records {numbers}</source>
        <translation>registros {numbers}</translation>
    </message>
    <message>
        <source>refer</source>
        <translation>derivar</translation>
    </message>
    <message>
        <source>replay</source>
        <translation>reproducción</translation>
    </message>
    <message>
        <source>replay of a recording, not a service on a vehicle</source>
        <translation>reproducción de una grabación, no un servicio en un vehículo</translation>
    </message>
    <message>
        <source>road speed</source>
        <translation>velocidad del vehículo</translation>
    </message>
    <message>
        <source>rotational speed</source>
        <translation>régimen de giro</translation>
    </message>
    <message>
        <source>run off</source>
        <translation>rebosado</translation>
    </message>
    <message>
        <source>runs</source>
        <translation>sale</translation>
    </message>
    <message>
        <source>seconds</source>
        <translation>segundos</translation>
    </message>
    <message>
        <source>selected range</source>
        <translation>posición del selector</translation>
    </message>
    <message>
        <source>selector range {range} was not held for its time</source>
        <translation>la posición {range} del selector no se mantuvo su tiempo</translation>
    </message>
    <message>
        <source>serial adapters that speak python-can&apos;s own protocol</source>
        <translation>adaptadores serie que hablan el protocolo propio de python-can</translation>
    </message>
    <message>
        <source>serial adapters that speak the ASCII protocol (slcan)</source>
        <translation>adaptadores serie que hablan el protocolo ASCII (slcan)</translation>
    </message>
    <message>
        <source>serial port</source>
        <translation>puerto serie</translation>
    </message>
    <message>
        <source>sheet</source>
        <translation>hoja</translation>
    </message>
    <message>
        <source>shop air {ambient}, gun {gun}, did not stand overnight</source>
        <translation>aire del taller {ambient}, pistola {gun}, no pasó la noche parado</translation>
    </message>
    <message>
        <source>shop air {ambient}, gun {gun}, stood overnight</source>
        <translation>aire del taller {ambient}, pistola {gun}, pasó la noche parado</translation>
    </message>
    <message>
        <source>signs of water or coolant in the fluid</source>
        <translation>indicios de agua o refrigerante en el fluido</translation>
    </message>
    <message>
        <source>small dot</source>
        <translation>punto pequeño</translation>
    </message>
    <message>
        <source>something else</source>
        <translation>otra cosa</translation>
    </message>
    <message>
        <source>something was not confirmed</source>
        <translation>algo quedó sin confirmar</translation>
    </message>
    <message>
        <source>spare plug seal, torque wrench that shows {torque}</source>
        <translation>junta de repuesto del tapón, llave dinamométrica que marque {torque}</translation>
    </message>
    <message>
        <source>spec sheet</source>
        <translation>hoja de especificaciones</translation>
    </message>
    <message>
        <source>speed</source>
        <translation>velocidad</translation>
    </message>
    <message>
        <source>stale</source>
        <translation>rancio</translation>
    </message>
    <message>
        <source>stands</source>
        <translation>sigue</translation>
    </message>
    <message>
        <source>still to come</source>
        <translation>pendiente</translation>
    </message>
    <message>
        <source>stopped here</source>
        <translation>se detuvo aquí</translation>
    </message>
    <message>
        <source>surplus fluid ran off</source>
        <translation>rebosó el fluido sobrante</translation>
    </message>
    <message>
        <source>sustained load</source>
        <translation>carga sostenida</translation>
    </message>
    <message>
        <source>sweet</source>
        <translation>dulce</translation>
    </message>
    <message>
        <source>temperature</source>
        <translation>temperatura</translation>
    </message>
    <message>
        <source>temperature difference</source>
        <translation>diferencia de temperatura</translation>
    </message>
    <message>
        <source>the approved fluid</source>
        <translation>el fluido aprobado</translation>
    </message>
    <message>
        <source>the band for {duty} duty is missing</source>
        <translation>falta la banda para el servicio {duty}</translation>
    </message>
    <message>
        <source>the band is inverted: {high:g} °C is not above low, {low:g} °C</source>
        <translation>la banda está invertida: {high:g} °C no es mayor que low, {low:g} °C</translation>
    </message>
    <message>
        <source>the check plug</source>
        <translation>el tapón de nivel</translation>
    </message>
    <message>
        <source>the check plug&apos;s thread is stripped or it does not seal</source>
        <translation>la rosca del tapón de nivel está dañada o no cierra</translation>
    </message>
    <message>
        <source>the engine had not idled for its time</source>
        <translation>el motor no había estado al ralentí su tiempo</translation>
    </message>
    <message>
        <source>the engine stopped with the plug out</source>
        <translation>el motor se paró sin el tapón</translation>
    </message>
    <message>
        <source>the engine stops by itself half a minute after the plug came out</source>
        <translation>el motor se para solo medio minuto después de quitar el tapón</translation>
    </message>
    <message>
        <source>the fill path&apos;s adapter</source>
        <translation>el adaptador de la vía de llenado</translation>
    </message>
    <message>
        <source>the fluid had not circulated for its time</source>
        <translation>el fluido no había circulado su tiempo</translation>
    </message>
    <message>
        <source>the fluid in hand is not approved; the vehicle itself is sound</source>
        <translation>el fluido previsto no está aprobado; el vehículo está bien</translation>
    </message>
    <message>
        <source>the fluid is black</source>
        <translation>el fluido es negro</translation>
    </message>
    <message>
        <source>the fluid is brown</source>
        <translation>el fluido es marrón</translation>
    </message>
    <message>
        <source>the fluid is darker than new</source>
        <translation>el fluido es más oscuro que el nuevo</translation>
    </message>
    <message>
        <source>the fluid is foamy</source>
        <translation>el fluido está espumoso</translation>
    </message>
    <message>
        <source>the fluid is hazy</source>
        <translation>el fluido está turbio</translation>
    </message>
    <message>
        <source>the fluid level is off by more than the spec sheet allows</source>
        <translation>el nivel de fluido se desvía más de lo que permite la hoja de especificaciones</translation>
    </message>
    <message>
        <source>the fluid smells burnt</source>
        <translation>el fluido huele a quemado</translation>
    </message>
    <message>
        <source>the fluid smells stale</source>
        <translation>el fluido huele a rancio</translation>
    </message>
    <message>
        <source>the fluid stood at the standpipe&apos;s rim</source>
        <translation>el fluido estaba en el borde del tubo de rebose</translation>
    </message>
    <message>
        <source>the fluid was above its target band</source>
        <translation>el fluido estaba por encima de su banda objetivo</translation>
    </message>
    <message>
        <source>the fluid was below its target band</source>
        <translation>el fluido estaba por debajo de su banda objetivo</translation>
    </message>
    <message>
        <source>the fluid was not steadily inside its target band</source>
        <translation>el fluido no estaba de forma estable en su banda objetivo</translation>
    </message>
    <message>
        <source>the fluid&apos;s condition</source>
        <translation>el estado del fluido</translation>
    </message>
    <message>
        <source>the fluid&apos;s sensor says {off} too much</source>
        <translation>el sensor del fluido indica {off} de más</translation>
    </message>
    <message>
        <source>the fluid&apos;s sensor stands still after a minute and a half of idling</source>
        <translation>el sensor del fluido se queda quieto tras minuto y medio al ralentí</translation>
    </message>
    <message>
        <source>the front</source>
        <translation>la parte delantera</translation>
    </message>
    <message>
        <source>the idle speed was not known</source>
        <translation>no se conocía el régimen de ralentí</translation>
    </message>
    <message>
        <source>the idle speed was outside its window</source>
        <translation>el régimen de ralentí estaba fuera de su margen</translation>
    </message>
    <message>
        <source>the left</source>
        <translation>el lado izquierdo</translation>
    </message>
    <message>
        <source>the newest {count}</source>
        <translation>las {count} más nuevas</translation>
    </message>
    <message>
        <source>the plug was found out</source>
        <translation>se encontró el tapón fuera</translation>
    </message>
    <message>
        <source>the pump was running and the amount added is not known</source>
        <translation>la bomba estaba en marcha y no se sabe cuánto se añadió</translation>
    </message>
    <message>
        <source>the rear</source>
        <translation>la parte trasera</translation>
    </message>
    <message>
        <source>the right</source>
        <translation>el lado derecho</translation>
    </message>
    <message>
        <source>the sender has no value</source>
        <translation>el emisor no tiene valor</translation>
    </message>
    <message>
        <source>the sender reports a faulty sensor</source>
        <translation>el emisor avisa de un sensor averiado</translation>
    </message>
    <message>
        <source>the spec sheet&apos;s limit of added fluid was reached</source>
        <translation>se alcanzó el límite de fluido añadido de la hoja de especificaciones</translation>
    </message>
    <message>
        <source>the temperature at closing is not known</source>
        <translation>no se conoce la temperatura al cerrar</translation>
    </message>
    <message>
        <source>the temperature left the target band with the plug out</source>
        <translation>la temperatura salió de la banda objetivo sin el tapón</translation>
    </message>
    <message>
        <source>the temperature sensor was not compared with anything</source>
        <translation>el sensor de temperatura no se comparó con nada</translation>
    </message>
    <message>
        <source>the temperature sensor was off what it was compared with</source>
        <translation>el sensor de temperatura se alejaba de aquello con lo que se comparó</translation>
    </message>
    <message>
        <source>the unit is missing; a {dimension} is given in {known}</source>
        <translation>falta la unidad; la magnitud ({dimension}) se da en {known}</translation>
    </message>
    <message>
        <source>the unit is missing; write the {dimension} as text with its unit, for example &quot;1 {symbol}&quot;</source>
        <translation>falta la unidad; escriba la magnitud ({dimension}) como texto con su unidad, por ejemplo &quot;1 {symbol}&quot;</translation>
    </message>
    <message>
        <source>the vehicle</source>
        <translation>el vehículo</translation>
    </message>
    <message>
        <source>the vehicle was tilted more than the spec sheet allows</source>
        <translation>el vehículo estaba más inclinado de lo que permite la hoja de especificaciones</translation>
    </message>
    <message>
        <source>the vehicle&apos;s tilt alone cost more than the fluid level may be off</source>
        <translation>la sola inclinación del vehículo costaba más de lo que puede desviarse el nivel de fluido</translation>
    </message>
    <message>
        <source>the vehicle&apos;s tilt was not measured</source>
        <translation>no se midió la inclinación del vehículo</translation>
    </message>
    <message>
        <source>there is none</source>
        <translation>no hay ninguno</translation>
    </message>
    <message>
        <source>this one says {found!r}</source>
        <translation>esta dice {found!r}</translation>
    </message>
    <message>
        <source>this program reads version {version} of the layout</source>
        <translation>este programa lee la versión {version} del formato</translation>
    </message>
    <message>
        <source>tilt {along:.1f}° lengthwise, {across:.1f}° crosswise, the same turned</source>
        <translation>inclinación {along:.1f}° a lo largo, {across:.1f}° a lo ancho, igual al girar</translation>
    </message>
    <message>
        <source>time</source>
        <translation>tiempo</translation>
    </message>
    <message>
        <source>to come</source>
        <translation>por hacer</translation>
    </message>
    <message>
        <source>to {high}</source>
        <translation>hasta {high}</translation>
    </message>
    <message>
        <source>today {time:%H:%M}</source>
        <translation>hoy {time:%H:%M}</translation>
    </message>
    <message>
        <source>too early to tell</source>
        <translation>faltan lecturas</translation>
    </message>
    <message>
        <source>too little fluid inside: one or two top-ups bring it right</source>
        <translation>poco fluido dentro: una o dos adiciones lo corrigen</translation>
    </message>
    <message>
        <source>too old: read again</source>
        <translation>demasiado antigua: lea de nuevo</translation>
    </message>
    <message>
        <source>torque</source>
        <translation>par de apriete</translation>
    </message>
    <message>
        <source>training</source>
        <translation>formación</translation>
    </message>
    <message>
        <source>training, not a service on a vehicle</source>
        <translation>formación, no es un servicio</translation>
    </message>
    <message>
        <source>transmission oil temperature</source>
        <translation>temperatura del aceite de la transmisión</translation>
    </message>
    <message>
        <source>triangle pointing down</source>
        <translation>triángulo hacia abajo</translation>
    </message>
    <message>
        <source>triangle pointing up</source>
        <translation>triángulo hacia arriba</translation>
    </message>
    <message>
        <source>typed or scanned</source>
        <translation>escrito o leído</translation>
    </message>
    <message>
        <source>unknown key</source>
        <translation>clave desconocida</translation>
    </message>
    <message>
        <source>unknown variants: {those}</source>
        <translation>variantes desconocidas: {those}</translation>
    </message>
    <message>
        <source>volume</source>
        <translation>volumen</translation>
    </message>
    <message>
        <source>what ran off was not measured</source>
        <translation>no se midió lo que rebosó</translation>
    </message>
    <message>
        <source>wheels chocked</source>
        <translation>ruedas calzadas</translation>
    </message>
    <message>
        <source>when it was made</source>
        <translation>cuando se hizo</translation>
    </message>
    <message>
        <source>work order</source>
        <translation>orden de trabajo</translation>
    </message>
    <message>
        <source>yesterday {time:%H:%M}</source>
        <translation>ayer {time:%H:%M}</translation>
    </message>
    <message>
        <source>{added} added; the spec sheet allows {allowed}.</source>
        <translation>Se añadieron {added}; la hoja de especificaciones permite {allowed}.</translation>
    </message>
    <message>
        <source>{alarm}, over: unacknowledged</source>
        <translation>{alarm}, terminada: sin confirmar</translation>
    </message>
    <message>
        <source>{alarm}: acknowledged</source>
        <translation>{alarm}: confirmada</translation>
    </message>
    <message>
        <source>{alarm}: unacknowledged</source>
        <translation>{alarm}: sin confirmar</translation>
    </message>
    <message>
        <source>{amount} added</source>
        <translation>{amount} añadidos</translation>
    </message>
    <message>
        <source>{amount} of {product}, pump primed, {path}</source>
        <translation>{amount} de {product}, bomba cebada, {path}</translation>
    </message>
    <message>
        <source>{amount} out</source>
        <translation>{amount} salidos</translation>
    </message>
    <message>
        <source>{amount} run off</source>
        <translation>{amount} rebosados</translation>
    </message>
    <message>
        <source>{amount} too high</source>
        <translation>{amount} demasiado alto</translation>
    </message>
    <message>
        <source>{amount} too low</source>
        <translation>{amount} demasiado bajo</translation>
    </message>
    <message>
        <source>{amount} ± {spread} too little fluid</source>
        <translation>{amount} ± {spread} de fluido de menos</translation>
    </message>
    <message>
        <source>{amount} ± {spread} too much fluid</source>
        <translation>{amount} ± {spread} de fluido de más</translation>
    </message>
    <message>
        <source>{before} to {after} in {time}: keep it?</source>
        <translation>De {before} a {after} en {time}: ¿conservarla?</translation>
    </message>
    <message>
        <source>{channel}: {kind}.</source>
        <translation>{channel}: {kind}.</translation>
    </message>
    <message>
        <source>{clock}  {event}</source>
        <translation>{clock}  {event}</translation>
    </message>
    <message>
        <source>{clock} min:s</source>
        <translation>{clock} min:s</translation>
    </message>
    <message>
        <source>{copy} is damaged; take another copy.</source>
        <translation>{copy} está dañada; use otra copia.</translation>
    </message>
    <message>
        <source>{count:,} record, the newest of {day:%Y-%m-%d}</source>
        <translation>{count:,} registro, el más nuevo del {day:%Y-%m-%d}</translation>
    </message>
    <message>
        <source>{count:,} records, the newest of {day:%Y-%m-%d}</source>
        <translation>{count:,} registros, el más nuevo del {day:%Y-%m-%d}</translation>
    </message>
    <message>
        <source>{count} attachment is missing or damaged.</source>
        <translation>{count} archivo adjunto falta o está dañado.</translation>
    </message>
    <message>
        <source>{count} attachments are missing or damaged.</source>
        <translation>{count} archivos adjuntos faltan o están dañados.</translation>
    </message>
    <message>
        <source>{count} check</source>
        <translation>{count} comprobación</translation>
    </message>
    <message>
        <source>{count} checks</source>
        <translation>{count} comprobaciones</translation>
    </message>
    <message>
        <source>{count} checks were interrupted</source>
        <translation>Se interrumpieron {count} comprobaciones</translation>
    </message>
    <message>
        <source>{count} checks were interrupted and not finished.</source>
        <translation>Se interrumpieron {count} comprobaciones y no se terminaron.</translation>
    </message>
    <message>
        <source>{count} day ago</source>
        <translation>hace {count} día</translation>
    </message>
    <message>
        <source>{count} days ago</source>
        <translation>hace {count} días</translation>
    </message>
    <message>
        <source>{count} more</source>
        <translation>{count} más</translation>
    </message>
    <message>
        <source>{count} reading came too fast and was left out; the newest are shown, nothing needs to be done unless this comes back.</source>
        <translation>{count} lectura llegó demasiado rápido y se omitió; se muestran las más recientes, no hay que hacer nada salvo que vuelva a ocurrir.</translation>
    </message>
    <message>
        <source>{count} readings came too fast and were left out; the newest are shown, nothing needs to be done unless this comes back.</source>
        <translation>{count} lecturas llegaron demasiado rápido y se omitieron; se muestran las más recientes, no hay que hacer nada salvo que vuelva a ocurrir.</translation>
    </message>
    <message>
        <source>{count} records or amendments are missing from the chain of bay {bay}, before {link}, if that belongs there: it was changed after it was sealed.</source>
        <translation>Faltan {count} registros o enmiendas en la cadena del puesto {bay}, antes de {link}, si es que ese va ahí: se modificó después de sellarse.</translation>
    </message>
    <message>
        <source>{count} records or amendments are missing from the chain of bay {bay}, before {link}.</source>
        <translation>Faltan {count} registros o enmiendas en la cadena del puesto {bay}, antes de {link}.</translation>
    </message>
    <message>
        <source>{count} records or amendments are missing from the chain of bay {bay}, taken from its end behind no. {found} before the next was sealed.</source>
        <translation>Faltan {count} registros o enmiendas en la cadena del puesto {bay}, quitados de su final tras el n.º {found} antes de sellar el siguiente.</translation>
    </message>
    <message>
        <source>{count} records or amendments are missing from the end of the chain of bay {bay}, behind {link}.</source>
        <translation>Faltan {count} registros o enmiendas al final de la cadena del puesto {bay}, tras {link}.</translation>
    </message>
    <message>
        <source>{count} records or amendments are missing from the end of the chain of bay {bay}.</source>
        <translation>Faltan {count} registros o enmiendas al final de la cadena del puesto {bay}.</translation>
    </message>
    <message>
        <source>{data_variable} is set to {named}, and there is no home folder of that name.</source>
        <translation>{data_variable} tiene el valor {named}, y no hay carpeta personal con ese nombre.</translation>
    </message>
    <message>
        <source>{day:02d} {month}</source>
        <translation>{day:02d} {month}</translation>
    </message>
    <message>
        <source>{displaced} was taken from its place at the end of bay {bay}&apos;s chain.</source>
        <translation>{displaced} fue quitado de su lugar al final de la cadena del puesto {bay}.</translation>
    </message>
    <message>
        <source>{displaced} was taken from its place in the chain of bay {bay}, before {link}.</source>
        <translation>{displaced} fue quitado de su lugar en la cadena del puesto {bay}, antes de {link}.</translation>
    </message>
    <message>
        <source>{doing}, {share:.0%}</source>
        <translation>{doing}, {share:.0%}</translation>
    </message>
    <message>
        <source>{doing}…</source>
        <translation>{doing}…</translation>
    </message>
    <message>
        <source>{failed}: {said}</source>
        <translation>{failed}: {said}</translation>
    </message>
    <message>
        <source>{family}, vehicle not identified yet</source>
        <translation>{family}, vehículo aún sin identificar</translation>
    </message>
    <message>
        <source>{family}, {duty} duty</source>
        <translation>{family}, servicio {duty}</translation>
    </message>
    <message>
        <source>{field}: that number cannot be right; check it and its unit.</source>
        <translation>{field}: ese número no puede ser correcto; compruebe el número y su unidad.</translation>
    </message>
    <message>
        <source>{first} or {second}</source>
        <translation>{first} o {second}</translation>
    </message>
    <message>
        <source>{first} to {last}</source>
        <translation>{first} a {last}</translation>
    </message>
    <message>
        <source>{folder} is the folder with the records themselves: choose one on another disk or a share.</source>
        <translation>{folder} es la carpeta de los propios registros: elija una en otro disco o en un recurso compartido.</translation>
    </message>
    <message>
        <source>{found} cannot be counted; from {limit} on it is a stream.</source>
        <translation>{found} no se puede contar; desde {limit} es un chorro.</translation>
    </message>
    <message>
        <source>{found} from the centre; a pan of that area reaches {limit} at most.</source>
        <translation>{found} desde el centro; un cárter de esa área llega como máximo a {limit}.</translation>
    </message>
    <message>
        <source>{found} is no more than the {limit} by which the fluid level may be off.</source>
        <translation>{found} no es más que los {limit} que puede desviarse el nivel de fluido.</translation>
    </message>
    <message>
        <source>{found} is too short: the most that may run off sinks to the drip rate in {limit} at best.</source>
        <translation>{found} es poco: lo máximo que puede rebosar baja al ritmo de goteo en {limit} en el mejor caso.</translation>
    </message>
    <message>
        <source>{gap} above the band. Engine off, or a fan, until it has cooled.</source>
        <translation>{gap} por encima de la banda. Motor apagado, o un ventilador, hasta que se enfríe.</translation>
    </message>
    <message>
        <source>{gap} below the band. Let the engine idle in park.</source>
        <translation>{gap} por debajo de la banda. Deje el motor al ralentí en estacionamiento.</translation>
    </message>
    <message>
        <source>{gap}: what was confirmed before counts no more.</source>
        <translation>{gap}: lo confirmado antes ya no cuenta.</translation>
    </message>
    <message>
        <source>{hours:g} hours</source>
        <translation>{hours:g} horas</translation>
    </message>
    <message>
        <source>{hours} h {minutes:02d} min ago</source>
        <translation>hace {hours} h {minutes:02d} min</translation>
    </message>
    <message>
        <source>{key} takes back: {tap}</source>
        <translation>{key} deshace: {tap}</translation>
    </message>
    <message>
        <source>{key} takes back: {tap}, {left}</source>
        <translation>{key} deshace: {tap}, {left}</translation>
    </message>
    <message>
        <source>{key}: {what}</source>
        <translation>{key}: {what}</translation>
    </message>
    <message>
        <source>{kind}.</source>
        <translation>{kind}.</translation>
    </message>
    <message>
        <source>{last}, or one before it, was changed or exchanged and sealed anew: {link} was sealed behind another.</source>
        <translation>{last}, o uno anterior, fue modificado o cambiado y sellado de nuevo: {link} se selló tras otro.</translation>
    </message>
    <message>
        <source>{least} or more</source>
        <translation>{least} o más</translation>
    </message>
    <message>
        <source>{link} is not what the anchor names: it, or one before it, was changed or exchanged and sealed anew.</source>
        <translation>{link} no es lo que nombra el ancla: ese, o uno anterior, fue modificado o cambiado y sellado de nuevo.</translation>
    </message>
    <message>
        <source>{link} is not what was noted as sealed at its place of the chain.</source>
        <translation>{link} no es lo que se anotó como sellado en su lugar de la cadena.</translation>
    </message>
    <message>
        <source>{link} is not what was sealed at this place of the chain.</source>
        <translation>{link} no es lo que se selló en este lugar de la cadena.</translation>
    </message>
    <message>
        <source>{link} stands at a place of its chain that no chain has.</source>
        <translation>{link} está en un lugar que no tiene ninguna cadena.</translation>
    </message>
    <message>
        <source>{link} stands at a place of its chain that {other} has.</source>
        <translation>{link} está en un lugar de su cadena que ocupa {other}.</translation>
    </message>
    <message>
        <source>{link} stands at no place of a chain.</source>
        <translation>{link} no está en ningún lugar de una cadena.</translation>
    </message>
    <message>
        <source>{link} was appended to the chain by something other than Brimline, or sealed while {file} could not be written.</source>
        <translation>{link} fue añadido a la cadena por algo distinto de Brimline, o sellado mientras no se podía escribir {file}.</translation>
    </message>
    <message>
        <source>{link} was changed after it was sealed.</source>
        <translation>{link} fue modificado después de sellarse.</translation>
    </message>
    <message>
        <source>{link} was not the first of its chain when it was sealed.</source>
        <translation>{link} no era el primero de su cadena cuando se selló.</translation>
    </message>
    <message>
        <source>{minutes} min ago</source>
        <translation>hace {minutes} min</translation>
    </message>
    <message>
        <source>{named} cannot be read: {why}.</source>
        <translation>{named} no se puede leer: {why}.</translation>
    </message>
    <message>
        <source>{named} is damaged or no database; take another copy.</source>
        <translation>{named} está dañada o no es una base de datos; use otra copia.</translation>
    </message>
    <message>
        <source>{named} is damaged; take another copy.</source>
        <translation>{named} está dañada; use otra copia.</translation>
    </message>
    <message>
        <source>{name} (invented)</source>
        <translation>{name} (inventado)</translation>
    </message>
    <message>
        <source>{name} is missing.</source>
        <translation>Falta: {name}.</translation>
    </message>
    <message>
        <source>{name} is not chosen yet.</source>
        <translation>Aún no se ha elegido: {name}.</translation>
    </message>
    <message>
        <source>{name}, in {unit}</source>
        <translation>{name}, en {unit}</translation>
    </message>
    <message>
        <source>{name}: a hexadecimal number up to {highest:X}, {example}.</source>
        <translation>{name}: un número hexadecimal hasta {highest:X}, {example}.</translation>
    </message>
    <message>
        <source>{name}: a number above 0 and at most 1, without unit.</source>
        <translation>{name}: un número mayor que 0 y de 1 como máximo, sin unidad.</translation>
    </message>
    <message>
        <source>{name}: a time is not below 0&#xa0;h.</source>
        <translation>{name}: un tiempo no baja de 0&#xa0;h.</translation>
    </message>
    <message>
        <source>{name}: {fault}.</source>
        <translation>{name}: {fault}.</translation>
    </message>
    <message>
        <source>{name}: “{typed}” may mean two things; write it without a comma.</source>
        <translation>{name}: “{typed}” puede significar dos cosas; escríbalo sin coma.</translation>
    </message>
    <message>
        <source>{number} {stage}: {standing}</source>
        <translation>{number} {stage}: {standing}</translation>
    </message>
    <message>
        <source>{path} is a database of another program</source>
        <translation>{path} es una base de datos de otro programa</translation>
    </message>
    <message>
        <source>{path} is a folder; name a file for the work summary.</source>
        <translation>{path} es una carpeta; indique un archivo para el resumen de trabajo.</translation>
    </message>
    <message>
        <source>{path} is damaged</source>
        <translation>{path} está dañado</translation>
    </message>
    <message>
        <source>{path} is no Brimline database; take another copy.</source>
        <translation>{path} no es una base de datos de Brimline; use otra copia.</translation>
    </message>
    <message>
        <source>{path} is not a Brimline database</source>
        <translation>{path} no es una base de datos de Brimline</translation>
    </message>
    <message>
        <source>{path} is not there any more; write it again.</source>
        <translation>{path} ya no está; escríbalo de nuevo.</translation>
    </message>
    <message>
        <source>{path} was written by a newer Brimline; update this one first.</source>
        <translation>{path} la escribió un Brimline más nuevo; actualice este primero.</translation>
    </message>
    <message>
        <source>{path}; {amount} in reach.</source>
        <translation>{path}; {amount} al alcance.</translation>
    </message>
    <message>
        <source>{port}; may be an adapter</source>
        <translation>{port}; puede ser un adaptador</translation>
    </message>
    <message>
        <source>{product}: approved.</source>
        <translation>{product}: aprobado.</translation>
    </message>
    <message>
        <source>{range} for {time}</source>
        <translation>{range} {time}</translation>
    </message>
    <message>
        <source>{range} held</source>
        <translation>{range} cumplida</translation>
    </message>
    <message>
        <source>{rate:g} drops/s is still too fast: wait, then judge again.</source>
        <translation>{rate:g} gotas/s aún es demasiado rápido: espere y juzgue de nuevo.</translation>
    </message>
    <message>
        <source>{rate} drops/s</source>
        <translation>{rate} gotas/s</translation>
    </message>
    <message>
        <source>{reason} Cannot be overridden.</source>
        <translation>{reason} No se puede omitir.</translation>
    </message>
    <message>
        <source>{seconds} s ago</source>
        <translation>hace {seconds} s</translation>
    </message>
    <message>
        <source>{sentence} What is not saved is kept in {path}; “brimline open” names it, and it is taken in when the check goes on.</source>
        <translation>{sentence} Lo que no está guardado queda en {path}; “brimline open” lo nombra, y se incorpora cuando la comprobación continúa.</translation>
    </message>
    <message>
        <source>{sheet} (training only)</source>
        <translation>{sheet} (solo formación)</translation>
    </message>
    <message>
        <source>{sheet}, rev. {revision}</source>
        <translation>{sheet}, rev. {revision}</translation>
    </message>
    <message>
        <source>{source} cannot be read: {why}.</source>
        <translation>{source} no se puede leer: {why}.</translation>
    </message>
    <message>
        <source>{source} is no file that can be kept.</source>
        <translation>{source} no es un archivo que se pueda guardar.</translation>
    </message>
    <message>
        <source>{temperature} max</source>
        <translation>{temperature} máx</translation>
    </message>
    <message>
        <source>{temperature}, good reading</source>
        <translation>{temperature}, lectura válida</translation>
    </message>
    <message>
        <source>{those} and {last}</source>
        <translation>{those} y {last}</translation>
    </message>
    <message>
        <source>{time} of the check, {size}</source>
        <translation>{time} de la comprobación, {size}</translation>
    </message>
    <message>
        <source>{what} must be said with an amendment.</source>
        <translation>{what} debe indicarse con una enmienda.</translation>
    </message>
    <message>
        <source>{what} must not go in. Take an approved fluid and match it.</source>
        <translation>{what} no debe entrar. Use un fluido aprobado y cotéjelo.</translation>
    </message>
    <message>
        <source>{what} was not held for its time. Lower the vehicle, then press.</source>
        <translation>{what} no se mantuvo su tiempo. Baje el vehículo y pulse.</translation>
    </message>
    <message>
        <source>{what}, which no surface can explain. Aim again, clear of hot parts; if it stays, doubt the sensor.</source>
        <translation>{what}, lo que ninguna superficie explica. Apunte de nuevo, lejos de piezas calientes; si persiste, dude del sensor.</translation>
    </message>
    <message>
        <source>{what}: {doing}…</source>
        <translation>{what}: {doing}…</translation>
    </message>
    <message>
        <source>{what}: “brimline restore” puts a backup in its place and keeps what is there.</source>
        <translation>{what}: “brimline restore” pone una copia de seguridad en su lugar y conserva lo que hay.</translation>
    </message>
    <message>
        <source>{what}?</source>
        <translation>¿{what}?</translation>
    </message>
    <message>
        <source>{word} is not approved for this transmission. Do not open it.</source>
        <translation>{word} no está aprobado para esta transmisión. No lo abra.</translation>
    </message>
    <message>
        <source>{word}: its viscosity index is {found}, and fluids end at {limit}.</source>
        <translation>{word}: su índice de viscosidad es {found}, y los fluidos terminan en {limit}.</translation>
    </message>
    <message>
        <source>{word}: no lubricating oil has {found}; the tables end at {limit}.</source>
        <translation>{word}: ningún aceite lubricante tiene {found}; las tablas terminan en {limit}.</translation>
    </message>
    <message>
        <source>{word}: {found} is far from the {limit} that goes with its density.</source>
        <translation>{word}: {found} queda lejos de los {limit} que corresponden a su densidad.</translation>
    </message>
    <message>
        <source>{word}: {found} is thinner than the {limit} at which viscosity indices begin.</source>
        <translation>{word}: {found} es menos viscoso que los {limit} en que empiezan los índices de viscosidad.</translation>
    </message>
    <message>
        <source>“{after}” is no place in a list: take what the page before it ended with.</source>
        <translation>“{after}” no es un lugar de una lista: use aquello en que terminó la página anterior.</translation>
    </message>
    <message>
        <source>“{base}” is no system of units; known are {known}</source>
        <translation>“{base}” no es un sistema de unidades; se conocen {known}</translation>
    </message>
    <message>
        <source>“{day}” is no date; write it as 2031-05-06.</source>
        <translation>“{day}” no es una fecha; escríbala como 2031-05-06.</translation>
    </message>
    <message>
        <source>“{folder}” is not the whole path of a folder</source>
        <translation>“{folder}” no es la ruta completa de una carpeta</translation>
    </message>
    <message>
        <source>“{name}” has more than {most} million pixels: keep a smaller copy.</source>
        <translation>“{name}” tiene más de {most} millones de píxeles: guarde una copia más pequeña.</translation>
    </message>
    <message>
        <source>“{name}” is damaged: the end of the PDF is missing.</source>
        <translation>“{name}” está dañado: falta el final del PDF.</translation>
    </message>
    <message>
        <source>“{name}” is damaged: the picture does not open.</source>
        <translation>“{name}” está dañado: la imagen no se abre.</translation>
    </message>
    <message>
        <source>“{name}” is empty, so that there is nothing to keep.</source>
        <translation>“{name}” está vacío, así que no hay nada que guardar.</translation>
    </message>
    <message>
        <source>“{name}” is larger than {most} MB: keep a smaller copy of it.</source>
        <translation>“{name}” ocupa más de {most} MB: guarde una copia más pequeña.</translation>
    </message>
    <message>
        <source>“{name}” is not taken into the record</source>
        <translation>“{name}” no se incorpora al registro</translation>
    </message>
    <message>
        <source>“{name}” is of a kind that is not kept; {kinds} are.</source>
        <translation>“{name}” es de un tipo que no se guarda; sí se guardan {kinds}.</translation>
    </message>
    <message>
        <source>“{name}” was not kept, because the disk with the records is full: free some space on it.</source>
        <translation>“{name}” no se guardó porque el disco con los registros está lleno: libere espacio en él.</translation>
    </message>
    <message>
        <source>“{name}” was not kept, because the disk with the records refuses: {why}.</source>
        <translation>“{name}” no se guardó porque el disco con los registros lo rechaza: {why}.</translation>
    </message>
    <message>
        <source>“{symbol}” cannot be chosen for {dimension}; known are {known}</source>
        <translation>“{symbol}” no se puede elegir para {dimension}; se conocen {known}</translation>
    </message>
    <message>
        <source>“{symbol}” is none of {known}</source>
        <translation>“{symbol}” no es ninguna de {known}</translation>
    </message>
    <message>
        <source>“{symbol}” is not a unit of {dimension}; known are {known}</source>
        <translation>“{symbol}” no es una unidad de {dimension}; se conocen {known}</translation>
    </message>
    <message>
        <source>“{text}” cannot be a fluid temperature; that lies between {lowest} and {highest}.</source>
        <translation>“{text}” no puede ser una temperatura de fluido; esta queda entre {lowest} y {highest}.</translation>
    </message>
    <message>
        <source>“{text}” cannot be an engine speed; that lies between {low:,.0f} and {high:,.0f} rpm.</source>
        <translation>“{text}” no puede ser un régimen de motor; este queda entre {low:,.0f} y {high:,.0f} rpm.</translation>
    </message>
    <message>
        <source>“{text}” is no option; write KEY=VALUE.</source>
        <translation>“{text}” no es una opción; escriba CLAVE=VALOR.</translation>
    </message>
    <message>
        <source>“{text}” is not a number with a unit</source>
        <translation>“{text}” no es un número con una unidad</translation>
    </message>
    <message>
        <source>“{text}” is not a temperature; type one like 58 °C or 136 °F.</source>
        <translation>“{text}” no es una temperatura; escriba una como 58 °C o 136 °F.</translation>
    </message>
    <message>
        <source>“{text}” is not an engine speed; type one like 650 rpm.</source>
        <translation>“{text}” no es un régimen de motor; escriba uno como 650 rpm.</translation>
    </message>
    <message>
        <source>“{text}” is too large a number</source>
        <translation>“{text}” es un número demasiado grande</translation>
    </message>
    <message>
        <source>“{typed}” is neither a whole VIN ({length} characters) nor the last {tail_length} or more characters of one.</source>
        <translation>“{typed}” no es un VIN completo ({length} caracteres) ni los últimos {tail_length} o más caracteres de uno.</translation>
    </message>
    <message>
        <source>“{typed}” is no {what}: it has no letter or digit.</source>
        <translation>“{typed}” no vale como {what}: no tiene letras ni cifras.</translation>
    </message>
    <message>
        <source>“{value}” is no reading of an odometer.</source>
        <translation>“{value}” no es una lectura de odómetro.</translation>
    </message>
    <message>
        <source>“{wanted}” fits more than one record; give more of the record&apos;s id.</source>
        <translation>“{wanted}” corresponde a más de un registro; indique más del identificador.</translation>
    </message>
</context>
</TS>
