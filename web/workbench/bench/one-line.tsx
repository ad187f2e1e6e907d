import { useEffect, useId, useRef, useState } from 'preact/hooks';
import type { Brief } from '../../../trials/schema/brief.ts';
import { grams } from '../numbers.ts';
import {
  type Bottle,
  type Noted,
  readBalance,
  type Showing,
  toShow,
  totalBefore,
  type WeighLine,
} from './weighing.ts';

interface OneLineProps {
  brief: Brief;
  bottle: Bottle;
  noted: Noted;
  line: WeighLine;
  showing: Showing;
  take: (id: string, grams: number) => void;
}

/** One component to be weighed, in numbers that are read from across the bench; Enter keeps and goes on. */
export function OneLine({ brief, bottle, noted, line, showing, take }: OneLineProps) {
  const { readability } = brief.batch;
  const [typed, setTyped] = useState('');
  const [says, setSays] = useState<string | null>(null);
  const [doubted, setDoubted] = useState<string | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const id = useId();
  useEffect(() => input.current?.focus(), []);

  const enter = (event: Event) => {
    event.preventDefault();
    const read = readBalance(typed, { bottle, noted, line, showing });
    if ('fault' in read) return setSays(read.fault);
    if (read.doubt !== null && doubted !== typed) {
      setDoubted(typed);
      return setSays(read.doubt);
    }
    take(line.id, read.grams);
  };
  const inside = totalBefore(bottle, noted, line.id);
  return (
    <form class="one-line" onSubmit={enter} noValidate>
      <p class="component">
        {line.name}
        <span class="soft small">
          {' '}
          {bottle.lines.indexOf(line) + 1} of {bottle.lines.length} in bottle {bottle.blend}
        </span>
      </p>
      <p class="to-show number">
        <span class="unseen">weigh </span>
        {grams(toShow(bottle, noted, line, showing), readability)}
        <span class="unit">g</span>
      </p>
      {showing === 'total' && (
        <p class="soft number">
          {grams(inside, readability)} g inside, {grams(line.planned, readability)} g to add
        </p>
      )}
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
            onInput={(event) => {
              setTyped(event.currentTarget.value);
              setSays(null);
            }}
          />
          <span class="unit">g</span>
          <button type="submit" class="do">
            Keep
          </button>
        </div>
        <p class="fault" id={`${id}-says`} role="status" hidden={says === null}>
          {says}
        </p>
      </div>
    </form>
  );
}
