import type { Brief } from '../../../trials/schema/brief.ts';
import { money as inMoney } from '../../../trials/schema/money.ts';
import { count } from '../numbers.ts';

interface Priced {
  mix: string;
  /** The bottle it comes from; its own by default. */
  blend?: string;
  grams: Record<string, number>;
  again?: boolean;
}

/** Bottles, grams, money where every price is known, and cups, before anything is accepted. */
export function priceOf(brief: Brief, mixes: readonly Priced[]): string {
  const fresh = mixes.filter(({ again }) => !again);
  const bottles = [...new Map(fresh.map((mix) => [mix.blend ?? mix.mix, mix])).values()];
  const total = (id: string) => bottles.reduce((sum, mix) => sum + (mix.grams[id] ?? 0), 0);
  const all = brief.components.reduce((sum, { id }) => sum + total(id), 0);
  const priced = brief.components.every(({ pricePerGram }) => pricePerGram !== undefined);
  const money = brief.components.reduce((sum, { id, pricePerGram = 0 }) => sum + total(id) * pricePerGram, 0);
  const cups = mixes.length * brief.panel.assessors * brief.panel.replicates;
  const said = [
    count(bottles.length, 'bottle'),
    `${all.toFixed(1)} g of material`,
    ...(priced ? [inMoney(money, brief.currency)] : []),
    `${count(cups, 'cup')} for ${count(brief.panel.assessors, 'taster')}`,
  ];
  return `${said.join(', ')}.`;
}
