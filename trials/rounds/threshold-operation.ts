import { type LadderAnswers, ladderThreshold } from '../../engine/design/dose-ladder.ts';
import type { Brief } from '../schema/brief.ts';
import { ladderBound } from '../schema/ladder-bound.ts';
import { documentOf } from './documents.ts';

export interface ThresholdRequest {
  /** In mg per litre of drink, rising. */
  concentrations: readonly number[];
  answers: readonly LadderAnswers[];
  /** The brief and the component that a bound is wanted for. */
  bound?: { brief: Brief; component: string } | undefined;
  warnings?: readonly string[] | undefined;
}

/** The group's threshold from a ladder of doses (ASTM E679), and the bound of the brief that follows from it. */
export function thresholdOperation(request: ThresholdRequest) {
  const { concentrations, answers, bound } = request;
  const { warnings, ...found } = ladderThreshold(concentrations, answers);
  const result = {
    ...{ unit: 'mg/L', ...found },
    bound: bound === undefined ? null : ladderBound(bound.brief, bound.component, found.threshold),
    warnings,
  };
  return documentOf(request, { ...result, warnings: [...(request.warnings ?? []), ...warnings] });
}
