import type { RoundView } from '../../../trials/schema/api.ts';
import type { Brief } from '../../../trials/schema/brief.ts';
import type { RoundSpent } from '../../charts/spent-chart.ts';

/** What was weighed (each bottle once, stocks counted by what they hold) and poured, round by round. */
export function spentByRound(brief: Brief, rounds: readonly RoundView[]): RoundSpent[] {
  const priced = brief.components.every(({ pricePerGram }) => pricePerGram !== undefined);
  const seen = new Set<string>();
  return rounds.map(({ round, mixes, sittings }) => {
    const bottles = mixes.filter(({ blend, weighed, again }) => {
      if (again || weighed === null || seen.has(blend)) return false;
      seen.add(blend);
      return true;
    });
    const used = (id: string) => bottles.reduce((sum, { weighed }) => sum + gramsOf(weighed!, id), 0);
    const grams = brief.components.reduce((sum, { id }) => sum + used(id), 0);
    const money = brief.components.reduce(
      (sum, { id, pricePerGram = 0 }) => sum + pricePerGram * used(id),
      0,
    );
    const cups = sittings.reduce((sum, sitting) => sum + sitting.cups, 0);
    return { round, grams, money: priced ? money : null, cups };
  });
}

/** Grams of a component in what was weighed: a key `pepper@5` holds grams of a 5 % stock. */
function gramsOf(weighed: Readonly<Record<string, number>>, component: string): number {
  return Object.entries(weighed).reduce((sum, [key, value]) => {
    const [id, strength] = key.split('@');
    if (id !== component) return sum;
    return sum + (strength === undefined ? value : (value * Number(strength)) / 100);
  }, 0);
}
