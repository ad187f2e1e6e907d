import type { Weighing } from '../region/weighable.ts';

/** What a plan takes, before it is accepted. */
export interface PlanPrice {
  bottles: number;
  /** Masses put on the balance. */
  weighings: number;
  /** Grams of each component in all bottles together, whichever form it is weighed in. */
  grams: Record<string, number>;
  /** Grams of each stock. */
  stocks: { component: string; strength: number; grams: number }[];
  /** Null where a component that is used has no price. */
  money: number | null;
  /** Components that are used and have no price. */
  unpriced: string[];
  /** Cups poured for all tasters, hidden duplicates and the reference among them. */
  cups: number;
  cupsEach: number;
  /** Sittings of each taster. */
  sittings: number;
  /** Estimates for one person who weighs and pours, and for each taster. */
  minutes: { weighing: number; pouring: number; tastingEach: number };
}

export interface Panel {
  assessors: number;
  cupsPerSitting: number;
  replicates: number;
  /** The taste lingers: two minutes between cups. */
  lingers?: boolean | undefined;
}

export interface PricedMix {
  /** The bottle it is poured from. */
  blend: string;
  /** Grams of each component in the bottle. */
  grams: Readonly<Record<string, number>>;
  weigh?: readonly Weighing[] | undefined;
}

export interface PriceInput {
  mixes: readonly PricedMix[];
  prices: Readonly<Record<string, number>>;
  panel: Panel;
  /** Cups beside the mixes that each taster is given with every replicate: reference, hidden duplicate. */
  cupsBeside: number;
}

/** Common practice of a bench, no published source: what one step takes, in minutes. */
export const MINUTES = { bottle: 3, weighing: 1.5, cup: 0.5, taste: 1.5, pause: 1, lingeringPause: 2 };

/** Adds up a plan: bottles, grams of component and of stock, money, cups, sittings and minutes. */
export function priceOfPlan({ mixes, prices, panel, cupsBeside }: PriceInput): PlanPrice {
  const bottles = [...new Map([...mixes].reverse().map((mix) => [mix.blend, mix])).values()].reverse();
  const masses = new Map<string, number>();
  const stocks = new Map<string, { component: string; strength: number; grams: number }>();
  let weighings = 0;
  for (const bottle of bottles) {
    for (const [id, mass] of Object.entries(bottle.grams)) masses.set(id, tidy((masses.get(id) ?? 0) + mass));
    weighings += Object.values(bottle.grams).filter((mass) => mass > 0).length;
    for (const { component, strength, grams: mass } of bottle.weigh ?? []) {
      if (strength === 100 || mass === 0) continue;
      const key = `${component} ${strength}`;
      stocks.set(key, { component, strength, grams: tidy((stocks.get(key)?.grams ?? 0) + mass) });
    }
  }
  const used = [...masses.keys()].filter((id) => masses.get(id)! > 0);
  const unpriced = used.filter((id) => !Object.hasOwn(prices, id));
  const cupsEach = (mixes.length + cupsBeside) * panel.replicates;
  const pause = panel.lingers ? MINUTES.lingeringPause : MINUTES.pause;
  return {
    bottles: bottles.length,
    weighings,
    grams: Object.fromEntries(masses),
    stocks: [...stocks.values()],
    money:
      unpriced.length > 0 ? null : tidy(used.reduce((sum, id) => sum + masses.get(id)! * prices[id]!, 0)),
    unpriced,
    cups: cupsEach * panel.assessors,
    cupsEach,
    sittings: Math.ceil(cupsEach / panel.cupsPerSitting),
    minutes: {
      weighing: bottles.length * MINUTES.bottle + weighings * MINUTES.weighing,
      pouring: cupsEach * panel.assessors * MINUTES.cup,
      tastingEach: cupsEach * (MINUTES.taste + pause),
    },
  };
}

function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
