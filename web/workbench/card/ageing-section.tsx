import type { Card } from '../../../trials/schema/api.ts';

/** When the kept concentrate is to be tasted again. */
export function AgeingSection({ card }: { card: Card }) {
  if (card.ageing.length === 0) return null;
  const today = new Date().toISOString().slice(0, 10);
  return (
    <section>
      <h2>Taste it again as it ages</h2>
      <ul>
        {card.ageing.map(({ weeks, due }) => (
          <li key={weeks}>
            after {weeks} {weeks === 1 ? 'week' : 'weeks'}: {due}
            {due < today && <strong> due</strong>}
          </li>
        ))}
      </ul>
      <p class="soft">
        Keep one bottle closed and cold to compare with. Pour the reference or a fresh weighing in the same
        sitting: the reading then tells by itself what age does to the scores.
      </p>
    </section>
  );
}
