import type { PouringSheet } from '../../trials/schema/api.ts';

type Question = PouringSheet['questions'][number];

/** The same scales begun further on for each next seat, as on the phones; what is asked beside them stays behind. */
export function fromPlace(questions: readonly Question[], place: number): Question[] {
  const isAside = ({ form }: Question) => form === 'describe' || form === 'ranking';
  const scales = questions.filter((one) => !isAside(one));
  const start = place % Math.max(1, scales.length);
  return [...scales.slice(start), ...scales.slice(0, start), ...questions.filter(isAside)];
}
