import { useMemo, useState } from 'preact/hooks';
import { demoBrief } from '../../../trials/demo/demo-round-one.ts';
import { toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import { tastePair } from '../../../trials/teaching/hidden-drink.ts';
import { DeskBar } from '../desk/desk-bar.tsx';
import { type DeskState, withLock, withSeam } from '../desk/desk-state.ts';
import { limitsOf, nearestWeighable } from '../desk/weighable.ts';
import { change, count, figure, parts } from '../numbers.ts';
import { BlendBar } from '../parts/blend-bar.tsx';
import { PageHead } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import { type AttributeGap, gapsOf, gapWords, outcomeOf } from './guess.ts';
import { Invented } from './invented.tsx';

const BRIEF = demoBrief();
const LIMITS = limitsOf(toBlendSpace(BRIEF));
const STEP = BRIEF.batch.readability;
/** Two cups for each of six tasters. */
const CUPS = 12;

interface Tasting {
  turn: number;
  steps: readonly number[];
  gaps: AttributeGap[];
}

/** A drink of unknown ratio: mixed after by the bar, tasted beside it by invented tasters, then shown. */
export function GuessBench({ number }: { number: number }) {
  const [state, setState] = useState<DeskState>(firstState);
  const [tastings, setTastings] = useState<readonly Tasting[]>([]);
  const [guessed, setGuessed] = useState(false);
  const grams = state.steps.map((step) => step * STEP);
  const taste = () => {
    const turn = tastings.length + 1;
    const gaps = gapsOf(tastePair(number, turn, grams), BRIEF.attributes);
    setTastings([...tastings, { turn, steps: state.steps, gaps }]);
  };
  const latest = tastings.at(-1);
  return (
    <>
      <PageHead title="Find the drink">
        Somebody made a drink from these five. Mix after it: move the bar, let six tasters have yours and
        theirs blind, and guess when you dare.
      </PageHead>
      <Invented>The drink, the tasters and their scores are made up.</Invented>
      <DeskBar
        components={BRIEF.components}
        limits={LIMITS}
        state={state}
        move={(seam, by) => setState(withSeam(LIMITS, state, seam, by))}
        lock={(index) => setState(withLock(state, index))}
      />
      <div class="row">
        <button type="button" class={guessed ? undefined : 'do'} disabled={guessed} onClick={taste}>
          Taste it beside the hidden drink
        </button>
        <button type="button" disabled={tastings.length === 0 || guessed} onClick={() => setGuessed(true)}>
          That is my guess
        </button>
        <a class="button quiet" href={`#/teaching/guess?drink=${number + 1}`}>
          Another drink
        </a>
      </div>
      {guessed && <Shown number={number} grams={grams} tastings={tastings.length} />}
      {latest !== undefined && <Scores of={latest} />}
      {tastings.length > 1 && (
        <Earlier tastings={tastings} back={(steps) => !guessed && setState({ ...state, steps })} />
      )}
    </>
  );
}

function firstState(): DeskState {
  const total = Math.round(BRIEF.batch.grams / STEP);
  const middle = BRIEF.components.map(() => 1 / BRIEF.components.length);
  return {
    steps: nearestWeighable(LIMITS, middle, total)!,
    locked: BRIEF.components.map(() => false),
    settings: {},
  };
}

function Scores({ of: { turn, gaps } }: { of: Tasting }) {
  return (
    <section aria-label={`Tasting ${turn}`}>
      <h2>Tasting {turn}: yours against the hidden drink</h2>
      <Table
        caption="Yours minus the hidden drink, average of the tasters who scored both"
        rows={gaps}
        columns={[
          { head: 'Question', cell: ({ name }) => name },
          { head: 'points', number: true, cell: ({ gap }) => (gap.mean === null ? '–' : change(gap.mean)) },
          {
            head: '95 % from … to',
            number: true,
            cell: ({ gap }) =>
              gap.interval === null ? gap.reason : `${change(gap.interval[0])} to ${change(gap.interval[1])}`,
          },
          { head: 'which says', cell: gapWords },
        ]}
      />
    </section>
  );
}

interface EarlierProps {
  tastings: readonly Tasting[];
  back: (steps: readonly number[]) => void;
}

function Earlier({ tastings, back }: EarlierProps) {
  const off = (gaps: readonly AttributeGap[]) =>
    Math.sqrt(gaps.reduce((sum, { gap }) => sum + (gap.mean ?? 0) ** 2, 0) / gaps.length);
  return (
    <section aria-label="All tastings">
      <h2>All tastings</h2>
      <Table
        caption="How far each mix was off as scored; noise is in it"
        rows={[...tastings].reverse()}
        columns={[
          { head: 'Tasting', cell: ({ turn }) => turn },
          { head: 'off by, points of 100', number: true, cell: ({ gaps }) => off(gaps).toFixed(1) },
          {
            head: 'mix',
            cell: ({ steps }) => (
              <button type="button" class="quiet" onClick={() => back(steps)}>
                {steps.map((step) => (step * STEP).toFixed(2)).join(' / ')} g
              </button>
            ),
          },
        ]}
      />
    </section>
  );
}

function Shown({ number, grams, tastings }: { number: number; grams: readonly number[]; tastings: number }) {
  const outcome = useMemo(() => outcomeOf(number, grams), [number, grams]);
  const ratios = (list: readonly number[]) => {
    const total = list.reduce((a, b) => a + b, 0);
    return Object.fromEntries(BRIEF.components.map(({ id }, k) => [id, list[k]! / total]));
  };
  const [mine, theirs] = [ratios(grams), ratios(outcome.hidden)];
  return (
    <section aria-label="The hidden drink">
      <h2>The hidden drink</h2>
      <p class="lead" role="status">
        {figure(outcome.parts)} parts of 100 stand elsewhere, and in truth the two taste{' '}
        {outcome.points.toFixed(1)} points of 100 apart. It took {count(tastings, 'tasting')},{' '}
        {tastings * CUPS} cups.
      </p>
      <p class="small soft">Hidden</p>
      <BlendBar components={BRIEF.components} ratios={theirs} />
      <p class="small soft">Yours</p>
      <BlendBar components={BRIEF.components} ratios={mine} />
      <Table
        caption="Parts of 100"
        rows={BRIEF.components}
        columns={[
          { head: 'Component', cell: ({ name }) => name },
          { head: 'hidden', number: true, cell: ({ id }) => parts(theirs[id]!) },
          { head: 'yours', number: true, cell: ({ id }) => parts(mine[id]!) },
          { head: 'off', number: true, cell: ({ id }) => change(100 * (mine[id]! - theirs[id]!)) },
        ]}
      />
    </section>
  );
}
