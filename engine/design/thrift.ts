import { EngineError } from '../errors.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { Spot } from './candidate-table.ts';
import { type PolishedDesign, polishOnGrid } from './grid-polish.ts';
import type { GridSpot } from './grid-spot.ts';
import type { PlanProblem } from './plan-problem.ts';
import type { Thrift, ThriftTold } from './plan-types.ts';
import { spendRest } from './spend-rest.ts';

type Placed = Pick<PolishedDesign, 'spots' | 'weights'>;

/** Tolls that are tried, each halving the step between the dearest that keeps within the loss and the next. */
const TRIALS = 9;

/**
 * The cheapest design found that loses no more knowledge than is allowed: exchange on the balance's grid with a toll on
 * every share, score + λ Σ cost, for several λ (the method of Lagrange multipliers; Everett 1963), from each of the
 * designs that know most; of all within the loss the cheapest. What is
 * left of the loss is then spent move by move.
 *
 * @param designs the best of them is what the loss is counted from
 * @throws EngineError `bad-argument` where nothing is priced, or the loss is not between 0 and 1
 */
export function thriftier(
  problem: PlanProblem,
  designs: readonly PolishedDesign[],
  candidates: readonly GridSpot[],
): { design: PolishedDesign; told: ThriftTold } {
  const { thrift, space, batch } = problem.input as { thrift: Thrift } & PlanProblem['input'];
  const prices = pricesOf(space, thrift);
  const best = designs.reduce((a, b) => (b.score < a.score ? b : a));
  const p = problem.space.terms.length;
  const size = problem.criterion === 'determinant' ? p : best.score;
  const lostBy = (score: number) =>
    problem.criterion === 'determinant' ? Math.exp((score - best.score) / p) - 1 : score / best.score - 1;
  const costOf = ({ spots, weights }: Placed) =>
    batch.grams * spots.reduce((sum, spot, r) => sum + weights[r]! * priceOf(prices, spot), 0);
  const whole = costOf(best);
  const limit =
    problem.criterion === 'determinant'
      ? best.score + p * Math.log1p(thrift.loss)
      : best.score * (1 + thrift.loss);
  const tolled = ({ score, spots, weights }: PolishedDesign): PolishedDesign => {
    let cheapest: Placed = score <= limit ? { spots, weights } : best;
    let [low, high] = [thrift.loss / 64, thrift.loss * 64];
    for (let k = 0; k < TRIALS; k++) {
      const rate = Math.sqrt(low * high);
      const toll = prices.map((price) => (rate * size * price * batch.grams) / whole);
      const design = polishOnGrid(problem, { start: 0, score, spots, weights }, candidates, toll);
      const within = design.score <= limit;
      if (within && costOf(design) < costOf(cheapest)) cheapest = design;
      if (within) low = rate;
      else high = rate;
    }
    return spendRest(problem, cheapest, { candidates, limit, costOf: (spot) => priceOf(prices, spot) });
  };
  const found =
    whole > 0 ? [best, ...designs.map(tolled)].reduce((a, b) => (costOf(b) < costOf(a) ? b : a)) : best;
  const pinned = batch.grams * problem.pinned.reduce((sum, spot) => sum + priceOf(prices, spot), 0);
  return {
    design: found,
    told: {
      ...{ allowed: thrift.loss, lost: Math.max(0, lostBy(found.score)) },
      ...{ costBefore: tidy(whole + pinned), cost: tidy(costOf(found) + pinned) },
      spared: sparedBy(problem, best, found),
    },
  };
}

function pricesOf({ components }: BlendSpace, { loss, prices }: Thrift): number[] {
  if (!(loss > 0 && loss < 1)) throw new EngineError('bad-argument', 'thrift.loss', loss, 'above 0, below 1');
  const all = components.map(({ id }) => (Object.hasOwn(prices, id) ? prices[id]! : 0));
  if (!all.some((price) => price > 0))
    throw new EngineError('bad-argument', 'thrift.prices', prices, 'a price above 0 of some component');
  return all;
}

function priceOf(prices: readonly number[], { shares }: Spot): number {
  return prices.reduce((sum, price, i) => sum + price * shares[i]!, 0);
}

function sparedBy({ input }: PlanProblem, a: PolishedDesign, b: PolishedDesign): Record<string, number> {
  const grams = ({ spots, weights }: PolishedDesign, i: number) =>
    input.batch.grams * spots.reduce((sum, { shares }, r) => sum + weights[r]! * shares[i]!, 0);
  return Object.fromEntries(input.space.components.map(({ id }, i) => [id, tidy(grams(a, i) - grams(b, i))]));
}

function tidy(value: number): number {
  return Number(value.toPrecision(10));
}
