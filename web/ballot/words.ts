/** Every sentence a taster reads, in each language the ballot speaks. `{x}` is filled in. */
const en = {
  loading: 'Fetching your ballot …',
  noLink: 'This page needs your own link. Ask for it, or scan your code again.',
  unknownLink: 'This link is not known here. Ask for a new one.',
  unreachable: 'The tasting cannot be reached. Stay on this page: it tries again by itself.',
  refusedStorage:
    'This browser keeps nothing (private mode?). Your answers are sent at once, but stay on this page until the end.',
  hello: 'Hello {taster}',
  aboutToTaste: 'You are about to taste: {drink}.',
  readFirst: 'Read this first',
  doNotTaste:
    'If any of this concerns you, or you are unsure, do not taste and tell the person who pours. You need not say why.',
  swallow: 'Swallow or spit as you were asked, the same for every cup. Rinse with water between cups.',
  mayTaste: 'I may taste',
  waitOpening: 'The tasting has not begun. This page opens by itself.',
  cupOf: 'Cup {position} of {cups}',
  practice: 'Practice cup',
  practiceSays: 'To get used to the questions; it is not counted.',
  takeCode: 'Take the cup marked',
  checkCode: 'Check the number on the cup, then taste.',
  haveIt: 'I have cup {code}',
  mark: 'Mark the line',
  notMarked: 'not marked yet',
  marked: 'marked',
  cannotSay: 'I cannot say',
  cannotSaid: 'left blank',
  unanswered: '{count} still to mark',
  nextCup: 'Done with this cup',
  confirmLeave: 'There is no way back to a finished cup.',
  rest: 'Rinse and rest',
  restSays: 'Drink some water. The next cup opens in',
  seconds: '{count} s',
  done: 'That was your last cup. Thank you.',
  allSent: 'Every answer has arrived.',
  waitToLeave: 'Keep this page open until every answer has arrived.',
  waiting: 'saved on this phone, {count} waiting to be sent',
  sent: 'all answers saved',
  closed: 'This tasting is closed.',
  late: 'The key was open already: your answers are kept and marked late.',
  refused: '{count} answers could not be taken: {because}',
  language: 'Language',
};

export type Word = keyof typeof en;
type Table = Record<Word, string>;

const de: Table = {
  loading: 'Ihr Bogen wird geholt …',
  noLink: 'Diese Seite braucht Ihren eigenen Link. Fragen Sie danach oder scannen Sie den Code noch einmal.',
  unknownLink: 'Dieser Link ist hier nicht bekannt. Bitten Sie um einen neuen.',
  unreachable:
    'Die Verkostung ist nicht erreichbar. Bleiben Sie auf der Seite: sie versucht es von selbst wieder.',
  refusedStorage:
    'Dieser Browser speichert nichts (privater Modus?). Antworten gehen sofort ab; bleiben Sie bis zum Ende auf der Seite.',
  hello: 'Guten Tag {taster}',
  aboutToTaste: 'Sie verkosten gleich: {drink}.',
  readFirst: 'Bitte zuerst lesen',
  doNotTaste:
    'Wenn etwas davon Sie betrifft oder Sie unsicher sind: nicht verkosten und der Person sagen, die einschenkt. Gründe müssen Sie nicht nennen.',
  swallow: 'Schlucken oder ausspucken wie gebeten, bei jedem Becher gleich. Dazwischen mit Wasser spülen.',
  mayTaste: 'Ich darf verkosten',
  waitOpening: 'Die Verkostung hat noch nicht begonnen. Die Seite öffnet sich von selbst.',
  cupOf: 'Becher {position} von {cups}',
  practice: 'Übungsbecher',
  practiceSays: 'Zum Kennenlernen der Fragen; er zählt nicht.',
  takeCode: 'Nehmen Sie den Becher mit der Nummer',
  checkCode: 'Prüfen Sie die Nummer am Becher, dann verkosten.',
  haveIt: 'Ich habe Becher {code}',
  mark: 'Auf der Linie markieren',
  notMarked: 'noch nicht markiert',
  marked: 'markiert',
  cannotSay: 'Kann ich nicht sagen',
  cannotSaid: 'leer gelassen',
  unanswered: 'noch {count} zu markieren',
  nextCup: 'Fertig mit diesem Becher',
  confirmLeave: 'Zu einem fertigen Becher führt kein Weg zurück.',
  rest: 'Spülen und ruhen',
  restSays: 'Trinken Sie etwas Wasser. Der nächste Becher öffnet sich in',
  seconds: '{count} s',
  done: 'Das war Ihr letzter Becher. Danke.',
  allSent: 'Alle Antworten sind angekommen.',
  waitToLeave: 'Lassen Sie die Seite offen, bis alle Antworten angekommen sind.',
  waiting: 'auf diesem Telefon gespeichert, {count} noch nicht gesendet',
  sent: 'alle Antworten gesichert',
  closed: 'Diese Verkostung ist geschlossen.',
  late: 'Der Schlüssel war schon offen: Ihre Antworten bleiben erhalten und gelten als verspätet.',
  refused: '{count} Antworten konnten nicht angenommen werden: {because}',
  language: 'Sprache',
};

const fr: Table = {
  loading: 'Chargement de votre bulletin …',
  noLink: 'Cette page demande votre propre lien. Demandez-le ou scannez de nouveau votre code.',
  unknownLink: 'Ce lien est inconnu ici. Demandez-en un nouveau.',
  unreachable: 'La dégustation est injoignable. Restez sur cette page : elle réessaie toute seule.',
  refusedStorage:
    'Ce navigateur ne garde rien (mode privé ?). Les réponses partent tout de suite ; restez sur la page jusqu’à la fin.',
  hello: 'Bonjour {taster}',
  aboutToTaste: 'Vous allez goûter : {drink}.',
  readFirst: 'À lire d’abord',
  doNotTaste:
    'Si l’un de ces points vous concerne, ou en cas de doute, ne goûtez pas et dites-le à la personne qui sert. Sans donner de raison.',
  swallow: 'Avalez ou recrachez comme demandé, de même pour chaque verre. Rincez à l’eau entre les verres.',
  mayTaste: 'Je peux goûter',
  waitOpening: 'La dégustation n’a pas commencé. La page s’ouvre toute seule.',
  cupOf: 'Verre {position} sur {cups}',
  practice: 'Verre d’essai',
  practiceSays: 'Pour se faire aux questions ; il ne compte pas.',
  takeCode: 'Prenez le verre marqué',
  checkCode: 'Vérifiez le numéro du verre, puis goûtez.',
  haveIt: 'J’ai le verre {code}',
  mark: 'Marquez la ligne',
  notMarked: 'pas encore marqué',
  marked: 'marqué',
  cannotSay: 'Je ne peux pas dire',
  cannotSaid: 'laissé vide',
  unanswered: 'encore {count} à marquer',
  nextCup: 'Fini avec ce verre',
  confirmLeave: 'On ne revient pas à un verre fini.',
  rest: 'Rincez, reposez-vous',
  restSays: 'Buvez un peu d’eau. Le verre suivant s’ouvre dans',
  seconds: '{count} s',
  done: 'C’était votre dernier verre. Merci.',
  allSent: 'Toutes les réponses sont arrivées.',
  waitToLeave: 'Gardez la page ouverte jusqu’à l’arrivée de toutes les réponses.',
  waiting: 'gardé sur ce téléphone, {count} à envoyer',
  sent: 'toutes les réponses gardées',
  closed: 'Cette dégustation est close.',
  late: 'La clé était déjà ouverte : vos réponses sont gardées et marquées tardives.',
  refused: '{count} réponses n’ont pu être prises : {because}',
  language: 'Langue',
};

const es: Table = {
  loading: 'Buscando su hoja …',
  noLink: 'Esta página necesita su propio enlace. Pídalo o escanee otra vez su código.',
  unknownLink: 'Este enlace no se conoce aquí. Pida uno nuevo.',
  unreachable: 'No se alcanza la cata. Quédese en la página: lo intenta sola otra vez.',
  refusedStorage:
    'Este navegador no guarda nada (¿modo privado?). Las respuestas salen enseguida; quédese en la página hasta el final.',
  hello: 'Hola {taster}',
  aboutToTaste: 'Va a catar: {drink}.',
  readFirst: 'Lea esto primero',
  doNotTaste:
    'Si algo de esto le concierne, o tiene dudas, no cate y dígaselo a quien sirve. No hace falta decir por qué.',
  swallow: 'Trague o escupa como se le pidió, igual con cada vaso. Enjuáguese con agua entre vasos.',
  mayTaste: 'Puedo catar',
  waitOpening: 'La cata no ha empezado. La página se abre sola.',
  cupOf: 'Vaso {position} de {cups}',
  practice: 'Vaso de prueba',
  practiceSays: 'Para conocer las preguntas; no cuenta.',
  takeCode: 'Tome el vaso marcado',
  checkCode: 'Compruebe el número del vaso y cate.',
  haveIt: 'Tengo el vaso {code}',
  mark: 'Marque la línea',
  notMarked: 'aún sin marcar',
  marked: 'marcado',
  cannotSay: 'No sé decirlo',
  cannotSaid: 'dejado en blanco',
  unanswered: 'faltan {count} por marcar',
  nextCup: 'Terminé este vaso',
  confirmLeave: 'No se vuelve a un vaso terminado.',
  rest: 'Enjuague y descanse',
  restSays: 'Beba un poco de agua. El siguiente vaso se abre en',
  seconds: '{count} s',
  done: 'Era su último vaso. Gracias.',
  allSent: 'Han llegado todas las respuestas.',
  waitToLeave: 'Deje la página abierta hasta que lleguen todas las respuestas.',
  waiting: 'guardado en este teléfono, {count} por enviar',
  sent: 'todas las respuestas guardadas',
  closed: 'Esta cata está cerrada.',
  late: 'La clave ya estaba abierta: sus respuestas se guardan, marcadas como tardías.',
  refused: 'No se pudieron tomar {count} respuestas: {because}',
  language: 'Idioma',
};

const TABLES: Record<string, Table> = { en, de, fr, es };

export const LANGUAGES: readonly [string, string][] = [
  ['en', 'English'],
  ['de', 'Deutsch'],
  ['fr', 'Français'],
  ['es', 'Español'],
];

/** The first language of the browser that the ballot speaks, else English. */
export function preferredLanguage(wanted: readonly string[]): string {
  return wanted.map((tag) => tag.slice(0, 2).toLowerCase()).find((tag) => Object.hasOwn(TABLES, tag)) ?? 'en';
}

/** A sentence in a language, its `{places}` filled. */
export function speak(language: string, word: Word, fill: Record<string, string | number> = {}): string {
  const sentence = (TABLES[language] ?? en)[word];
  return sentence.replace(/\{(\w+)\}/g, (whole, key: string) => String(fill[key] ?? whole));
}
