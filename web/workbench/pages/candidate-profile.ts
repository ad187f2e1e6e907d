import type { AimedAttribute } from '../../charts/aims.ts';
import type { ProfileData, ProfilePoint } from '../../charts/profile-chart.ts';
import type { Candidate, NextResult } from '../results.ts';

type Predicted = Candidate['predicted'];

/** The best so far and the proposals as one profile against the target. */
export function candidateProfile(result: NextResult, attributes: readonly AimedAttribute[]): ProfileData {
  const all: [string, Predicted][] = [
    ['best so far', result.best.predicted],
    ...result.proposals.map(({ mix, predicted }): [string, Predicted] => [mix, predicted]),
  ];
  return {
    title: 'What each should taste like, beside the target',
    attributes,
    mixes: all.map(([mix]) => mix),
    points: all.flatMap(([mix, predicted]) => pointsOf(mix, predicted)),
    kind: 'predicted',
  };
}

function pointsOf(mix: string, predicted: Predicted): ProfilePoint[] {
  return Object.entries(predicted).map(([attribute, { mean, interval }]) => ({
    mix,
    attribute,
    mean,
    low: interval[0],
    high: interval[1],
  }));
}
