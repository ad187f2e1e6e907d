import { alcoholDensity, massFractionOf } from '../../engine/bench/alcohol-density.ts';
import { explodeLine } from '../../engine/bench/explode.ts';
import { type ChainLink, fallingOut } from '../../engine/bench/falling-out.ts';
import { limitWarnings } from '../../engine/bench/limit-warnings.ts';
import { type JudgedLimit, judgeLimits, type Limit } from '../../engine/bench/limits.ts';
import type { Line, Materials } from '../../engine/bench/material.ts';
import { type Reaching, reachingOf } from '../../engine/bench/reaching.ts';
import { strengthOf } from '../../engine/bench/strength.ts';
import { uncheckedOf } from '../../engine/bench/unchecked.ts';
import type { LinearSolver } from '../../engine/numeric/linear-solver.ts';
import { extremeShares } from '../../engine/region/extreme-shares.ts';
import type { Brief } from '../schema/brief.ts';
import { toBlendSpace } from '../schema/engine-shapes.ts';
import type { Judgement } from '../schema/judgement.ts';
import { apart, inCurrency } from '../schema/money.ts';
import { plannedEthanol, type StrongestDrink, strongestDrink } from '../schema/strongest-drink.ts';
import { diluted, linkOfLines, stockLinks } from '../shelf/dilution-chain.ts';
import { legalLimits } from '../shelf/legal-limits.ts';
import { resolveFormula } from '../shelf/resolve-formula.ts';
import { type Shelf, starterShelf } from '../shelf/shelf.ts';

interface Tools {
  solver: LinearSolver;
  shelf?: Shelf | undefined;
  /** Limits of the maker's own, beside the starter list's; they are asked wherever the drink is sold. */
  limits?: readonly Limit[] | undefined;
}

/**
 * Holds a brief against limits and caps before anything is mixed: each substance at the most that the allowed region
 * and doses let through (a linear program each), constituents of oils at the most that they may hold. No legal
 * verdict: the source, and what it says.
 *
 * @throws InputFaults where a component contradicts itself (a strength by volume of what is no spirit)
 */
export function judgeBrief(
  brief: Brief,
  { solver, shelf = starterShelf(), limits: own = [] }: Tools,
): Judgement {
  const { lines, materials } = resolveFormula(formulaOf(brief), shelf);
  const strongest = strongestDrink(brief);
  const extreme: Extreme = (weights, sense = 'maximise') =>
    extremeShares(toBlendSpace(brief), weights, sense, solver);
  const most: Most = (weights, sense) => {
    const shares = extreme(weights, sense);
    return shares === null ? null : shares.reduce((sum, share, i) => sum + share * weights[i]!, 0);
  };
  const substances =
    strongest === null ? [] : judgeSubstances({ brief, lines, materials, strongest, most }, own);
  const unchecked = uncheckedOf(lines.flatMap((line) => explodeLine(line, materials)));
  const cap = brief.caps?.ethanolGramsPerSitting ?? null;
  const planned = plannedEthanol(brief);
  const { gramsPerSitting } = planned;
  const exceeded = gramsPerSitting === null || cap === null ? null : gramsPerSitting > cap;
  const ethanol = { ...planned, cap, exceeded };
  const cost = costOf(brief, lines, strongest, most);
  const drink =
    strongest === null
      ? null
      : {
          dosePerLitre: strongest.dosePerLitre,
          percentVol: strongest.percentVol,
          density: strongest.density,
        };
  const chain = fallingOut(chainOf({ brief, lines, materials, extreme, shelf, strongest }));
  const found = { drink, substances, chain, unchecked, ethanol, cost };
  return { ...found, warnings: warningsOf(brief, found) };
}

type Most = (weights: readonly number[], sense?: 'minimise' | 'maximise') => number | null;
type Extreme = (weights: readonly number[], sense?: 'minimise' | 'maximise') => readonly number[] | null;

function formulaOf({ components }: Brief) {
  return {
    format: 'formula/1' as const,
    name: 'components',
    lines: components.map(({ name, material = name, strength, solvent, pricePerGram }) => ({
      ...{ material, grams: 1, strength },
      ...(solvent === undefined || strength === 100 ? {} : { solvent }),
      ...(pricePerGram === undefined ? {} : { pricePerGram }),
    })),
  };
}

function carrierAlone(carrier: string) {
  const lines = [{ material: carrier, grams: 1, strength: 100 }];
  return { format: 'formula/1' as const, name: 'carrier', lines };
}

interface Judged {
  brief: Brief;
  lines: readonly Line[];
  materials: Materials;
  strongest: StrongestDrink;
  most: Most;
}

/** Stocks as the brief names them; concentrate and drink of the ratio that holds the most oil of all allowed. */
function chainOf({
  brief,
  lines,
  materials,
  strongest,
  extreme,
  shelf,
}: Omit<Judged, 'strongest' | 'most'> & {
  strongest: StrongestDrink | null;
  extreme: Extreme;
  shelf: Shelf;
}): ChainLink[] {
  const known = { materials, shelf };
  const { concentrate, batch } = brief;
  if (concentrate === undefined) return stockLinks(lines, known);
  const byLine = lines.map((line) => linkOfLines(line.name, [line], known).holds);
  const inLine = byLine.map((held) => held.reduce((sum, { mgPerKg }) => sum + (mgPerKg ?? 0), 0));
  const shares = extreme(inLine) ?? inLine.map(() => 0);
  const holds = byLine.flatMap((held, i) =>
    held.map((one) => ({ ...one, mgPerKg: one.mgPerKg === null ? null : one.mgPerKg * shares[i]! })),
  );
  const density = alcoholDensity(massFractionOf(concentrate.percentVol));
  const carrier = resolveFormula(carrierAlone(concentrate.carrier), shelf);
  const { percentVol: carrierVol } = strengthOf(carrier.lines, carrier.materials);
  const made = brief.components.flatMap(({ name, stocks = [] }, i) =>
    byLine[i]!.length === 0
      ? []
      : stocks.map((strength) =>
          diluted(
            { place: name, percentVol: null, holds: byLine[i]! },
            `${name}, the ${strength} % stock`,
            carrierVol,
            10 * strength,
          ),
        ),
  );
  const mix: ChainLink = { place: 'The mix', percentVol: null, holds };
  const filled = (1000 * batch.grams) / (concentrate.fillMillilitres * density);
  return [
    ...stockLinks(lines, known),
    ...made,
    diluted(mix, 'The concentrate', concentrate.percentVol, Math.min(1000, filled)),
    ...(strongest === null
      ? []
      : [diluted(mix, 'The drink', strongest.percentVol, strongest.mixGramsPerLitre / strongest.density)]),
  ];
}

function judgeSubstances(
  { brief, lines, materials, strongest, most }: Judged,
  own: readonly Limit[],
): Judgement['substances'] {
  const limits = [...own, ...legalLimits().filter(({ jurisdiction }) => isAsked(brief, jurisdiction))];
  // mg in a kg of drink for each gram of substance in a gram of the mix.
  const perGram = (1000 * strongest.mixGramsPerLitre) / strongest.density;
  const byLine = lines.map((line) => reachingOf(explodeLine(line, materials), perGram));
  const all = new Map(byLine.flat().map((one) => [keyOf(one), one]));
  return [...all].flatMap(([key, { name, cas }]) => {
    const own = byLine.map((list) => list.find((one) => keyOf(one) === key));
    const mostMgPerKg = most(own.map((one) => one?.mgPerKg ?? 0));
    if (mostMgPerKg === null) return [];
    const asSuch = own.some((one) => one?.asSuch === true);
    const reaching: Reaching = { name, cas, mgPerKg: mostMgPerKg, asSuch, within: [] };
    const judged = judgeLimits(reaching, strongest, limits).map(asAnswer);
    return judged.length === 0 ? [] : [{ substance: name, cas, mostMgPerKg, limits: judged }];
  });
}

function keyOf({ cas, name }: Pick<Reaching, 'cas' | 'name'>): string {
  return cas ?? name.toLowerCase();
}

/** A judged limit as it is answered. */
export function asAnswer(limit: JudgedLimit): Judgement['substances'][number]['limits'][number] {
  const { limit: figure, unit, kind, drinks, only, jurisdiction, source, verified, note, exceeded } = limit;
  const own = limit.own ? { own: true as const } : {};
  return { limit: figure, unit, kind, drinks, only, jurisdiction, source, verified, ...own, note, exceeded };
}

/** `EU (and GB retained text)` is asked for by EU as by GB; without a list all are. */
export function isAsked({ caps }: Brief, jurisdiction: string): boolean {
  const asked = caps?.jurisdictions;
  if (asked === undefined || asked.length === 0) return true;
  const words = jurisdiction.toUpperCase().split(/[^A-Z]+/);
  return asked.some((one) => words.includes(one.trim().toUpperCase()));
}

function costOf(
  brief: Brief,
  lines: readonly Line[],
  strongest: StrongestDrink | null,
  most: Most,
): Judgement['cost'] {
  const cap = brief.caps?.costPerLitre ?? null;
  const unknown = (because: string) => ({ leastPerLitre: null, mostPerLitre: null, cap, because });
  const unpriced = lines.filter(({ pricePerGram }) => pricePerGram === null).map(({ name }) => name);
  if (strongest === null) return unknown('the brief does not name drink, dose and concentrate');
  if (unpriced.length > 0) return unknown(`no price per gram: ${unpriced.join(', ')}`);
  const weights = lines.map(({ pricePerGram }) => pricePerGram! * strongest.mixGramsPerLitre);
  return {
    leastPerLitre: most(weights, 'minimise'),
    mostPerLitre: most(weights),
    cap,
    because: 'components alone, without the alcohol they are made up with',
  };
}

function warningsOf(brief: Brief, found: Omit<Judgement, 'warnings'>): string[] {
  const { drink, substances, unchecked, ethanol, cost } = found;
  const asked = brief.caps !== undefined && Object.keys(brief.caps).length > 0;
  if (drink === null)
    return asked ? ['caps: limits cannot be checked until the brief names drink, dose and concentrate'] : [];
  const over = substances.map(({ substance, mostMgPerKg, limits }) => ({
    substance,
    mgPerKg: mostMgPerKg,
    limits,
  }));
  return [
    ...limitWarnings(over, drink.percentVol).map((text) => `this brief allows too much: ${text}`),
    ...(unchecked.length === 0
      ? []
      : [
          `not held against limits: ${unchecked.map((one) => `${one.material} (${one.because})`).join('; ')}`,
        ]),
    ...ethanolWarnings(brief, ethanol),
    ...costWarnings(cost, brief.currency),
  ];
}

function ethanolWarnings(
  { panel }: Brief,
  { gramsPerSitting, cap, exceeded, diluted }: Judgement['ethanol'],
) {
  if (exceeded !== true || gramsPerSitting === null) return [];
  const how = diluted ? ', dosed through a tenfold dilution in spirit' : '';
  return [
    `${panel.cupsPerSitting} cups at the highest dose hold ${short(gramsPerSitting)} g of ethanol a taster${how}, and the brief allows ${cap} g: such a sitting will be refused`,
  ];
}

function costWarnings(
  { leastPerLitre, mostPerLitre, cap }: Judgement['cost'],
  currency: string | undefined,
): string[] {
  if (cap === null || mostPerLitre === null || mostPerLitre <= cap) return [];
  const cheapest = leastPerLitre !== null && leastPerLitre > cap;
  return [
    cheapest
      ? `even the cheapest ratio costs ${inCurrency(short(leastPerLitre), currency)} a litre of drink at the highest dose, and the brief allows ${apart(String(cap))}`
      : `the dearest ratio costs ${inCurrency(short(mostPerLitre), currency)} a litre of drink at the highest dose, and the brief allows ${apart(String(cap))}`,
  ];
}

function short(value: number): string {
  return String(Number(value.toPrecision(3)));
}
