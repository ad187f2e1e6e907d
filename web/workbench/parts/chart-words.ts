import { money } from '../../../trials/schema/money.ts';
import { distanceOf, scoreDecimals } from '../../charts/aims.ts';
import type { CurvesData } from '../../charts/curves-chart.ts';
import type { DifferencesData } from '../../charts/differences-chart.ts';
import type { EffectsData } from '../../charts/effects-chart.ts';
import { byInfluence, type InfluenceData, worthALook } from '../../charts/influence-chart.ts';
import type { KnowledgeData } from '../../charts/knowledge-chart.ts';
import type { MapData } from '../../charts/map-chart.ts';
import type { MissesData } from '../../charts/misses-chart.ts';
import type { ProfileData } from '../../charts/profile-chart.ts';
import type { ReachData } from '../../charts/reach-chart.ts';
import type { RoundsData } from '../../charts/rounds-chart.ts';
import type { SpentData } from '../../charts/spent-chart.ts';
import { toShares } from '../../charts/triangle/plane.ts';
import type { RegionData } from '../../charts/triangle/region-chart.ts';
import type { TriangleData } from '../../charts/triangle/triangle-chart.ts';
import { change, count, fewOf, figure, listed, score } from '../numbers.ts';

/*
 * What each chart says in a sentence that names its figures: for those who do not see the picture, and for everybody in
 * a hurry. Pages add how the picture is read.
 */

/** Which mixes lie nearest to the target, and how far off. */
export function profileSays({ attributes, mixes, points, kind }: ProfileData): string {
  const near = mixes
    .filter((mix) => mix !== 'reference')
    .flatMap((mix) => {
      const own = new Map(points.filter((one) => one.mix === mix).map((one) => [one.attribute, one.mean]));
      const far = distanceOf(attributes, (id) => own.get(id) ?? null);
      return far === null ? [] : [{ mix, far }];
    })
    .sort((a, b) => a.far - b.far)
    .slice(0, 2)
    .map(({ mix, far }, i) => `${mix} (${far.toFixed(1)}${i === 0 ? ' points of 100 away' : ''})`);
  if (near.length === 0)
    return `${count(mixes.length, 'mix', 'mixes')}; no question has a target to be held against.`;
  return `Nearest to the target as ${kind === 'tasted' ? 'tasted' : 'expected'}: ${listed(near)}.`;
}

/** Highest and lowest mix. */
export function differencesSays({ attribute, means }: Pick<DifferencesData, 'attribute' | 'means'>): string {
  const sorted = [...means].sort((a, b) => b.mean - a.mean);
  const [first, last] = [sorted[0], sorted.at(-1)];
  if (first === undefined || last === undefined) return 'Nothing has been scored.';
  const at = ({ mix, mean }: typeof first) => `${mix} at ${score(mean, attribute.scale)}`;
  return first === last ? `Alone: ${at(first)}.` : `Strongest: ${at(first)}; weakest: ${at(last)}.`;
}

/** The strongest effect that the panel can tell. */
export function effectsSays({ attributes, cells }: EffectsData): string {
  const strongest = cells
    .filter(({ tells }) => tells)
    .sort((a, b) => Math.abs(b.change) - Math.abs(a.change))[0];
  if (strongest === undefined) return 'The panel cannot yet tell what any component does.';
  const name = attributes.find(({ id }) => id === strongest.attribute)?.name ?? strongest.attribute;
  return `Strongest: from least to most ${strongest.component}, ${name} moves by ${change(strongest.change, 0)} % of its scale.`;
}

/** Which question moves most along the way, and from where to where. */
export function curvesSays({ component, attributes, points }: CurvesData): string {
  const ways = attributes.flatMap((attribute) => {
    const own = points.filter((one) => one.attribute === attribute.id).sort((a, b) => a.parts - b.parts);
    const [from, to] = [own[0], own.at(-1)];
    if (from === undefined || to === undefined) return [];
    const by = Math.abs(to.mean - from.mean) / (attribute.scale[1] - attribute.scale[0]);
    return [{ attribute, from, to, by }];
  });
  const most = ways.sort((a, b) => b.by - a.by)[0];
  if (most === undefined) return 'The scores do not say how anything moves.';
  const { attribute, from, to } = most;
  const at = ({ mean }: typeof from) => score(mean, attribute.scale);
  if (at(from) === at(to))
    return `From ${figure(from.parts)} to ${figure(to.parts)} parts of a hundred of ${component} no score moves.`;
  return (
    `From ${figure(from.parts)} to ${figure(to.parts)} parts of a hundred of ${component}, ` +
    `${attribute.name} moves most: from ${at(from)} to ${at(to)}.`
  );
}

/** The two mixes that lie nearest each other, the two farthest, and how much the map holds. */
export function mapSays({ mixes, explained }: MapData): string {
  const held = `The map holds ${Math.round(100 * (explained[0] + explained[1]))} in 100 of what differs.`;
  const pairs = mixes.flatMap((a, i) =>
    mixes
      .slice(i + 1)
      .map((b) => ({ names: `${a.mix} and ${b.mix}`, far: Math.hypot(a.x - b.x, a.y - b.y) })),
  );
  pairs.sort((a, b) => a.far - b.far);
  const [alike, apart] = [pairs[0], pairs.at(-1)];
  if (alike === undefined || apart === undefined || alike === apart) return held;
  return `Most alike lie ${alike.names}, least alike ${apart.names}. ${held}`;
}

/** The largest miss of a model. */
export function missesSays({ attributes, points }: Pick<MissesData, 'attributes' | 'points'>): string {
  const worst = points
    .flatMap((point) => {
      const attribute = attributes.find(({ id }) => id === point.attribute);
      if (attribute === undefined) return [];
      const by = Math.abs(point.tasted - point.expected) / (attribute.scale[1] - attribute.scale[0]);
      return [{ point, attribute, by }];
    })
    .sort((a, b) => b.by - a.by)[0];
  if (worst === undefined) return 'There is nothing to compare.';
  const { point, attribute } = worst;
  return `The largest miss is ${point.mix} on ${attribute.name}: ${change(point.tasted - point.expected, Math.max(1, scoreDecimals(attribute.scale)))} points beside what is expected.`;
}

/** The mix that moves the model most, how many lie beyond the bound, and those without which there is no model. */
export function influenceSays(data: InfluenceData): string {
  const rows = byInfluence(data.rows);
  const most = rows[0];
  const needed = data.rows.filter(({ shift, leverage }) => shift === null && leverage !== null);
  const names = needed.map(({ mix }) => mix);
  const without =
    needed.length === 0 ? '' : ` Without ${fewOf(names, 'or', 5)} the others would not tell the model.`;
  if (most === undefined) return `What each mix does to the model cannot be told.${without}`;
  const beyond = rows.filter(({ shift }) => Math.abs(shift) > worthALook(data)).length;
  return (
    `Most rests on ${most.mix}: it moves the model there by ${change(most.moves ?? 0, decimalsFor(most.moves ?? 0))} points, ` +
    `${change(most.shift, 2)} standard errors; ${Math.round(100 * (most.leverage ?? 0))} in 100 of what is known there it ` +
    `says by itself. ${beyond === 0 ? 'No mix lies' : `${count(beyond, 'mix lies', 'mixes lie')}`} beyond the dashed lines.${without}`
  );
}

/** The component of whose room the mixes use least. */
export function reachSays({ components, mixes }: ReachData): string {
  const used = components
    .flatMap(({ id, low, high }) => {
      const own = mixes.map(({ parts }) => parts[id] ?? 0);
      if (own.length === 0 || high <= low) return [];
      const [least, most] = [Math.min(...own), Math.max(...own)];
      return [{ id, low, high, least, most, share: (most - least) / (high - low) }];
    })
    .sort((a, b) => a.share - b.share)[0];
  if (used === undefined) return 'No mix is drawn.';
  const { id, low, high, least, most, share } = used;
  return (
    `${count(mixes.length, 'mix', 'mixes')}. Least of its room is used of ${id}: from ${figure(least)} to ${figure(most)} ` +
    `of the ${figure(low)} to ${figure(high)} parts of a hundred that are allowed (${Math.round(100 * share)} in 100).`
  );
}

/** The nearest mix so far. */
export function roundsSays({ points }: Pick<RoundsData, 'points'>): string {
  const nearest = [...points].sort((a, b) => a.distance - b.distance)[0];
  if (nearest === undefined) return 'Nothing has been tasted yet.';
  const { mix, distance, low, high } = nearest;
  // Where no score is left to tell how far scores vary, the ends coincide.
  const sure =
    low === high
      ? '; how sure that is cannot be told'
      : ` (between ${low.toFixed(1)} and ${high.toFixed(1)})`;
  return `Nearest so far as tasted: ${mix}, ${distance.toFixed(1)} points of 100 away${sure}.`;
}

/** Everything that was spent. */
export function spentSays({ rounds, currency }: Omit<SpentData, 'title'>): string {
  const sum = (of: (round: (typeof rounds)[number]) => number | null) =>
    rounds.reduce((total, round) => total + (of(round) ?? 0), 0);
  const priced = rounds.every(({ money }) => money !== null);
  const cups = count(
    sum((round) => round.cups),
    'cup',
  );
  const paid = sum((round) => round.money);
  const cost = priced ? `, ${money(paid, currency)}` : '';
  return (
    `In all ${sum(({ grams }) => grams).toFixed(1)} g of material as weighed${cost} and ${cups}.` +
    (priced ? '' : ' Money is not told, since a price is missing in the brief.')
  );
}

/** What the fewest and the most mixes would let the panel notice, and the plan itself. */
export function knowledgeSays({ points, own }: KnowledgeData): string {
  const sorted = [...points].sort((a, b) => a.mixes - b.mixes);
  const [fewest, most] = [sorted[0], sorted.at(-1)];
  if (fewest === undefined || most === undefined) return 'No size has been judged.';
  const at = ({ mixes, notices }: typeof fewest) =>
    `${notices.toFixed(1)} with ${count(mixes, 'mix', 'mixes')}`;
  const sizes = fewest === most ? at(fewest) : `${at(fewest)}, ${at(most)}`;
  const plan = own ? `; the plan below ${at(own)}` : '';
  return `The smallest difference the panel would notice four times in five, in points of 100: ${sizes}${plan}.`;
}

/** Lowest and highest of the surface, with the ratios where it is highest. */
export function triangleSays({ attribute, names, frame, mesh, means }: TriangleData): string {
  if (means.length === 0) return 'Nothing is allowed here.';
  const top = means.reduce((best, mean, i) => (mean > means[best]! ? i : best), 0);
  const shares = toShares(frame, mesh.points[top]!);
  const where = names.map((name, i) => `${name} ${(100 * shares[i]!).toFixed(0)}`);
  const low = score(Math.min(...means), attribute.scale);
  const high = score(means[top], attribute.scale);
  return `Between ${low} and ${high}, highest at ${listed(where)} parts of a hundred.`;
}

/** How many mixes are planned, held and made, and how much less sure the region is at its worst than at its best. */
export function regionSays({ mixes, variances }: Pick<RegionData, 'mixes' | 'variances'>): string {
  const of = (state: RegionData['mixes'][number]['state']) =>
    mixes.filter((mix) => mix.state === state).length;
  const kinds = (['planned', 'held', 'made'] as const)
    .filter((state) => of(state) > 0)
    .map((state) => `${of(state)} ${state}`);
  const lie = kinds.length === 0 ? 'No mix lies here.' : `Mixes here: ${listed(kinds)}.`;
  if (variances.length === 0) return lie;
  const times = Math.sqrt(Math.max(...variances) / Math.min(...variances));
  return `${lie} Where a prediction would be least sure its error is ${times.toFixed(1)} times that where it is surest.`;
}

/** One decimal, or as many as tell a small figure from nothing. */
function decimalsFor(value: number): number {
  return value === 0 ? 1 : Math.max(1, -Math.floor(Math.log10(Math.abs(value))));
}
