import type { Fault } from '../../../trials/schema/api.ts';
import { inHundreds } from './hundreds.ts';

/** Faults of a brief in the words of its form: where, what was found, what is needed. */

const CHAPTERS: Record<string, string> = {
  components: 'What is blended',
  bounds: 'Limits on several together',
  settings: 'Varied beside the blend',
  attributes: 'What it must taste like',
  batch: 'The balance',
  panel: 'The people',
  concentrate: 'The concentrate',
  drink: 'The drink',
  caps: 'Not to be exceeded',
  cautions: 'Cautions',
  cautionWords: 'Cautions, in your words',
  name: 'Name of the trial',
  tags: 'Words to find it by',
  currency: 'What is blended: prices are in',
};

const FIELDS: Record<string, string> = {
  id: 'short name',
  name: 'name',
  low: 'at least',
  high: 'at most',
  least: 'at least',
  most: 'at most',
  target: 'score',
  scale: 'scale',
  tolerance: 'tolerance',
  weight: 'weight',
  pricePerGram: 'price',
  strength: 'strength',
  stocks: 'stocks',
  solvent: 'dissolved in',
  material: 'material on the shelf',
  grams: 'all components in one mix',
  readability: 'smallest step your scale shows',
  repeatability: 'how well your scale repeats',
  weighings: 'ten weighings of one thing',
  assessors: 'tasters',
  cupsPerSitting: 'cups each can take at a sitting',
  replicates: 'times each mix',
  carrier: 'alcohol it is made up with',
  percentVol: 'alcohol',
  fillMillilitres: 'filled to',
  cupMillilitres: 'in one cup',
  density: 'density',
  dosePerLitre: 'dose',
  costPerLitre: 'cost',
  ethanolGramsPerSitting: 'ethanol',
};

/** Fields that hold fractions in a brief and parts of a hundred in its form. */
const SHARES = /^(components\[\d+\]\.(low|high)|bounds\[\d+\]\.(least|most)|batch\.tolerance)$/;

/** Faults worth telling: a part without a name lacks its short name for no other reason. */
export function worthTelling(faults: readonly Fault[]): Fault[] {
  const nameless = new Set(
    faults
      .filter((fault) => fault.where.endsWith('.name') && isEmpty(fault))
      .map(({ where }) => where.replace(/name$/, 'id')),
  );
  return faults.filter(
    (fault) => !(fault.where.endsWith('.id') && isEmpty(fault) && nameless.has(fault.where)),
  );
}

/** Where a fault is: `components[1].low` is “What is blended, 2: at least”. */
export function placeWords(where: string): string {
  const [, group = '', row, field] = /^([^.[]+)(?:\[(\d+)\])?(?:\.([^.[]+))?/.exec(where) ?? [];
  const chapter = CHAPTERS[group];
  if (chapter === undefined) return where || 'The brief';
  const at = row === undefined ? chapter : `${chapter}, ${Number(row) + 1}`;
  return field === undefined ? at : `${at}: ${FIELDS[field] ?? field}`;
}

/** What is wrong, beside the field or after its place. */
export function faultWords(fault: Fault): string {
  const { where, allowed, message } = fault;
  if (allowed === undefined) return message;
  if (isEmpty(fault)) return emptyWords(where, allowed);
  const asTyped = SHARES.test(where) || (where === 'components' && /^(lows|highs) that/.test(allowed));
  const told = asTyped ? inHundreds : (text: string) => text;
  return `${told(fault.found ?? '')} is not ${told(allowed)}`;
}

function emptyWords(where: string, allowed: string): string {
  if (/\.name$/.test(where)) return 'give it a name';
  if (/\.target/.test(where)) return 'say which score, or choose another aim';
  return `needs ${SHARES.test(where) ? inHundreds(allowed) : allowed}`;
}

function isEmpty({ found }: Fault): boolean {
  return found === undefined || found === 'nothing' || found === '""' || found === '';
}
