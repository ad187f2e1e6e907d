import type { AsideReading, RankingReading, WordsReading } from '../../../engine/panel/asides/aside-types.ts';
import { count, figure, probability } from '../numbers.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';

interface SectionProps {
  asides: readonly AsideReading[];
  nameOf: (aside: string) => string;
}

/** What was asked beside the scales: orders of cups and words for them. */
export function AsidesSection({ asides, nameOf }: SectionProps) {
  if (asides.length === 0) return null;
  return (
    <section>
      <h2>What was asked beside the scales</h2>
      {asides.map((aside) =>
        aside.form === 'ranking' ? (
          <OrderPart key={aside.id} order={aside} name={nameOf(aside.id)} />
        ) : (
          <WordsPart key={aside.id} said={aside} name={nameOf(aside.id)} />
        ),
      )}
    </section>
  );
}

function OrderPart({ order, name }: { order: RankingReading; name: string }) {
  const { says, mixes, test, concordance, orders, warnings } = order;
  return (
    <>
      <h3>In order: {name}</h3>
      <p>{[says, ...warnings.map((warning) => `${sentence(warning)}.`)].join(' ')}</p>
      {mixes.length > 0 && (
        <Table
          caption={`Mixes from the most to the least, ${count(orders, 'order')} read`}
          rows={mixes}
          columns={[
            { head: 'Mix', cell: ({ mix }) => mix },
            {
              head: 'place, 0 last to 100 first',
              number: true,
              cell: ({ height }) => Math.round(100 * height),
            },
            { head: 'orders', number: true, cell: ({ ballots }) => ballots },
          ]}
        />
      )}
      {test.p !== null && (
        <Figures says="the test">
          <p class="small">
            Friedman’s chi-square on {test.df}: {figure(test.statistic)}, p {probability(test.p)}
            {test.pExact === null ? '' : `, counted out ${probability(test.pExact)}`}
            {concordance === null ? '' : `; concordance ${figure(concordance, 2)} of 1`}.
          </p>
        </Figures>
      )}
    </>
  );
}

function WordsPart({ said, name }: { said: WordsReading; name: string }) {
  const { says, words, mixes, warnings } = said;
  return (
    <>
      <h3>In words: {name}</h3>
      <p>{[says, ...warnings.map((warning) => `${sentence(warning)}.`)].join(' ')}</p>
      {words.length > 0 && (
        <Table
          caption="How many tasters used each word; p that it is used alike for all mixes"
          rows={words}
          columns={[
            { head: 'Word', cell: ({ word }) => word },
            ...mixes.map((mix, at) => ({
              head: mix,
              number: true,
              cell: ({ counts }: (typeof words)[number]) => counts[at],
            })),
            { head: 'p', number: true, cell: ({ p }) => probability(p) },
          ]}
        />
      )}
    </>
  );
}

function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
