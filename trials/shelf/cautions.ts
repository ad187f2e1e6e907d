import type { Dose } from '../../engine/bench/dose.ts';
import { fallingOut } from '../../engine/bench/falling-out.ts';
import type { Strength } from '../../engine/bench/strength.ts';
import { dislikesWater, hazeCautions, waterShy } from './dilution-chain.ts';
import { type Shelf, starterShelf } from './shelf.ts';
import type { ShelfMaterial } from './shelf-schema.ts';

/** Something to mind that no figure settles. */
export interface Caution {
  about: 'fire' | 'allergen' | 'haze' | 'ageing' | 'handling';
  text: string;
  source: string;
}

/** Flash points of ethanol in water: public engineering table, rough; % by volume, °C. */
const FLASH: readonly (readonly [number, number])[] = [
  [10, 49],
  [20, 36],
  [30, 29],
  [40, 26],
  [50, 24],
  [60, 22],
  [70, 21],
  [80, 20],
  [96, 13],
];

interface Cautioned {
  /** Names of the formula's lines. */
  lines: readonly { name: string }[];
  strength: Pick<Strength, 'percentVol' | 'substances'>;
  drink: Dose['drink'];
  shelf?: Shelf | undefined;
}

/** Cautions for a concentrate and the drink it makes: fire, allergens, haze, ageing, handling. */
export function cautionsOf({ lines, strength, drink, shelf = starterShelf() }: Cautioned): Caution[] {
  const names = [...lines.map(({ name }) => name), ...strength.substances.map(({ id }) => id)];
  const all = new Set(
    names.map((name) => shelf.find(name)).filter((one): one is ShelfMaterial => one !== undefined),
  );
  const held = [...all].filter(({ kind }) => kind !== 'carrier');
  return [
    ...fire(strength.percentVol),
    ...[...all].flatMap(allergens),
    ...haze(held, drink),
    ...ageing(held),
    ...held.flatMap(handling),
  ];
}

const NO_ALLERGEN = ['', 'none', 'none of the regulated food allergens'];

function fire(percentVol: number | null): Caution[] {
  if (percentVol === null)
    return [
      {
        about: 'fire',
        text: 'The strength is not known: treat it as highly flammable.',
        source: 'common practice',
      },
    ];
  const flash = FLASH.findLast(([strength]) => percentVol >= strength)?.[1];
  if (flash === undefined) return [];
  const kind = flash < 23 ? 'highly flammable (category 2)' : 'flammable (category 3)';
  const text = `The concentrate, ${Math.round(percentVol)} % by volume, flashes at about ${flash} °C: ${kind}. No flame, no hot plate.`;
  return [{ about: 'fire', text, source: 'public table of flash points, rough; classes from memory' }];
}

function allergens({ name, allergens: says, sources }: ShelfMaterial): Caution[] {
  if (says === null || NO_ALLERGEN.includes(says)) return [];
  return [{ about: 'allergen', text: stopped(`${name}: ${says}`), source: sourceOf(sources['allergens']) }];
}

/** The drink as a link of the chain. */
function haze(held: readonly ShelfMaterial[], { substances, percentVol }: Dose['drink']): Caution[] {
  const holds = held.filter(dislikesWater).flatMap((material) => {
    const found = substances.find(({ substance }) => substance === material.name);
    return found === undefined ? [] : [waterShy(material, found.mgPerKg)];
  });
  return hazeCautions(fallingOut([{ place: 'The drink', percentVol: percentVol ?? 0, holds }]));
}

const AGEING = {
  aldehyde: [
    'forms acetals with the spirit over days and gives some back in an acid drink: taste all at one age',
    'trade articles on flavour deterioration and acetals, in outline',
  ],
  ester: [
    'exchanges with the spirit and is split by acid over weeks to months',
    'J. Agric. Food Chem. 1980, 28, 928',
  ],
  oxidises: [
    'takes up air and then sensitises skin: small, full, cold bottles with a date',
    'contact-allergy literature, in outline',
  ],
} as const;

function ageing(held: readonly ShelfMaterial[]): Caution[] {
  return (['aldehyde', 'ester', 'oxidises'] as const).flatMap((kind) => {
    const names = held.filter(({ ages }) => ages === kind).map(({ name }) => name);
    if (names.length === 0) return [];
    const [text, source] = AGEING[kind];
    return [{ about: 'ageing' as const, text: `${names.join(', ')}: ${text}.`, source }];
  });
}

function handling({ name, hazards, sources }: ShelfMaterial): Caution[] {
  if (!hazards) return [];
  return [{ about: 'handling', text: stopped(`${name}: ${hazards}`), source: sourceOf(sources['hazards']) }];
}

function sourceOf(source: string | string[] | undefined): string {
  return source === undefined ? 'common practice' : [source].flat().join('; ');
}

/** With one stop at its end, whether it came with one or not. */
function stopped(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}
