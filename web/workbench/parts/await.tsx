import type { ComponentChildren } from 'preact';
import type { Fault } from '../../../trials/schema/api.ts';
import type { Loaded } from '../loaded.ts';
import type { Refusal } from '../server.ts';
import { sentence } from './sentence.ts';

interface AwaitProps<T> {
  of: Loaded<T>;
  what: string;
  again?: () => void;
  children: (value: T) => ComponentChildren;
}

/** Shows a page's four states: still loading, refused, failed, here. */
export function Await<T>({ of, what, again, children }: AwaitProps<T>) {
  if (of.state === 'here') return <>{children(of.value)}</>;
  if (of.state === 'loading')
    return (
      <p class="soft" role="status">
        Fetching {what} …
      </p>
    );
  if (of.state === 'refused') return <Refused refusal={of.refusal} />;
  return <Failed message={of.message} again={again} />;
}

/** The workbench said no, and why. */
export function Refused({ refusal }: { refusal: Pick<Refusal, 'message' | 'faults'> }) {
  return (
    <div class="note care" role="alert">
      <p>
        <strong>{sentence(refusal.message)}</strong>
      </p>
      {refusal.faults.some(({ message }) => message !== refusal.message) && (
        <FaultLines faults={refusal.faults} />
      )}
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

/** Whatever went wrong with an action, shown where the action is. */
export function Trouble({ of, again }: { of: Loaded<never> | null; again?: () => void }) {
  if (of === null || of.state === 'loading' || of.state === 'here') return null;
  return of.state === 'refused' ? (
    <Refused refusal={of.refusal} />
  ) : (
    <Failed message={of.message} again={again} />
  );
}
