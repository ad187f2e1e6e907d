import { ETHANOL_DENSITY } from '../../engine/bench/alcohol-density.ts';
import type { Brief } from './brief.ts';
import { type AddedAbout, holdsGrams, isCaution } from './caution-words.ts';
import { activesIn } from './known-actives.ts';
import { plannedEthanol } from './strongest-drink.ts';

/**
 * What tasters are told before the first cup: the brief's own words, then what the drink as a whole makes plain and the
 * brief does not say yet. It goes by the drink's name, its strength and the highest dose, all of which hold for every cup
 * alike; nothing here depends on components or on what is in a cup.
 */
export function tasterCautions(brief: Brief): string[] {
  return [...toldTasters(brief), ...addedCautions(brief).map(({ told }) => told)];
}

/** A caution that the workbench adds by itself. */
export interface AddedCaution {
  about: AddedAbout;
  english: string;
  /** As tasters read it: in the maker's own words where there are any, else in English. */
  told: string;
}

/** What the drink as a whole makes plain and no caution of the brief says yet. */
export function addedCautions(brief: Brief): AddedCaution[] {
  const own = toldTasters(brief);
  return [...activesOfDrink(brief, own), ...alcoholOf(brief, own)];
}

/** Something of a component that tasters should know and are not told. */
export interface Untold {
  component: string;
  says: string;
}

/** A material as the shelf describes it. */
interface Described {
  material: string;
  name: string;
  synonyms: readonly string[];
  kind: string;
  allergens: string | null;
}

const NONE = /^(|none|none of the regulated food allergens|see .*|not applicable.*)$/i;

/**
 * What the shelf says of the components' allergens and of people who must not drink them, where no caution for tasters
 * speaks of it: no word of five letters or more in common (common practice, no published source). It is not told by
 * itself, since it gives components away: whoever writes the brief chooses the words.
 */
export function untoldAllergens(brief: Brief, materials: readonly Described[]): Untold[] {
  const told = wordsOf(toldTasters(brief).join(' '));
  const byName = new Map(
    materials.flatMap((one) =>
      [one.material, one.name, ...one.synonyms].map((name) => [name.toLowerCase(), one] as const),
    ),
  );
  return brief.components.flatMap(({ name, material = name }) => {
    const known = byName.get(material.trim().toLowerCase());
    const says = known?.allergens ?? '';
    if (known === undefined || known.kind === 'carrier' || NONE.test(says.trim())) return [];
    return [...wordsOf(says)].some((word) => told.has(word)) ? [] : [{ component: name, says }];
  });
}

function toldTasters({ cautions }: Brief): string[] {
  return cautions.filter(({ to }) => to === 'taster').map(({ text }) => text);
}

/** Words that say nothing by themselves. */
const EMPTY = [
  'allergens',
  'regulated',
  'common',
  'practice',
  'comes',
  'natural',
  'grades',
  'major',
  'words',
];

function wordsOf(text: string): Set<string> {
  const words = text.toLowerCase().match(/\p{L}{5,}/gu) ?? [];
  return new Set(words.filter((word) => !EMPTY.includes(word)));
}

function activesOfDrink(brief: Brief, own: readonly string[]): AddedCaution[] {
  return activesIn([brief.drink?.name ?? ''])
    .filter(({ name }) => !own.some((text) => new RegExp(name, 'i').test(text)))
    .map(({ name, who }) => {
      const english = `May hold ${name}: not for ${who}.`;
      return { about: name, english, told: ownWording(brief, name) ?? english };
    });
}

/** Grams of pure alcohol at the highest dose, through the tenfold dilution where the balance needs it. */
function alcoholOf(brief: Brief, own: readonly string[]): AddedCaution[] {
  const { drink, panel } = brief;
  if (drink === undefined || own.some((text) => /alcohol|ethanol/i.test(text))) return [];
  const { gramsPerSitting } = plannedEthanol(brief);
  const cup =
    gramsPerSitting === null
      ? (drink.cupMillilitres * drink.percentVol * ETHANOL_DENSITY) / 100
      : gramsPerSitting / panel.cupsPerSitting;
  if (!(cup > 0)) return [];
  const most = gramsPerSitting === null ? 'about' : 'at the most';
  const figures = {
    cup: grams(cup),
    all: grams(cup * panel.cupsPerSitting),
    cups: String(panel.cupsPerSitting),
  };
  const english =
    `Holds alcohol: ${most} ${figures.cup} g in a cup, ${figures.all} g in ${figures.cups} cups. ` +
    'If you avoid alcohol altogether, do not taste.';
  const wording = ownWording(brief, 'alcohol');
  const told =
    wording === null || !holdsGrams(wording)
      ? english
      : wording.replace(/\[(cup|all|cups)\]/g, (_, key: keyof typeof figures) => figures[key]);
  return [{ about: 'alcohol', english, told }];
}

/** Null where nothing is said: then the English stands. */
function ownWording({ cautionWords }: Brief, about: AddedAbout): string | null {
  const text = (cautionWords?.[about] ?? '').trim();
  return isCaution(text) ? text : null;
}

/** Two figures, rounded up: it is a most. */
function grams(value: number): string {
  const unit = 10 ** (Math.floor(Math.log10(value)) - 1);
  return String(Number((Math.ceil(value / unit - 1e-9) * unit).toPrecision(2)));
}
