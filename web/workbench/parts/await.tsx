import type { ComponentChildren } from 'preact';
import type { Fault } from '../../../trials/schema/api.ts';
import type { Loaded } from '../loaded.ts';
import type { Refusal } from '../server.ts';
import { sentence } from './sentence.ts';

interface AwaitProps<T> {
  of: Loaded<T>;
  what: string;
  again?: () => void;
  /** What stands below is shown together with it: nothing moves from under a hand. */
  leads?: boolean;
  children: (value: T) => ComponentChildren;
}

/** Shows a page's four states: still loading, refused, failed, here. */
export function Await<T>({ of, what, again, leads = false, children }: AwaitProps<T>) {
  if (of.state === 'here') return <>{children(of.value)}</>;
  if (of.state === 'loading')
    return (
      <p class={leads ? 'soft leads' : 'soft'} role="status">
        Fetching {what} …
      </p>
    );
  if (of.state === 'refused') return <Refused refusal={of.refusal} />;
  return <Failed message={of.message} again={again} />;
}

/** Tells a fault in the words of the form that was sent. */
export type FaultWords = (fault: Fault) => string;

interface RefusedProps {
  refusal: Pick<Refusal, 'message' | 'faults'>;
  words?: FaultWords | undefined;
}

/** The workbench said no, and why. */
export function Refused({ refusal: { message, faults }, words }: RefusedProps) {
  const [first] = faults;
  const told = first && words ? { message: words(first), faults: [] } : { message, faults };
  return (
    <div class="note care" role="alert">
      <p>
        <strong>{sentence(told.message)}</strong>
      </p>
      {told.faults.some((fault) => fault.message !== message) && <FaultLines faults={told.faults} />}
    </div>
  );
}

export function FaultLines({ faults }: { faults: readonly Fault[] }) {
  return (
    <ul class="fault-list">
      {faults.map((fault, index) => (
        <li key={index}>{sentence(fault.message)}</li>
      ))}
    </ul>
  );
}

/** Something broke on the way: what, and a way to try again. */
export function Failed({ message, again }: { message: string; again?: (() => void) | undefined }) {
  return (
    <div class="note care" role="alert">
      <p>
        <strong>That did not work.</strong> {sentence(message)}
      </p>
      {again && (
        <p>
          <button type="button" onClick={again}>
            Try again
          </button>
        </p>
      )}
    </div>
  );
}

/** Brings what has just appeared before the eye, where it is not yet. */
export function intoSight(part: HTMLElement | null): void {
  part?.scrollIntoView?.({ block: 'nearest' });
}

/** Whatever went wrong with an action, shown where the action is. */
export function Trouble({
  of,
  again,
  words,
}: {
  of: Loaded<never> | null;
  again?: () => void;
  words?: FaultWords | undefined;
}) {
  if (of === null || of.state === 'loading' || of.state === 'here') return null;
  return (
    <div ref={intoSight}>
      {of.state === 'refused' ? (
        <Refused refusal={of.refusal} words={words} />
      ) : (
        <Failed message={of.message} again={again} />
      )}
    </div>
  );
}
