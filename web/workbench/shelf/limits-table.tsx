import { useLoaded } from '../loaded.ts';
import { Await } from '../parts/await.tsx';
import { Table } from '../parts/table.tsx';
import { ask } from '../server.ts';

/** Legal limits, each with its source and whether it was verified. */
export function LimitsTable() {
  const [limits, again] = useLoaded('limits', () => ask('listLimits'));
  return (
    <Await of={limits} what="the limits" again={again}>
      {(rows) => (
        <Table
          caption="Legal limits"
          quietCaption
          rows={rows}
          columns={[
            { head: 'Substance', cell: ({ substance }) => substance },
            {
              head: 'Says',
              cell: ({ kind, limit, unit }) =>
                limit === null || kind.startsWith('banned') ? KINDS[kind] : `${KINDS[kind]} ${limit} ${unit}`,
            },
            { head: 'Where', cell: ({ jurisdiction, category }) => `${jurisdiction}: ${category}` },
            {
              head: 'Stands in',
              cell: ({ source, verified }) => (
                <>
                  {source}
                  {!verified && <strong> not verified</strong>}
                </>
              ),
            },
          ]}
        />
      )}
    </Await>
  );
}

const KINDS: Readonly<Record<string, string>> = {
  maximum: 'at most',
  banned: 'not permitted',
  'banned as such': 'not to be added as such',
  declared: 'declare above',
  told: 'see the source',
};
