import { fallingOut } from '../../engine/bench/falling-out.ts';
import { limitWarnings } from '../../engine/bench/limit-warnings.ts';
import { judgeLimits, type Limit } from '../../engine/bench/limits.ts';
import { reachingOf } from '../../engine/bench/reaching.ts';
import { explodeAll, strengthOf } from '../../engine/bench/strength.ts';
import { uncheckedOf } from '../../engine/bench/unchecked.ts';
import type { Brief } from '../schema/brief.ts';
import type { Card } from '../schema/card.ts';
import type { Formula } from '../schema/formula.ts';
import { cautionsOf } from '../shelf/cautions.ts';
import { diluted, hazeCautions, linkOfLines, stockLinks } from '../shelf/dilution-chain.ts';
import { legalLimits } from '../shelf/legal-limits.ts';
import { resolveFormula } from '../shelf/resolve-formula.ts';
import type { Shelf } from '../shelf/shelf.ts';
import { fillUp } from './fill-up.ts';
import { asAnswer, isAsked } from './judge-brief.ts';

/** What stored proposals say of the formula to settle on. */
export interface Best {
  ratios: Record<string, number>;
  grams: Record<string, number>;
  settings: Record<string, number>;
  predicted: Record<string, { mean: number; interval: [number, number] }>;
  chance: number | null;
  expectedDistance?: number | undefined;
  distance: number | null;
}

type Figures = Pick<
  Card,
  | 'formula'
  | 'concentrate'
  | 'drink'
  | 'cost'
  | 'substances'
  | 'unchecked'
  | 'chain'
  | 'cautions'
  | 'warnings'
>;

/**
 * Everything that a card calculates: the concentrate with its carrier, strength, cost, and what reaches the drink at
 * the formula's own dose, held against limits. What lacks an input is null with a reason.
 */
export function cardFigures(
  brief: Brief,
  best: Best,
  { shelf, limits: own }: { shelf: Shelf; limits: readonly Limit[] },
): Figures {
  const mix = resolveFormula(mixOf(brief, best), shelf);
  const { formula, concentrate } = fillUp(brief, mixOf(brief, best), shelf);
  const whole = resolveFormula(formula, shelf);
  const drink = drinkOf(brief, best.settings);
  const portions = explodeAll(mix.lines, mix.materials).flatMap((one) => one.portions);
  const batchPerLitre =
    drink === null || concentrate.fillMillilitres === null
      ? null
      : drink.dosePerLitre / concentrate.fillMillilitres;
  const perGram = batchPerLitre === null ? null : (1000 * batchPerLitre) / drink!.density;
  const limits = [...own, ...legalLimits().filter(({ jurisdiction }) => isAsked(brief, jurisdiction))];
  const reaching = reachingOf(portions, perGram);
  const substances =
    drink === null
      ? []
      : reaching
          .map((one) => ({
            substance: one.name,
            mgPerKg: one.mgPerKg,
            limits: judgeLimits(one, drink, limits).map(asAnswer),
          }))
          .filter((one) => one.limits.length > 0);
  const strength = strengthOf(whole.lines, whole.materials);
  const known = { materials: whole.materials, shelf };
  const filled = linkOfLines('The concentrate', whole.lines, known);
  const stated = { ...filled, percentVol: concentrate.percentVol ?? brief.concentrate?.percentVol ?? null };
  const chain = fallingOut([
    ...stockLinks(mix.lines, known),
    stated,
    ...(drink === null || concentrate.density === null
      ? []
      : [
          diluted(
            stated,
            'The drink',
            drink.percentVol,
            (drink.dosePerLitre * concentrate.density) / drink.density,
          ),
        ]),
  ]);
  const inDrink = reaching.map((one) => ({
    substance: one.name,
    cas: one.cas,
    mgPerKg: one.mgPerKg,
    within: one.within,
    limits: [],
  }));
  const cautions = cautionsOf({
    lines: whole.lines,
    strength: {
      substances: strength.substances,
      percentVol: concentrate.percentVol ?? brief.concentrate?.percentVol ?? null,
    },
    drink: {
      millilitres: 1000,
      density: drink?.density ?? 1,
      percentVol: drink?.percentVol ?? null,
      substances: inDrink,
    },
    shelf,
  });
  const above = hazeCautions(chain.filter(({ place }) => place !== 'The drink'));
  return {
    ...{ formula, concentrate, drink, substances, chain, cautions: [...cautions, ...above] },
    cost: costOf(mix.lines, batchPerLitre),
    unchecked: uncheckedOf(portions),
    warnings: [...new Set([...whole.warnings, ...limitWarnings(substances, drink?.percentVol ?? null)])],
  };
}

function mixOf({ components, name, currency }: Brief, { grams }: Best): Formula {
  return {
    format: 'formula/1',
    name,
    ...(currency === undefined ? {} : { currency }),
    lines: components
      .filter(({ id }) => (grams[id] ?? 0) > 0)
      .map(({ id, name: title, material = title, strength, solvent, pricePerGram }) => ({
        material,
        grams: grams[id]!,
        strength,
        ...(solvent === undefined || strength === 100 ? {} : { solvent }),
        ...(pricePerGram === undefined ? {} : { pricePerGram }),
      })),
  };
}

function drinkOf({ drink, concentrate }: Brief, settings: Readonly<Record<string, number>>): Card['drink'] {
  if (drink === undefined || concentrate === undefined) return null;
  const { dosePerLitre: dose, name, density, cupMillilitres, percentVol } = drink;
  const dosePerLitre = typeof dose === 'object' ? settings[dose.setting] : dose;
  if (dosePerLitre === undefined) return null;
  return {
    ...{ name, dosePerLitre, density, cupMillilitres },
    percentVol: percentVol + (dosePerLitre * concentrate.percentVol) / 1000,
  };
}

function costOf(
  lines: readonly { name: string; grams: number; pricePerGram: number | null }[],
  batchPerLitre: number | null,
): Card['cost'] {
  const unpriced = lines.filter(({ pricePerGram }) => pricePerGram === null).map(({ name }) => name);
  if (unpriced.length > 0)
    return {
      perBatch: null,
      perLitreOfDrink: null,
      because: `no price per gram: ${[...new Set(unpriced)].join(', ')}`,
    };
  const perBatch = lines.reduce((sum, { grams, pricePerGram }) => sum + grams * pricePerGram!, 0);
  return {
    perBatch,
    perLitreOfDrink: batchPerLitre === null ? null : perBatch * batchPerLitre,
    because: 'components alone, without the alcohol they are made up with',
  };
}
