import { createRandom } from '../../../engine/numeric/random.ts';
import { distanceOf } from '../../charts/aims.ts';
import type { RoundPoint } from '../../charts/rounds-chart.ts';
import { aimsOf } from './aims-of.ts';
import type { ReadingView } from './reading-view.ts';

const DRAWS = 400;

/**
 * How far each mix lay from the target as tasted, by the round it was made in. Intervals: the panel's averages, the
 * reference's among them, are drawn from normals of their own standard errors, attribute by attribute.
 */
export function roundDistances(view: ReadingView): RoundPoint[] {
  const random = createRandom(1, 'round distances');
  const all = view.trial.roundViews.flatMap(({ round, mixes }) =>
    mixes.filter(({ again }) => !again).flatMap(({ mix }) => distanceIn(view, mix, round, random.fork(mix))),
  );
  return all.map((point) => ({
    ...point,
    nearest: all.every((other) => other.round !== point.round || other.distance >= point.distance),
  }));
}

function distanceIn(
  view: ReadingView,
  mix: string,
  round: number,
  random: { normal(): number },
): RoundPoint[] {
  const meanOf = (name: string, attribute: string) =>
    view.panel.find(({ id }) => id === attribute)?.means.find((one) => one.mix === name);
  const plain = distanceOf(view.attributes, (id) => meanOf(mix, id)?.mean ?? null);
  if (plain === null) return [];
  const drawn = (name: string, id: string) => {
    const own = meanOf(name, id);
    return own === undefined ? null : own.mean + (own.standardError ?? 0) * random.normal();
  };
  const draws = Array.from({ length: DRAWS }, () => {
    const aims = aimsOf(view.trial.brief, (id) => drawn('reference', id));
    return distanceOf(aims, (id) => drawn(mix, id)) ?? plain;
  }).sort((a, b) => a - b);
  const at = (share: number) => draws[Math.floor(share * (DRAWS - 1))]!;
  return [{ mix, round, distance: plain, low: at(0.025), high: at(0.975), nearest: false }];
}
