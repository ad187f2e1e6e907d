import type { Reading } from '../../../trials/schema/api.ts';
import { change, listed } from '../numbers.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { Term } from '../parts/term.tsx';
import { inputOf, readOf } from '../results.ts';
import type { ReadingView } from './reading-view.ts';
import { inSentence } from './trust.ts';

interface Shift {
  mix: string;
  attribute: string;
  by: number;
}

/** With and without those who know the formula: what changes when their scores are left out. */
export function KnowingSection({ view, stored }: { view: ReadingView; stored: Reading }) {
  const { withoutKnowing } = readOf(stored);
  if (withoutKnowing === undefined) return null;
  const shifts = view.panel.flatMap(({ id, means }): Shift[] => {
    const other = withoutKnowing.panel.attributes.find((one) => one.id === id);
    return means.flatMap(({ mix, mean }) => {
      const without = other?.means.find((one) => one.mix === mix);
      return without === undefined ? [] : [{ mix, attribute: view.nameOf(id), by: without.mean - mean }];
    });
  });
  const largest = [...shifts].sort((a, b) => Math.abs(b.by) - Math.abs(a.by));
  const [first] = largest;
  const { knowing } = inputOf(stored);
  return (
    <section>
      <h3>With and without those who know the formula</h3>
      <p>
        {listed(knowing)} <Term is="knowing">{knowing.length === 1 ? 'knows' : 'know'} the formula</Term>.{' '}
        {first &&
          `Without their scores the largest change is ${change(first.by)} points, ${first.mix} on ${inSentence(first.attribute)}.`}
      </p>
      <Figures says="the ten largest changes">
        <Table
          caption="Change of the panel’s average when those who know the formula are left out"
          rows={largest.slice(0, 10)}
          columns={[
            { head: 'Mix', cell: ({ mix }) => mix },
            { head: 'Question', cell: ({ attribute }) => attribute },
            { head: 'points', number: true, cell: ({ by }) => change(by) },
          ]}
        />
      </Figures>
    </section>
  );
}
