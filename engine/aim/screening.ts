import { onScale } from '../model/chance.ts';
import type { ScorePrediction } from '../model/posterior-types.ts';
import type { Attribute } from '../panel/observations.ts';
import { aimedAt, missOf, scaleLength, type Yardstick } from './target-miss.ts';

/** What a first look says of a point, without joint draws. */
export interface Screened {
  /** Root of the expected mean square miss. */
  expected: number;
  /** Distance if every attribute came out one and a half standard errors better than predicted. */
  hopeful: number;
}

const HOPE = 1.5;

/**
 * Screens points by their predictions alone. The yardsticks of `most` and `least` are the best predictions among
 * the points themselves.
 * @param reference expected scores of the reference by place on the ballot
 */
export function screen(
  attributes: readonly Attribute[],
  predictions: readonly ScorePrediction[],
  reference: readonly (number | null)[],
): Screened[] {
  const aimed = aimedAt(attributes).map((aim) => {
    const { mean } = predictions[aim.place]!;
    const scores = Array.from(mean, (score) => onScale(aim.attribute, score));
    const yardstick: Yardstick = {
      reference: reference[aim.place] ?? null,
      least: scores.reduce((a, b) => Math.min(a, b), Infinity),
      most: scores.reduce((a, b) => Math.max(a, b), -Infinity),
    };
    return { ...aim, yardstick };
  });
  const total = aimed.reduce((sum, { attribute }) => sum + attribute.weight, 0);
  const points = predictions[0]?.mean.length ?? 0;
  return Array.from({ length: points }, (_, i) => {
    let expected = 0;
    let hopeful = 0;
    for (const { attribute, place, target, yardstick } of aimed) {
      const { mean, standardError } = predictions[place]!;
      const miss = Math.abs(missOf(target, onScale(attribute, mean[i]!), yardstick));
      const percent = 100 / scaleLength(attribute);
      expected += attribute.weight * percent ** 2 * (miss ** 2 + standardError[i]! ** 2);
      hopeful += attribute.weight * (percent * Math.max(0, miss - HOPE * standardError[i]!)) ** 2;
    }
    return { expected: Math.sqrt(expected / total), hopeful: Math.sqrt(hopeful / total) };
  });
}
