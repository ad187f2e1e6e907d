import { chord, halfSpacesOf } from '../hit-and-run.ts';
import { type Evidence, type Method, plainMeans, type Recipe } from './baseline.ts';
import { candidateRecipes, centreRecipe, weighable } from './candidates.ts';
import { meanSquare, plainTargets } from './plain-aim.ts';
import { indexOfLeast } from './scaled-inputs.ts';

/** Random mixes, the best kept. */
export const randomMixes: Method = {
  name: 'random mixes',
  propose: (evidence, count, stream) => candidateRecipes(evidence, 4 * count, stream).slice(0, count),
  recommend: bestTasted,
};

/**
 * One component (or setting) at a time from the centre: the next one in turn goes up, then down, from the best mix
 * so far, the others giving way in proportion; each full turn halves the step.
 */
export const oneAtATime: Method = {
  name: 'one component at a time',
  propose(evidence, count, stream) {
    const from = evidence.made.length > 0 ? bestTasted(evidence) : centreRecipe(evidence, stream);
    const factors = evidence.world.space.components.length + evidence.world.space.settings.length;
    return Array.from({ length: count }, (_, i) => {
      const turn = evidence.made.length + i - 1;
      if (turn < 0) return from;
      const step = 0.7 * 0.5 ** Math.floor(turn / (2 * factors));
      return moved(evidence, from, {
        factor: Math.floor(turn / 2) % factors,
        by: turn % 2 === 0 ? step : -step,
      });
    });
  },
  recommend: bestTasted,
};

function bestTasted(evidence: Evidence): Recipe {
  const targets = plainTargets(evidence);
  const misses = evidence.made.map(({ mix }) => meanSquare(targets, plainMeans(evidence, mix)));
  return evidence.made[indexOfLeast(misses)]!;
}

/** Goes `by` of the way to the edge of the region along one factor. */
function moved(evidence: Evidence, from: Recipe, move: { factor: number; by: number }): Recipe {
  const { space, batch } = evidence.world;
  const q = space.components.length;
  if (move.factor >= q) return { ...from, settings: movedSettings(evidence, from, move) };
  const halves = halfSpacesOf(space);
  const rest = 1 - from.shares[move.factor]!;
  const direction = from.shares.map((share, i) => (i === move.factor ? 1 : -share / rest));
  const [back, forth] = chord(halves, from.shares, direction);
  for (const damping of [1, 0.9, 0.7, 0.4]) {
    const by = damping * Math.abs(move.by) * (move.by > 0 ? forth : back);
    const rounded = weighable(
      halves,
      from.shares.map((share, i) => share + by * direction[i]!),
      batch,
    );
    if (rounded) return { shares: rounded, settings: from.settings };
  }
  return from;
}

function movedSettings(evidence: Evidence, from: Recipe, move: { factor: number; by: number }): number[] {
  const { settings, components } = evidence.world.space;
  return settings.map(({ low, high }, s) => {
    if (s !== move.factor - components.length) return from.settings[s]!;
    const end = move.by > 0 ? high : low;
    return from.settings[s]! + Math.abs(move.by) * (end - from.settings[s]!);
  });
}
