import { useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { count } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Trouble } from '../parts/await.tsx';
import { LongText } from '../parts/field.tsx';
import { type Answer, ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';

/** Answers that wait on a phone which cannot reach the workbench: it shows them as a code, read in here. */
export function CarriedCodes({ trial }: { trial: TrialView }) {
  const [text, setText] = useState('');
  const [took, setTook] = useState<Answer<'readCode'> | null>(null);
  const { busy, trouble, run } = useAct();
  const take = (event: Event) => {
    event.preventDefault();
    return run(async () => {
      setTook(null);
      setTook(await ask('readCode', { trial: trial.trial }, { text }));
      setText('');
      await openTrialOf(trial.trial);
    });
  };
  return (
    <form class="key-form" onSubmit={(event) => void take(event)}>
      <p>
        A phone that has lost the workbench goes on by itself and can show its waiting answers as a code. Scan
        it with any code reader, or type the signs below it. What arrives twice counts once.
      </p>
      <LongText label="The code that the phone shows" value={text} change={setText} />
      <button type="submit" disabled={busy || text.trim() === ''}>
        Take the answers in
      </button>
      {took !== null && <Took of={took} />}
      <Trouble of={trouble} />
    </form>
  );
}

function Took({ of: { assessor, part, parts, stored, refused, late } }: { of: Answer<'readCode'> }) {
  return (
    <div role="status">
      <p>
        {count(stored, 'answer')} of {assessor} taken in
        {parts > 1 && `, code ${part} of ${parts}`}
        {late && '; the key was open already, so they are marked late'}.
      </p>
      {refused.map(({ code, because }) => (
        <p key={`${code} ${because}`}>
          Cup {code}: {because}.
        </p>
      ))}
    </div>
  );
}
