import { type PairedGap, pairedGap } from '../../../engine/panel/paired-gap.ts';
import { namedStream, shuffled } from '../../../trials/demo/named-stream.ts';

/** Which of the two drinks. */
export type Drink = 'first' | 'second';

/** One taster's two blind cups in the order of tasting. */
export interface BlindTray {
  taster: string;
  cups: readonly { code: string; drink: Drink }[];
}

/**
 * Draws the blind cups: no code twice, and every second taster of a drawn order begins with the other drink.
 * @param seed fixes codes and orders
 */
export function drawBlindTrays(tasters: readonly string[], seed: number): BlindTray[] {
  const stream = namedStream(seed, 'open and blind');
  const codes = new Set<string>();
  while (codes.size < 2 * tasters.length) codes.add(String(100 + Math.floor(900 * stream.uniform())));
  const list = [...codes];
  const begins = shuffled(
    tasters.map((_, k): Drink => (k % 2 === 0 ? 'first' : 'second')),
    stream,
  );
  return tasters.map((taster, k) => {
    const drinks: Drink[] = begins[k] === 'first' ? ['first', 'second'] : ['second', 'first'];
    return { taster, cups: drinks.map((drink, c) => ({ code: list[2 * k + c]!, drink })) };
  });
}

/** Scores by what they were typed beside: `taster code` blind, `taster first` and `taster second` openly. */
export type Typed = Readonly<Record<string, number | null>>;

export function scoreKey(taster: string, cup: string): string {
  return JSON.stringify([taster, cup]);
}

/** The gap between the two drinks, blind and openly, and what knowing did to it. */
export interface OpenBlind {
  blind: PairedGap;
  open: PairedGap;
  /** Open gap minus blind gap, taster by taster. */
  knowing: PairedGap;
}

export function readOpenBlind(trays: readonly BlindTray[], typed: Typed): OpenBlind {
  const scores = trays.map(({ taster, cups }) => {
    const blind = (drink: Drink) =>
      typed[scoreKey(taster, cups.find((cup) => cup.drink === drink)!.code)] ?? null;
    const open = (drink: Drink) => typed[scoreKey(taster, drink)] ?? null;
    return { blind: [blind('first'), blind('second')], open: [open('first'), open('second')] } as const;
  });
  const gap = ([a, b]: readonly [number | null, number | null]) => (a === null || b === null ? null : a - b);
  const pick = (way: 'blind' | 'open', at: 0 | 1) => scores.map((one) => one[way][at]);
  return {
    blind: pairedGap(pick('blind', 0), pick('blind', 1)),
    open: pairedGap(pick('open', 0), pick('open', 1)),
    knowing: pairedGap(
      scores.map(({ open }) => gap(open)),
      scores.map(({ blind }) => gap(blind)),
    ),
  };
}

/** Scores of invented tasters for whom the two drinks are the same, and who like what they are told is dear. */
export function inventedScores(trays: readonly BlindTray[], seed: number): Record<string, number> {
  const typed: Record<string, number> = {};
  for (const { taster, cups } of trays) {
    const stream = namedStream(seed, 'open and blind', taster);
    const level = 55 + stream.normal(8);
    const faith = 20 + stream.normal(4);
    const mark = (at: number) => Math.min(100, Math.max(0, Math.round(at + stream.normal(5))));
    for (const { code } of cups) typed[scoreKey(taster, code)] = mark(level);
    typed[scoreKey(taster, 'first')] = mark(level + faith / 2);
    typed[scoreKey(taster, 'second')] = mark(level - faith / 2);
  }
  return typed;
}
