import type { LikingReading } from '../../../engine/panel/map/liking-with.ts';
import { listed, probability } from '../numbers.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { inSentence } from './trust.ts';

/** With what liking rises and falls over the mixes; it says that they go together, not that one makes the other. */
export function LikingSection({ liking, nameOf }: { liking: LikingReading; nameOf: (id: string) => string }) {
  const sure = liking.with.filter(({ p }) => p !== null && p < 0.05);
  const names = (sign: 1 | -1) =>
    sure.filter(({ correlation }) => sign * correlation! > 0).map(({ id }) => inSentence(nameOf(id)));
  const parts = [
    { words: 'rises with', names: names(1) },
    { words: 'falls with', names: names(-1) },
  ].filter(({ names: found }) => found.length > 0);
  return (
    <section>
      <h2>What goes with liking</h2>
      <p>
        {parts.length === 0
          ? 'Over these mixes liking goes clearly with none of the other questions.'
          : `Over these mixes liking ${parts.map(({ words, names: found }) => `${words} ${listed(found)}`).join(' and ')}. They go together; that does not say that one makes the other.`}
      </p>
      <Figures says="question by question">
        <Table
          caption={`Correlation of the mixes’ means with ${inSentence(nameOf(liking.of))}`}
          rows={liking.with}
          columns={[
            { head: 'Question', cell: ({ id }) => nameOf(id) },
            { head: 'correlation', value: ({ correlation }) => correlation, digits: 2 },
            {
              head: 'from',
              value: ({ interval }) => interval?.[0],
              digits: 2,
            },
            { head: 'to', value: ({ interval }) => interval?.[1], digits: 2 },
            { head: 'p', number: true, cell: ({ p }) => probability(p) },
          ]}
        />
      </Figures>
    </section>
  );
}
