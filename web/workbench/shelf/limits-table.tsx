import type { LimitView } from '../../../trials/schema/api.ts';
import { Table } from '../parts/table.tsx';
import { saysOf } from './limit-words.ts';

/** Legal limits, each with its source and whether it was verified. */
export function LimitsTable({ limits }: { limits: readonly LimitView[] }) {
  return (
    <Table
      caption="Legal limits"
      quietCaption
      rows={limits}
      columns={[
        { head: 'Substance', cell: ({ substance }) => substance },
        { head: 'Says', cell: saysOf },
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
  );
}
