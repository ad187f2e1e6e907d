import { pharmacopoeiaMinimum } from '../../../engine/bench/balance.ts';
import { figure, readNumber } from '../numbers.ts';
import { Field } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import type { ChapterProps } from './chapter.tsx';
import { withGroup } from './draft-changes.ts';
import { leastKnown, repeatsWithin, TIMES, typedTrial, withWeighing } from './repeats.ts';

/** One load weighed ten times: how well the scale repeats, and the least that it therefore knows. */
export function RepeatWeighings({ draft, change, faultAt }: ChapterProps) {
  const { batch } = draft;
  const weighings = batch.weighings ?? [];
  const places = Math.max(TIMES, weighings.length);
  const faulty = faultAt('batch.weighings');
  return (
    <details open={weighings.length > 0 || (batch.repeatability ?? '') !== ''}>
      <summary class="small">how well your scale repeats: weigh one thing ten times</summary>
      <p class="soft">
        Take a bottle about as heavy as a filled one. Zero the scale, put it on, read, take it off; ten times.
        Enter leads on.
      </p>
      <fieldset class="ten" onKeyDown={leadOn}>
        <legend class="unseen">Ten weighings of one thing</legend>
        {Array.from({ length: places }, (_, place) => (
          <Field
            key={place}
            label={`${place + 1}`}
            number
            unit="g"
            class="narrow"
            value={weighings[place] ?? ''}
            change={(typed) =>
              change(withGroup(draft, 'batch', withWeighing(batch, place, typed)), `batch weighing ${place}`)
            }
            fault={faultAt(`batch.weighings[${place}]`)}
            path={`batch.weighings[${place}]`}
          />
        ))}
      </fieldset>
      {faulty !== undefined && <p class="fault">{faulty}</p>}
      {weighings.length === 0 && (
        <Field
          label={<Term is="repeats">Or its repeatability, if you know it</Term>}
          number
          unit="g"
          value={batch.repeatability ?? ''}
          change={(repeatability) =>
            change(withGroup(draft, 'batch', { repeatability }), 'batch repeatability')
          }
          fault={faultAt('batch.repeatability')}
          path="batch.repeatability"
        />
      )}
      <div role="status">
        <TrialWords batch={batch} />
      </div>
    </details>
  );
}

function TrialWords({ batch }: { batch: ChapterProps['draft']['batch'] }) {
  const typed = (batch.weighings ?? []).filter((one) => one.trim() !== '').length;
  if (typed > 0 && typed < TIMES) return <p>{TIMES - typed} more to weigh.</p>;
  const [trial, repeats, least] = [typedTrial(batch), repeatsWithin(batch), leastKnown(batch)];
  const readability = readNumber(batch.readability);
  if (repeats === null || least === null || readability === null) return null;
  const strict = pharmacopoeiaMinimum({ readability, repeatability: repeats });
  return (
    <>
      {trial !== null && (
        <p>
          They scatter by {figure(trial.standardDeviation, 2)} g (<Term is="repeats">standard deviation</Term>
          ){trial.heldByStep && `; in steps of ${readability} g no less than ${figure(repeats, 2)} g counts`}.
        </p>
      )}
      {trial !== null && trial.odd !== null && (
        <p class="fault">
          The {ordinal(trial.odd + 1)}, {batch.weighings?.[trial.odd]} g, lies far from the others: a slip of
          the fingers, or a draught?
        </p>
      )}
      <p>
        The least this scale knows to {least.within} %{least.usual && ' (nothing else is asked)'}:{' '}
        <strong>{figure(least.grams, 2)} g</strong>. Where a plan needs less, it turns to a stock.
      </p>
      <p class="soft small">
        For comparison, a pharmacopoeia (USP &lt;41&gt;: twice the standard deviation within 0.10 %) would
        weigh {figure(strict, 2)} g at least.
      </p>
    </>
  );
}

/** Enter goes to the next place instead of sending the form. */
function leadOn(event: KeyboardEvent & { currentTarget: HTMLElement }) {
  if (event.key !== 'Enter') return;
  event.preventDefault();
  const places = [...event.currentTarget.querySelectorAll('input')];
  places[places.indexOf(event.target as HTMLInputElement) + 1]?.focus();
}

function ordinal(place: number): string {
  return `${place}${['th', 'st', 'nd', 'rd'][place > 3 ? 0 : place]}`;
}
