import { useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { keep, kept } from '../kept.ts';
import { grams, parts, readNumber } from '../numbers.ts';
import { Field } from '../parts/field.tsx';
import { Table } from '../parts/table.tsx';
import type { DeskState, Pin } from './desk-state.ts';
import { sharesOf } from './weighable.ts';

/** Parts, grams and drops side by side, pins beside them. */
export function DeskMasses({
  trial,
  state,
  pins,
}: {
  trial: TrialView;
  state: DeskState;
  pins: readonly Pin[];
}) {
  const [twenty, setTwenty] = useState(() => kept<string>('twenty-drops') ?? '');
  const drop = readNumber(twenty) === null ? null : readNumber(twenty)! / 20;
  const { components, batch } = trial.brief;
  const shares = sharesOf(state.steps);
  const rows = components.map((component, i) => ({
    ...component,
    i,
    mass: state.steps[i]! * batch.readability,
  }));
  return (
    <>
      <Table
        caption="What is on the desk"
        quietCaption
        rows={rows}
        columns={[
          { head: 'Component', cell: ({ name }) => name },
          { head: 'parts of 100', number: true, cell: ({ i }) => parts(shares[i]!) },
          { head: 'grams', number: true, cell: ({ mass }) => grams(mass, batch.readability) },
          {
            head: 'drops',
            number: true,
            cell: ({ mass }) => (drop === null || drop <= 0 ? '–' : (mass / drop).toFixed(0)),
          },
          ...pins.map((pin) => ({
            head: `${pin.name}, parts`,
            number: true,
            cell: ({ i }: { i: number }) => parts(sharesOf(pin.steps)[i]!),
          })),
        ]}
      />
      <Field
        label="Twenty drops of yours weigh"
        class="narrow lone"
        number
        unit="g"
        value={twenty}
        change={(value) => {
          setTwenty(value);
          keep('twenty-drops', value);
        }}
        help="Drops differ by dropper: weigh twenty, and they stand above."
      />
    </>
  );
}
