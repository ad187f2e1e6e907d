import type { Brief } from './brief.ts';
import { isCaution } from './caution-words.ts';

/** What some must not drink, by the words that give it away. Common practice, no published list. */
const ACTIVES = [
  {
    name: 'quinine',
    words: /(?<!\p{L})(quinine|tonic|cinchona)(?!\p{L})/iu,
    who: 'who is pregnant or was told by a doctor to avoid it',
  },
  {
    name: 'caffeine',
    words: /(?<!\p{L})(caffeine|coffee|guarana|mate|maté|tea|matcha|cola|kola)(?!\p{L})/iu,
    who: 'children, who is pregnant, or who sleeps badly after it',
  },
] as const;

/** What names speak of, with the word that gives it away. */
export function activesIn(names: readonly string[]): {
  name: 'quinine' | 'caffeine';
  who: string;
  found: string;
}[] {
  return ACTIVES.flatMap(({ name, words, who }) => {
    const found = names.map((one) => words.exec(one)?.[0]).find((word) => word !== undefined);
    return found === undefined ? [] : [{ name, who, found }];
  });
}

/**
 * Quinine and caffeine that a drink's or component's name speaks of, each in a sentence for the pouring page. Names
 * are all there is to go by: what no name tells is not found. Left out where the brief tells its tasters already, or has its own
 * words for what the drink's name makes plain.
 */
export function knownActives(
  brief: Pick<Brief, 'drink' | 'components' | 'cautions' | 'cautionWords'>,
): string[] {
  const drink = brief.drink?.name ?? '';
  const names = [
    drink,
    ...brief.components.flatMap(({ name, material = '' }) => [name, material.replaceAll('-', ' ')]),
  ];
  const told = brief.cautions.filter(({ to }) => to === 'taster').map(({ text }) => text);
  const worded = activesIn([drink]).filter(({ name }) => isCaution(brief.cautionWords?.[name] ?? ''));
  return activesIn(names)
    .filter(({ name }) => !told.some((text) => new RegExp(name, 'i').test(text)))
    .filter(({ name }) => !worded.some((one) => one.name === name))
    .map(
      ({ name, who, found }) =>
        `“${found}” may mean ${name}: say so before the first cup, it is not for ${who}; read the bottle, and write it into the brief’s cautions`,
    );
}
