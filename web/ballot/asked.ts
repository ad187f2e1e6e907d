import type { AnswerValue, BallotView } from '../../trials/schema/ballot.ts';

/** A question with the cup it is asked about and what has been answered, undefined = nothing yet. */
export interface Asked {
  code: string;
  question: BallotView['questions'][number];
  value: AnswerValue | undefined;
}
