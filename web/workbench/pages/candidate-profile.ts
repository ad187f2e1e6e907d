import type { AimedAttribute } from '../../charts/aims.ts';
import type { ProfileData, ProfilePoint } from '../../charts/profile-chart.ts';
import type { NextResult, Predicted } from '../results.ts';

/** The best so far and the proposals as one profile against the target. */
export function candidateProfile(result: NextResult, attributes: readonly AimedAttribute[]): ProfileData {
  const all: [string, Record<string, Predicted>][] = [
    ['best so far', result.best.predicted],
    ...result.proposals.map(({ mix, predicted }): [string, Record<string, Predicted>] => [mix, predicted]),
  ];
  return {
    title: 'What each should taste like, beside the target',
    attributes,
    mixes: all.map(([mix]) => mix),
    points: all.flatMap(([mix, predicted]) => pointsOf(mix, predicted)),
    kind: 'predicted',
  };
}

function pointsOf(mix: string, predicted: Record<string, Predicted>): ProfilePoint[] {
  return Object.entries(predicted).flatMap(([attribute, { mean, interval }]) =>
    mean === null ? [] : [{ mix, attribute, mean, low: interval?.[0] ?? null, high: interval?.[1] ?? null }],
  );
}
