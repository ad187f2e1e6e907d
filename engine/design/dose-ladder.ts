import { EngineError } from '../errors.ts';

/** One assessor's answers up a ladder of concentrations, weakest first: whether the odd cup was found. */
export interface LadderAnswers {
  assessor: string;
  correct: readonly boolean[];
}

export interface LadderThreshold {
  individual: { assessor: string; threshold: number }[];
  /** Geometric mean of the individual ones. */
  threshold: number;
  /** Standard deviation of their logarithms to base 10; null with one assessor. */
  logDeviation: number | null;
  warnings: string[];
}

/**
 * Best estimates of thresholds from ascending three-cup tests (ASTM E679-19): each assessor's is the geometric mean of
 * the highest concentration missed and the next higher one; for who misses the highest or misses none, the ladder is
 * thought on by its own step. The group's is the geometric mean of these.
 *
 * @param concentrations above 0, rising, by about the same factor
 * @throws EngineError `bad-argument`
 */
export function ladderThreshold(
  concentrations: readonly number[],
  answers: readonly LadderAnswers[],
): LadderThreshold {
  checkLadder(concentrations, answers);
  const n = concentrations.length;
  const below = concentrations[0]! ** 2 / concentrations[1]!;
  const above = concentrations[n - 1]! ** 2 / concentrations[n - 2]!;
  const rungs = [below, ...concentrations, above];
  const individual = answers.map(({ assessor, correct }) => {
    const missed = correct.lastIndexOf(false);
    return { assessor, threshold: Math.sqrt(rungs[missed + 1]! * rungs[missed + 2]!) };
  });
  const logs = individual.map(({ threshold }) => Math.log10(threshold));
  const mean = logs.reduce((a, b) => a + b, 0) / logs.length;
  const squares = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0);
  const beyond = answers.filter(({ correct }) => correct.every((c) => c) || !correct.at(-1)).length;
  return {
    individual,
    threshold: 10 ** mean,
    logDeviation: logs.length > 1 ? Math.sqrt(squares / (logs.length - 1)) : null,
    warnings:
      beyond > 0
        ? [
            `${beyond} of ${answers.length} lie beyond an end of the ladder: their own thresholds are guesses.`,
          ]
        : [],
  };
}

function checkLadder(concentrations: readonly number[], answers: readonly LadderAnswers[]): void {
  const rising = concentrations.every(
    (c, k) => c > (k === 0 ? 0 : concentrations[k - 1]!) && Number.isFinite(c),
  );
  if (concentrations.length < 2 || !rising)
    throw new EngineError('bad-argument', 'concentrations', concentrations, 'two or more above 0, rising');
  if (answers.length === 0) throw new EngineError('bad-argument', 'answers', 0, 'at least one assessor');
  const odd = answers.find(({ correct }) => correct.length !== concentrations.length);
  if (odd !== undefined)
    throw new EngineError(
      'bad-argument',
      `answers of ${odd.assessor}`,
      odd.correct.length,
      `${concentrations.length}, one a concentration`,
    );
}
