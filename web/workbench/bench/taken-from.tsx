import type { LotView, ShelfView, TrialView } from '../../../trials/schema/api.ts';
import { kept } from '../kept.ts';
import { figure } from '../numbers.ts';
import { Choice } from '../parts/field.tsx';
import type { Pour } from './pours.ts';
import type { Bottle } from './weighing.ts';

/** Bottles of the shelf for each line: those it was weighed from, else those last used in this trial. */
export function lotsFor(trial: TrialView, bottle: Bottle): Readonly<Record<string, string>> {
  return { ...kept<Record<string, string>>(`lots:${trial.trial}`), ...bottle.lots };
}

/** Those that stand on the shelf, for the lines of a bottle, as they are sent; all, where the shelf has not been seen. */
export function lotsOf(
  bottle: Bottle,
  lots: Readonly<Record<string, string>>,
  shelf: ShelfView | null,
): Record<string, string> {
  const standing = shelf === null ? null : new Set(shelf.lots.map(({ lot }) => lot));
  const chosen = bottle.lines.flatMap(({ id }) => {
    const lot = lots[id] ?? '';
    return lot !== '' && (standing === null || standing.has(lot)) ? [[id, lot]] : [];
  });
  return Object.fromEntries(chosen) as Record<string, string>;
}

interface FromProps {
  shelf: ShelfView | null;
  trial: TrialView;
  pour: Pour;
  lot: string;
  change: (line: string, lot: string) => void;
}

/** Which bottle of the shelf a component is taken from; none where nothing is kept on the shelf. */
export function TakenFrom({ shelf, trial, pour, lot, change }: FromProps) {
  if (shelf === null || shelf.lots.length === 0) return null;
  const { line, add } = pour;
  const component = trial.brief.components.find(({ id }) => id === line.component)!;
  const chosen = shelf.lots.find((one) => one.lot === lot);
  const sorted = [...shelf.lots].sort((a, b) => Number(fits(b)) - Number(fits(a)));
  function fits({ material, grams }: LotView): boolean {
    return grams > 0 && (material === component.material || material === component.id);
  }
  return (
    <>
      <Choice
        label="Taken from"
        class="narrow-choice"
        value={chosen === undefined ? '' : lot}
        options={[
          ['', 'no bottle of the shelf'],
          ...sorted.map((one) => [one.lot, `${one.label}, ${figure(one.grams, 4)} g left`] as const),
        ]}
        change={(next) => change(line.id, next)}
      />
      {chosen !== undefined && <LotCares lot={chosen} add={add} strength={component.strength ?? 100} />}
    </>
  );
}

function LotCares({ lot, add, strength }: { lot: LotView; add: number; strength: number }) {
  const cares = [
    ...lot.warnings,
    ...(lot.grams < add ? [`only ${figure(lot.grams, 4)} g are left by its account`] : []),
    ...(Math.abs(lot.strength - strength) > 0.02 * strength
      ? [`it is ${figure(lot.strength, 4)} %, the brief says ${figure(strength, 4)} %`]
      : []),
  ];
  return cares.length === 0 ? null : <p class="small">Mind: {cares.join('; ')}.</p>;
}
