import { useState } from 'preact/hooks';
import { calibrateDrops, type DropSize, type DropWeighing } from '../../../engine/bench/drops.ts';
import type { TrialView } from '../../../trials/schema/api.ts';
import { keep, kept } from '../kept.ts';
import { figure, readNumber } from '../numbers.ts';
import { Choice, Field } from '../parts/field.tsx';
import { Figures } from '../parts/page.tsx';
import type { Bottle } from './weighing.ts';

type Trial = Pick<TrialView, 'trial' | 'brief'>;

function keyOf({ trial }: Trial, line: string): string {
  return `drops:${trial}:${line}`;
}

/** Grams of a drop of a line's bottle, where it has been weighed on this computer. */
export function dropGramsOf(trial: Trial, line: string): number | null {
  return sizeOf(trial, kept<DropWeighing[]>(keyOf(trial, line)) ?? [])?.gramsPerDrop ?? null;
}

function sizeOf({ brief }: Trial, weighings: readonly DropWeighing[]): DropSize | null {
  if (weighings.length === 0) return null;
  return calibrateDrops(weighings, brief.batch);
}

/** What a drop of each bottle weighs: twenty drops on the balance, as often as one likes. */
export function DropsPanel({
  trial,
  bottle,
  changed,
}: {
  trial: Trial;
  bottle: Bottle;
  changed: () => void;
}) {
  const [line, setLine] = useState(bottle.lines[0]?.id ?? '');
  const [drops, setDrops] = useState('20');
  const [mass, setMass] = useState('');
  const [fault, setFault] = useState<string | undefined>(undefined);
  const weighings = kept<DropWeighing[]>(keyOf(trial, line)) ?? [];
  const put = (next: DropWeighing[]) => {
    keep(keyOf(trial, line), next.length === 0 ? null : next);
    changed();
  };
  const add = (event: Event) => {
    event.preventDefault();
    const counted = readNumber(drops);
    const grams = readNumber(mass);
    if (counted === null || !Number.isInteger(counted) || counted < 1)
      return setFault('A whole number of drops.');
    if (grams === null || grams <= 0) return setFault('What they weighed together, above 0.');
    setFault(undefined);
    setMass('');
    put([...weighings, { drops: counted, grams }]);
  };
  if (bottle.lines.length === 0) return null;
  return (
    <Figures says="Weigh the drops of a bottle">
      <p class="soft">
        No drop is like another: tip, liquid and hand decide. Let twenty fall on the balance, three times if
        you can.
      </p>
      <form class="fields" onSubmit={add} noValidate aria-label="Weigh the drops of a bottle">
        <Choice
          label="Bottle of"
          value={line}
          options={bottle.lines.map(({ id, name }) => [id, name] as const)}
          change={setLine}
        />
        <Field label="Drops" number value={drops} change={setDrops} />
        <Field label="Together" unit="g" number value={mass} change={setMass} fault={fault} />
        <p>
          <button type="submit">Note it</button>
        </p>
      </form>
      <DropWords size={sizeOf(trial, weighings)} times={weighings.length} forget={() => put([])} />
    </Figures>
  );
}

function DropWords({ size, times, forget }: { size: DropSize | null; times: number; forget: () => void }) {
  if (size === null) return <p role="status">Not weighed yet.</p>;
  const spread =
    size.spread === null
      ? 'weigh them again to see how far it varies'
      : `varying by ${figure(1000 * size.spread, 2)} mg between weighings`;
  return (
    <p role="status">
      A drop weighs {figure(1000 * size.gramsPerDrop)} mg, known to {figure(100 * size.relativeError, 2)} %,{' '}
      {spread} ({times} {times === 1 ? 'weighing' : 'weighings'}).{' '}
      <button type="button" class="quiet small" onClick={forget}>
        forget them
      </button>
    </p>
  );
}
