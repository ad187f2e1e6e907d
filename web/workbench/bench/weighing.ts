import type { RoundMix, RoundView, TrialView } from '../../../trials/schema/api.ts';

/** A bottle to be weighed once, and the mixes that are poured from it. */
export interface Bottle {
  blend: string;
  mixes: string[];
  /** In the order of pouring. */
  lines: WeighLine[];
  weighed: Record<string, number> | null;
  /** Bottles of the shelf that it was weighed from. */
  lots: Record<string, string>;
  why: string;
  note: string;
}

export interface WeighLine {
  /** The component, or `pepper@5` for a 5 % stock of it. */
  id: string;
  component: string;
  name: string;
  planned: number;
}

type Of = Pick<TrialView, 'brief'> & Partial<Pick<TrialView, 'pouring'>>;

/** The bottles to weigh in a round, in the order of its mixes; those of earlier rounds stand already. */
export function bottlesOf(trial: Of, round: RoundView, earlier: readonly RoundView[]): Bottle[] {
  const standing = new Set(earlier.flatMap(({ mixes }) => mixes.map(({ blend }) => blend)));
  const bottles = new Map<string, Bottle>();
  for (const mix of round.mixes) {
    if (mix.again || standing.has(mix.blend)) continue;
    const known = bottles.get(mix.blend);
    if (known) known.mixes.push(mix.mix);
    else bottles.set(mix.blend, bottleOf(trial, mix));
  }
  return [...bottles.values()];
}

function bottleOf({ brief, pouring = {} }: Of, mix: RoundMix): Bottle {
  const rank = ({ component }: WeighLine) => pouring[component] ?? 2;
  const { blend, weighed, lots, why, note } = mix;
  const lines = brief.components
    .flatMap(({ id, name }) => linesOf(mix, id, name))
    .sort((a, b) => rank(a) - rank(b) || b.planned - a.planned);
  return { blend, mixes: [mix.mix], lines, weighed, lots, why, note };
}

/** A component as it is weighed: as named, or as the stock that stands in for it; as it was, where it was. */
function linesOf({ planned, weighed }: RoundMix, component: string, name: string): WeighLine[] {
  const stock = planned.weigh?.find((one) => one.component === component && one.strength < 100);
  const plan: WeighLine = stock
    ? {
        id: `${component}@${stock.strength}`,
        component,
        name: `${name}, stock of ${stock.strength} %`,
        planned: stock.grams,
      }
    : { id: component, component, name, planned: planned.grams[component] ?? 0 };
  const was = Object.keys(weighed ?? {}).filter(
    (key) => key.split('@')[0] === component && key !== plan.id && weighed![key]! > 0,
  );
  const others = was.map((id) => ({ id, component, name: `${name} (${id})`, planned: 0 }));
  return [plan, ...others].filter(({ id, planned: grams }) => grams > 0 || (weighed?.[id] ?? 0) > 0);
}

/** Sums and differences of hundredths without the dust of binary fractions. */
export function tidy(value: number): number {
  return Number(value.toFixed(6));
}
