import { useState } from 'preact/hooks';
import type { RoundView, ShelfView, TrialView } from '../../../trials/schema/api.ts';
import { keep, kept } from '../kept.ts';
import { figure, grams } from '../numbers.ts';
import { Trouble } from '../parts/await.tsx';
import { Choice } from '../parts/field.tsx';
import { Care } from '../parts/page.tsx';
import { offerUndo } from '../parts/undo.tsx';
import { stepAddress } from '../routes.ts';
import { materialName, useMaterials } from '../shelf/known-materials.ts';
import { BottleLines } from './bottle-lines.tsx';
import { DropsPanel, dropGramsOf } from './drops-panel.tsx';
import { OneLine } from './one-line.tsx';
import {
  growth,
  inside,
  nextPour,
  type Pours,
  type Showing,
  withCorrection,
  withoutLine,
  withPoured,
} from './pours.ts';
import { lotsFor, lotsOf, TakenFrom } from './taken-from.tsx';
import type { Bottle } from './weighing.ts';
import { keepPours, nextBottle, parcelFor, poursOf, sendWhole } from './whole-bottles.ts';

interface BottleProps {
  trial: TrialView;
  round: RoundView;
  bottle: Bottle;
  bottles: readonly Bottle[];
}

const SHOWINGS = [
  ['total', 'the growing total, set to zero once'],
  ['each', 'one component, set to zero before each'],
] as const;

/** One bottle, poured line by line; what is typed is kept on this computer until the bottle is whole. */
export function BottleWeighing({
  trial,
  round,
  bottle,
  bottles,
  shelf,
}: BottleProps & { shelf: ShelfView | null }) {
  const [pours, setPours] = useState<Pours>(() => poursOf(trial, round, bottle));
  const [showing, setShowing] = useState<Showing>(() => kept<Showing>('showing') ?? 'total');
  const [lots, setLots] = useState(() => lotsFor(trial, bottle));
  const [, redraw] = useState(0);
  const pour = nextPour(bottle, pours);

  const trouble = parcelFor(trial, round, bottle)?.trouble ?? null;
  const send = (whole: Pours, takeOff = true) =>
    sendWhole(trial, round, bottle, { pours: whole, lots: takeOff ? lotsOf(bottle, lots, shelf) : {} });
  const note = (next: Pours) => {
    setPours(next);
    keepPours(trial, round, bottle, next);
  };
  const take = (mass: number, correct: boolean) => {
    if (pour === null) return;
    const before = pours;
    const poured = withPoured(pours, pour, mass);
    const next = correct ? withCorrection(bottle, poured, trial.brief.batch.readability) : poured;
    note(next);
    if (nextPour(bottle, next) === null) send(next);
    offerUndo(
      `${bottle.blend}: ${pour.line.name} ${grams(mass, trial.brief.batch.readability)} g noted.`,
      () => {
        note(before);
        location.hash = stepAddress(trial.trial, round.round, 'weigh', { bottle: bottle.blend });
      },
    );
  };
  const takeFrom = (line: string, lot: string) => {
    const next = { ...lots, [line]: lot };
    setLots(next);
    keep(`lots:${trial.trial}`, { ...kept<Record<string, string>>(`lots:${trial.trial}`), [line]: lot });
  };
  return (
    <section aria-label={`Bottle ${bottle.blend}`}>
      {pour === null ? (
        <Whole trial={trial} round={round} bottle={bottle} bottles={bottles} pours={pours} />
      ) : (
        <>
          <OneLine
            key={`${pour.line.id} ${pour.again}`}
            brief={trial.brief}
            bottle={bottle}
            pours={pours}
            pour={pour}
            showing={showing}
            dropGrams={dropGramsOf(trial, pour.line.id)}
            take={take}
          />
          <TakenFrom
            shelf={shelf}
            trial={trial}
            pour={pour}
            lot={lots[pour.line.id] ?? ''}
            change={takeFrom}
          />
        </>
      )}
      <Trouble of={pour === null ? trouble : null} again={() => send(pours)} />
      {trouble?.state === 'refused' && pour === null && (
        <p>
          <button type="button" onClick={() => send(pours, false)}>
            Keep it, and take nothing off the shelf
          </button>
        </p>
      )}
      <BottleLines
        brief={trial.brief}
        bottle={bottle}
        pours={pours}
        clear={(id) => note(withoutLine(pours, id))}
      />
      <Choice
        label="The balance shows"
        class="narrow-choice"
        value={showing}
        options={SHOWINGS}
        change={(next) => {
          setShowing(next as Showing);
          keep('showing', next);
        }}
      />
      <DropsPanel trial={trial} bottle={bottle} changed={() => redraw((n) => n + 1)} />
    </section>
  );
}

const focus = (link: HTMLAnchorElement | null) => link?.focus();

function Whole({ trial, round, bottle, bottles, pours }: BottleProps & { pours: Pours }) {
  const next = nextBottle(trial, round, bottle, bottles);
  return (
    <div class="whole">
      <h2>Bottle {bottle.blend} is whole</h2>
      {bottle.mixes.length > 1 && <p>It serves {bottle.mixes.join(' and ')}.</p>}
      <Filling trial={trial} bottle={bottle} pours={pours} />
      {next ? (
        <a
          ref={focus}
          class="button do"
          href={stepAddress(trial.trial, round.round, 'weigh', { bottle: next.blend })}
        >
          Weigh bottle {next.blend}
        </a>
      ) : (
        <a ref={focus} class="button do" href={stepAddress(trial.trial, round.round, 'rest')}>
          Let them rest
        </a>
      )}
      {bottle.lines.length === 0 && <Care>Nothing is planned for this bottle.</Care>}
    </div>
  );
}

/** How far the concentrate is made up: by as much more as the mix weighs more, so that the dose holds. */
function Filling({ trial, bottle, pours }: { trial: TrialView; bottle: Bottle; pours: Pours }) {
  const { concentrate, batch } = trial.brief;
  const materials = useMaterials();
  if (concentrate === undefined) return null;
  const mass = grams(inside(bottle, pours), batch.readability);
  const fill = growth(bottle, pours) * concentrate.fillMillilitres;
  return (
    <p>
      {mass} g are in: make it up to <strong class="number">{figure(fill)} mL</strong> with{' '}
      {materialName(materials, concentrate.carrier)}.
    </p>
  );
}
