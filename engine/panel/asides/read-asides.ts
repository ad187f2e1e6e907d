import { WARMUP } from '../observations.ts';
import type { AsideAnswer, AsideQuestion, AsideReading } from './aside-types.ts';
import { readRanking } from './read-ranking.ts';
import { readWords } from './read-words.ts';

/** Reads what was asked beside the scales; it enters no model of the ratios. Warm-ups and those set aside stay out. */
export function readAsides(
  questions: readonly AsideQuestion[],
  answers: readonly AsideAnswer[],
  setAside: readonly string[] = [],
): AsideReading[] {
  const heard = answers.filter(({ mix, assessor }) => mix !== WARMUP && !setAside.includes(assessor));
  return questions.map((question) => {
    const own = heard.filter((answer) => answer.question === question.id);
    return question.form === 'ranking' ? readRanking(question, own) : readWords(question, own);
  });
}
