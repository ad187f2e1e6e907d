import { useId, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Brief } from '../../../trials/schema/brief.ts';
import { count, grams } from '../numbers.ts';
import { BalancePort } from './balance-port.tsx';
import {
  inside,
  type Pour,
  type Pours,
  readBalance,
  type Showing,
  toShow,
  withCorrection,
  withPoured,
} from './pours.ts';
import type { Bottle } from './weighing.ts';

interface OneLineProps {
  brief: Brief;
  bottle: Bottle;
  pours: Pours;
  pour: Pour;
  showing: Showing;
  /** Grams of a drop of it, where that has been weighed. */
  dropGrams: number | null;
  /** Keeps a mass as it was weighed, or answers it with a correction of the others. */
  take: (grams: number, correct: boolean) => void;
}

/** How well a mass should be known where the brief does not say. */
const USUAL_TOLERANCE = 0.02;

/** One component to be weighed, in numbers that are read from across the bench; Enter keeps and goes on. */
export function OneLine({ brief, bottle, pours, pour, showing, dropGrams, take }: OneLineProps) {
  const { readability, tolerance = USUAL_TOLERANCE } = brief.batch;
  const [typed, setTyped] = useState('');
  const [says, setSays] = useState<string | null>(null);
  const [doubted, setDoubted] = useState<{ typed: string; over: boolean } | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const id = useId();
  const { line, add, again } = pour;
  // Before the next key: the next mass may be typed as soon as it is asked for.
  useLayoutEffect(() => input.current?.focus(), []);

  const read = () => readBalance(typed, { bottle, pours, pour, showing, readability, tolerance });
  const enter = (event: Event) => {
    event.preventDefault();
    const found = read();
    if ('fault' in found) return setSays(found.fault);
    if (found.off !== null && doubted?.typed !== typed) {
      setDoubted({ typed, over: found.off.over });
      return setSays(`${found.off.says} Enter again keeps it as weighed.`);
    }
    take(found.grams, false);
  };
  const correct = () => {
    const found = read();
    if (!('fault' in found)) take(found.grams, true);
  };
  const grownTo = () => {
    const found = read();
    if ('fault' in found) return inside(bottle, pours);
    const { aims } = withCorrection(bottle, withPoured(pours, pour, found.grams), readability);
    return Object.values(aims).reduce((sum, aim) => sum + aim, 0);
  };
  const type = (text: string) => {
    setTyped(text);
    setSays(null);
    setDoubted(null);
  };
  return (
    <form class="one-line" onSubmit={enter} noValidate>
      <p class="component">
        {line.name}
        <span class="soft small">
          {' '}
          {again
            ? 'more of it, to put the ratio right,'
            : `${bottle.lines.indexOf(line) + 1} of ${bottle.lines.length}`}{' '}
          in bottle {bottle.blend}
        </span>
      </p>
      <p class="to-show number">
        <span class="unseen">weigh </span>
        {grams(toShow(bottle, pours, pour, showing), readability)}
        <span class="unit">g</span>
      </p>
      <p class="soft number">
        {showing === 'total' && `${grams(inside(bottle, pours), readability)} g inside, `}
        {(showing === 'total' || dropGrams !== null) && `${grams(add, readability)} g to add`}
        {dropGrams !== null &&
          `, about ${count(Math.max(1, Math.round(add / dropGrams)), 'drop')} of this bottle`}
      </p>
      <div class="field shown">
        <label for={id}>What the balance shows</label>
        <div class="with-unit">
          <input
            id={id}
            ref={input}
            class="n"
            inputMode="decimal"
            autoComplete="off"
            value={typed}
            aria-invalid={says === null ? undefined : true}
            aria-describedby={`${id}-says`}
            onInput={(event) => type(event.currentTarget.value)}
          />
          <span class="unit">g</span>
          <button type="submit" class="do">
            {doubted === null ? 'Keep' : 'Keep as weighed'}
          </button>
        </div>
        <p class="fault" id={`${id}-says`} role="status" hidden={says === null}>
          {says}
        </p>
        {doubted?.over && (
          <div class="row">
            <button type="button" onClick={correct}>
              Put the ratio right
            </button>
            <span class="help">
              The others are raised: the mix grows to {grams(grownTo(), readability)} g. Nothing is poured
              away.
            </span>
          </div>
        )}
        <BalancePort readability={readability} read={type} />
      </div>
    </form>
  );
}
