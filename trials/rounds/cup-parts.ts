import type { CupRecord, Question } from '../store/records.ts';

/** What a taster answers at once: one cup, or the set of a difference test. */
export interface Part {
  part: number;
  cups: CupRecord[];
}

/** Cups as they are answered, taster by taster in the order of tasting. */
export function partsOf(cups: readonly CupRecord[]): Part[] {
  const parts: Part[] = [];
  for (const cup of cups) {
    const last = parts.at(-1);
    const same = last?.part === cup.part && last.cups[0]!.assessor === cup.assessor;
    if (cup.part !== null && last && same) last.cups.push(cup);
    else parts.push({ part: cup.part ?? cup.position, cups: [cup] });
  }
  return parts;
}

/** Whether a question is asked once about all cups rather than about each. */
export function isRanking({ form }: Question): boolean {
  return form === 'ranking';
}

/** Ids of questions that are asked about all cups at the end. */
export function rankingIds(questions: readonly Question[]): string[] {
  return questions.filter(isRanking).map(({ id }) => id);
}
