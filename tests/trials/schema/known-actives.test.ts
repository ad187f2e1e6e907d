import { expect, test } from 'vitest';
import { knownActives } from '../../../trials/schema/known-actives.ts';
import { smallBrief } from '../../support/small-trial.ts';

const inDrink = (name: string, cautions: object[] = []) => {
  const brief = smallBrief();
  return knownActives({ ...brief, drink: { ...brief.drink!, name }, cautions: cautions as never });
};

test.each([
  ['gin and tonic water', /quinine/],
  ['cold brew coffee', /caffeine/],
  ['yerba maté', /caffeine/],
])('%s is spoken of before anybody drinks it', (name, active) => {
  expect(inDrink(name)).toEqual([expect.stringMatching(active)]);
});

test('other drinks, and words that only look alike, are not', () => {
  expect(['soda water', 'steamed milk', 'tomatoes'].flatMap((name) => inDrink(name))).toEqual([]);
});

test('a component tells it too, by name or by material', () => {
  const brief = smallBrief();
  const [first, ...others] = brief.components;
  const bark = { ...brief, components: [{ ...first!, material: 'cinchona-extract' }, ...others] };
  expect(knownActives(bark)).toEqual([expect.stringContaining('“cinchona” may mean quinine')]);
});

test('what the tasters are told already is not said twice; what only the bench is told is', () => {
  const says = (to: string) => [{ to, text: 'Holds quinine: not in pregnancy.' }];
  expect(inDrink('tonic', says('taster'))).toEqual([]);
  expect(inDrink('tonic', says('bench'))).toHaveLength(1);
});
