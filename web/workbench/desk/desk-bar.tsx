import { useRef } from 'preact/hooks';
import type { Brief } from '../../../trials/schema/brief.ts';
import { parts } from '../numbers.ts';
import { type DeskState, seamReach, sidesOf } from './desk-state.ts';
import { type Limit, sharesOf } from './weighable.ts';

interface BarProps {
  components: Brief['components'];
  limits: readonly Limit[];
  state: DeskState;
  move: (seam: number, by: number) => void;
  lock: (index: number) => void;
}

/** One bar of liquid: shares to tap, seams to drag or to move by arrow keys. */
export function DeskBar({ components, limits, state, move, lock }: BarProps) {
  const bar = useRef<HTMLDivElement>(null);
  const shares = sharesOf(state.steps);
  const total = state.steps.reduce((sum, step) => sum + step, 0);
  const stepsAcross = (pixels: number) => (pixels / Math.max(1, bar.current?.clientWidth ?? 1)) * total;
  return (
    <div class="desk-bar" ref={bar}>
      {components.map(({ id, name }, index) => (
        <div
          key={id}
          class={`slot tint-${index % 3} ${state.locked[index] ? 'locked' : ''}`}
          ref={(slot) => slot?.style.setProperty('flex-grow', String(shares[index]))}
        >
          <button
            type="button"
            class="share"
            aria-pressed={state.locked[index]}
            title={name}
            onClick={() => lock(index)}
          >
            <span class="name">{id}</span>
            <span class="number">{parts(shares[index]!)}</span>
            <span class="state">{state.locked[index] ? 'locked' : ''}</span>
          </button>
          {index < components.length - 1 && (
            <Seam
              components={components}
              limits={limits}
              state={state}
              seam={index}
              stepsAcross={stepsAcross}
              move={move}
            />
          )}
        </div>
      ))}
    </div>
  );
}

interface SeamProps extends Omit<BarProps, 'lock'> {
  seam: number;
  stepsAcross: (pixels: number) => number;
}

function Seam({ components, limits, state, seam, stepsAcross, move }: SeamProps) {
  const drag = useRef<{ from: number; done: number } | null>(null);
  const sides = sidesOf(state, seam);
  const [least, most] = seamReach(limits, state, seam);
  const left = components[sides?.[0] ?? seam]!.id;
  const right = components[sides?.[1] ?? seam + 1]!.id;
  const now = state.steps[sides?.[0] ?? seam]!;
  const total = state.steps.reduce((sum, step) => sum + step, 0);
  const byKey = (event: KeyboardEvent) => {
    const size = event.shiftKey ? 10 : 1;
    const by = {
      ArrowLeft: -size,
      ArrowDown: -size,
      ArrowRight: size,
      ArrowUp: size,
      Home: least,
      End: most,
    }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    move(seam, by);
  };
  const byDrag = (event: PointerEvent) => {
    if (drag.current === null) return;
    const wanted = Math.round(stepsAcross(event.clientX - drag.current.from));
    const by = Math.max(least, Math.min(most, wanted - drag.current.done));
    if (by === 0) return;
    drag.current.done += by;
    move(seam, by);
  };
  return (
    <div
      class={`seam ${least === 0 ? 'low-end' : ''} ${most === 0 ? 'high-end' : ''}`}
      role="slider"
      tabIndex={0}
      aria-label={`Seam between ${left} and ${right}`}
      aria-valuenow={now}
      aria-valuemin={now + least}
      aria-valuemax={now + most}
      aria-valuetext={`${left} ${parts(now / total)} parts of a hundred`}
      aria-disabled={sides === null}
      onKeyDown={byKey}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        drag.current = { from: event.clientX, done: 0 };
      }}
      onPointerMove={byDrag}
      onPointerUp={() => {
        drag.current = null;
      }}
    />
  );
}
