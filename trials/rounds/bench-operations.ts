import { type DilutionInput, dilute } from '../../engine/bench/dilute.ts';
import { type Dose, type DoseInput, doseOf } from '../../engine/bench/dose.ts';
import { fallingOut } from '../../engine/bench/falling-out.ts';
import type { Limit } from '../../engine/bench/limits.ts';
import { type ScaleInput, scaleFormula } from '../../engine/bench/scale.ts';
import { strengthOf } from '../../engine/bench/strength.ts';
import { type WeighingInput, weighingPlan } from '../../engine/bench/weighing-plan.ts';
import type { Formula } from '../schema/formula.ts';
import { cautionsOf } from '../shelf/cautions.ts';
import { diluted, hazeCautions, linkOfLines, stockLinks } from '../shelf/dilution-chain.ts';
import { legalLimits } from '../shelf/legal-limits.ts';
import { type ResolvedFormula, resolveFormula } from '../shelf/resolve-formula.ts';
import { type Shelf, starterShelf } from '../shelf/shelf.ts';
import { VERSION } from './version.ts';

/** A formula as it was read, with what its reader should know. */
interface Given {
  formula: Formula;
  warnings?: readonly string[] | undefined;
  /** The maker's own materials before the starter shelf's; by default the starter shelf alone. */
  shelf?: Shelf | undefined;
  /** Limits of the maker's own, beside those of the starter list. */
  limits?: readonly Limit[] | undefined;
}

type Beside<T> = Given & Omit<T, 'lines' | 'materials' | 'limits'>;

/** Spirit and water for a strength. */
export function diluteOperation(input: DilutionInput) {
  return { ...input, ...dilute(input), warnings: [] as string[], version: VERSION };
}

/** What a formula is, by pure substance. */
export function strengthOperation(given: Given) {
  const resolved = resolveFormula(given.formula, given.shelf);
  return documentOf(given, resolved, strengthOf(resolved.lines, resolved.materials));
}

/** A weighing plan in pouring order, with stocks where a mass is too small. */
export function weighOperation(given: Beside<WeighingInput>) {
  const resolved = resolveFormula(given.formula, given.shelf);
  const { balance, tolerance } = given;
  return documentOf(given, resolved, weighingPlan({ ...partsOf(resolved), balance, tolerance }));
}

/** What reaches the glass, which limits speak of it, and what to mind. */
export function doseOperation(given: Beside<DoseInput>) {
  const resolved = resolveFormula(given.formula, given.shelf);
  const { formula: _, warnings: __, shelf = starterShelf(), limits = [], ...amounts } = given;
  const dose = doseOf({ ...amounts, ...partsOf(resolved), limits: [...limits, ...legalLimits()] });
  const strength = strengthOf(resolved.lines, resolved.materials);
  const chain = doseChain(resolved, { ...amounts, shelf }, dose);
  const above = hazeCautions(chain.slice(0, -1));
  const cautions = [...cautionsOf({ lines: resolved.lines, strength, drink: dose.drink, shelf }), ...above];
  return documentOf(given, resolved, { ...dose, chain, cautions });
}

/** Stocks, concentrate, syrup (a litre taken to weigh no more than a kilogram: the most it can hold) and drink. */
function doseChain(
  { lines, materials }: ResolvedFormula,
  { syrupDose, shelf }: Pick<DoseInput, 'syrupDose'> & { shelf: Shelf },
  { perDrink, drink }: Dose,
) {
  const known = { materials, shelf };
  const concentrate = linkOfLines('The concentrate', lines, known);
  const { density } = strengthOf(lines, materials);
  const strength = concentrate.percentVol;
  const inSyrup = density === null ? null : syrupDose * density;
  const inDrink =
    perDrink.grams === null ? null : (1000 * perDrink.grams) / (drink.millilitres * drink.density);
  return fallingOut([
    ...stockLinks(lines, known),
    concentrate,
    diluted(concentrate, 'The syrup', strength === null ? null : (strength * syrupDose) / 1000, inSyrup),
    diluted(concentrate, 'The drink', drink.percentVol, inDrink),
  ]);
}

/** The same formula in another size. */
export function scaleOperation(given: Beside<ScaleInput>) {
  const resolved = resolveFormula(given.formula, given.shelf);
  const { formula: _, warnings: __, shelf: ___, limits: ____, ...size } = given;
  return documentOf(given, resolved, scaleFormula({ ...size, ...partsOf(resolved) }));
}

function partsOf({ lines, materials }: ResolvedFormula) {
  return { lines, materials };
}

function documentOf<T extends { warnings: readonly string[] }>(
  { formula, warnings = [] }: Given,
  resolved: ResolvedFormula,
  result: T,
) {
  const told = [...warnings, ...resolved.warnings, ...result.warnings];
  const { currency } = formula;
  return {
    formula: formula.name,
    ...(currency === undefined ? {} : { currency }),
    ...result,
    warnings: told,
    version: VERSION,
  };
}
