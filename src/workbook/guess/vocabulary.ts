/** Words of headings in English, German and French, and what they say of a column. */
import type {Role} from '../ledgerMap';

/** Headings in lower case without accents, so that "Größe", "groesse" and "GROSSE" are one. */
export function plain(text: string): string {
  return text
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/[_.]+/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();
}

interface Meaning {
  readonly role: Role;
  readonly words: RegExp;
}

/** Columns of one cell a record. The first that fits wins; a word alone counts more than one among others. */
export const SINGLE: readonly Meaning[] = [
  {role: 'TIN', words: /\b(tin|dot)\b/},
  {role: 'Tire size', words: /\b(size|dimension|grosse|groesse|taille)\b|reifengr|reifendim/},
  {role: 'Supplier', words: /\b(supplier|vendor|brand|lieferant|hersteller|fournisseur|marque)\b/},
  {
    role: 'Wheel',
    words:
      /\b(wheel|rad|roue) ?-?(id|no|nr|nummer|number|numero|n°)|\b(radnr|radnummer|raederkennung|id roue|wheelid|serial|seriennummer|numero de serie)\b|^id$/,
  },
  {
    role: 'Job',
    words: /\b(job|order|work order|ro|ticket|auftrag|auftragsnr|auftragsnummer|dossier|ordre|commande|intervention)\b/,
  },
  {role: 'Date', words: /\b(date|datum|day|tag|jour)\b/},
  {role: 'Class', words: /\b(class|klasse|classe|category|kategorie|categorie)\b/},
  {role: 'Vehicle', words: /\b(vehicle|car|truck|unit|plate|fahrzeug|kennzeichen|vehicule|immatriculation|voiture)\b/},
  {role: 'Position', words: /\b(position|pos|wheel|corner|rad|radposition|einbauort|roue|emplacement)\b/},
  {role: 'Stock step', words: /\b(stock step|weight step|gewichtsstufe|pas)\b/},
];

/** What a run of readings was taken of; narrower words first. */
export const READINGS: readonly Meaning[] = [
  {role: 'Inner bead seat', words: /\b(i|in|inner|inboard|inside|innen|innensitz|int|interieur|interne)\b/},
  {
    role: 'Outer bead seat',
    words: /\b(o|a ?ussen|out|outer|outboard|outside|aussen|aussensitz|ext|exterieur|externe)\b/,
  },
  {
    role: 'Assembly readings',
    words:
      /\b(a|assembly|assy|tire|tyre|wheel|complete|komplettrad|reifen|rad|rundlauf|ensemble|pneu|roue|faux-?rond|total)\b/,
  },
];

/** Words that say "a reading", whatever it was taken of. */
export const READING_WORD = /^(r|m|p|reading|readings|runout|messung|messwert|mesure|mes|lecture|point|pos|position|)$/;

export const LIMIT = /\b(limit|limits|grenze|grenzwert|toleranz|limite|tolerance|max|maximum)\b/;
export const UNBALANCE = /\b(unbalance|imbalance|weight|correction|unwucht|gewicht|balourd|masse|masselotte)\b/;
export const ANGLE = /(\bangle\b|\bwinkel\b|°|\bdeg\b|\bgrad\b|\bdegre)/;
export const INNER = /\b(in|inner|inboard|inside|innen|int|interieur)\b/;
export const OUTER = /\b(out|outer|outboard|outside|aussen|ext|exterieur)\b/;

/** How many of the texts are headings that the vocabulary knows. */
export const knownWords = (texts: readonly string[]): number =>
  texts.filter((text) => SINGLE.some(({words}) => words.test(plain(text))) || LIMIT.test(plain(text))).length;

/** Rows below the records that sum them up. */
export const SUMMARY =
  /^(total|totals|sum|mean|average|avg|count|min|max|summe|gesamt|mittel|mittelwert|anzahl|somme|moyenne|nombre)\b/;

export const RUNOUT_UNITS: readonly (readonly [string, RegExp])[] = [
  ['mm', /\b(mm|millimet(er|re)s?)\b/],
  ['in', /(\binch(es)?\b|\bin\b(?=\W*$)|\[in\]|\(in\)|"|\bzoll\b|\bpouces?\b)/],
];

export const WEIGHT_UNITS: readonly (readonly [string, RegExp])[] = [
  ['g', /\b(g|gr|gramm?s?|grammes?)\b/],
  ['oz', /\b(oz|ounces?|unze[n]?|onces?)\b/],
];
