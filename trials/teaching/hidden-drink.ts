import { demoBrief } from '../demo/demo-round-one.ts';
import { demoTasters } from '../demo/demo-tasters.ts';
import { DEMO_COMPONENTS, trueScores } from '../demo/demo-truth.ts';
import { namedStream } from '../demo/named-stream.ts';
import { simulateSitting } from '../demo/simulate-sitting.ts';

/** What every glass of the lesson is dosed with, in millilitres a litre. */
const DOSE = 0.25;

/** The grams of a drink that a class has to find: drawn from its number, on the balance's steps, within the brief. */
export function hiddenDrink(number: number): number[] {
  const { components, batch } = demoBrief();
  const stream = namedStream(number, 'hidden drink');
  const total = Math.round(batch.grams / batch.readability);
  for (;;) {
    const weights = components.map(() => -Math.log(1 - stream.uniform()));
    const sum = weights.reduce((a, b) => a + b, 0);
    const steps = weights.map((weight) => Math.round((total * weight) / sum));
    steps[0]! += total - steps.reduce((a, b) => a + b, 0);
    const inside = components.every(({ low, high }, k) => {
      const share = steps[k]! / total;
      return share >= low + 0.02 && share <= high - 0.02;
    });
    if (inside) return steps.map((step) => step * batch.readability);
  }
}

/** What the two drinks score truly, in the order of the brief's attributes. */
export function truthOf(grams: readonly number[]): number[] {
  const total = grams.reduce((a, b) => a + b, 0);
  return trueScores(
    grams.map((g) => g / total),
    DOSE,
  );
}

/** One invented taster's scores of both drinks; null where a question was left out. */
export interface PairScores {
  taster: string;
  yours: Readonly<Record<string, number | null>>;
  hidden: Readonly<Record<string, number | null>>;
}

/**
 * Lets the six invented tasters taste a mix beside the hidden drink, blind, every second one the mix first.
 * @param number which hidden drink
 * @param turn counts the tastings: the same turn gives the same scores
 */
export function tastePair(number: number, turn: number, grams: readonly number[]): PairScores[] {
  const byId = (list: readonly number[]) =>
    Object.fromEntries(DEMO_COMPONENTS.map((id, k) => [id, list[k]!]));
  const yours = `yours, tasting ${turn}`;
  const hidden = `hidden drink ${number}`;
  const tasters = demoTasters().map(({ name }) => name);
  const rows = simulateSitting({
    mixes: [
      { mix: yours, grams: byId(grams), dose: DOSE },
      { mix: hidden, grams: byId(hiddenDrink(number)), dose: DOSE },
    ],
    sittingLabel: `tasting ${turn}`,
    trays: tasters.map((assessor, k) => ({
      assessor,
      cups: (k % 2 === 0 ? [yours, hidden] : [hidden, yours]).map((mix) => ({ mix })),
    })),
    seed: number,
  });
  return tasters.map((taster) => {
    const of = (mix: string) => rows.find((row) => row.assessor === taster && row.mix === mix)!.scores;
    return { taster, yours: of(yours), hidden: of(hidden) };
  });
}
