import { Check, Choice, Field } from '../parts/field.tsx';
import { Term } from '../parts/term.tsx';
import { type Asking, drinksOf, isForced, namesIn, type SittingDraft } from './sitting-draft.ts';

interface PartProps {
  draft: SittingDraft;
  change: (next: Partial<SittingDraft>) => void;
}

/** Who knows the formula; reference, warm-up and repeats. */
export function MoreChoices({ draft, change }: PartProps) {
  const turn = (name: string, on: boolean) =>
    change({ knowing: on ? [...draft.knowing, name] : draft.knowing.filter((one) => one !== name) });
  return (
    <>
      <fieldset class="field">
        <legend>
          Who <Term is="knowing">knows the formula</Term>
        </legend>
        <div class="pick">
          {namesIn(draft.assessors).map((name) => (
            <Check key={name} checked={draft.knowing.includes(name)} change={(on) => turn(name, on)}>
              {name}
            </Check>
          ))}
        </div>
      </fieldset>
      <Check checked={draft.reference} change={(reference) => change({ reference })}>
        Pour the <Term is="reference">reference</Term> among the mixes
      </Check>
      {draft.asking === 'scores' && (
        <Check checked={draft.warmup} change={(warmup) => change({ warmup })}>
          Begin with a <Term is="warmup">warm-up cup</Term>
        </Check>
      )}
      <Field
        label={
          draft.asking === 'scores' ? <Term is="replicates">Times each mix</Term> : 'Sets for each taster'
        }
        class="narrow"
        number
        value={draft.replicates}
        change={(replicates) => change({ replicates })}
      />
    </>
  );
}

const ASKING: readonly (readonly [Asking, string])[] = [
  ['scores', 'scores on the questions of the brief'],
  ['triangle', 'three cups, two alike: which is different? (triangle)'],
  ['duo-trio', 'one to compare with: which is the same? (duo-trio)'],
  ['tetrad', 'four cups: two groups of two (tetrad)'],
  ['two-afc', 'two cups: which has more? (2-AFC)'],
  ['three-afc', 'three cups: which has more? (3-AFC)'],
];

/** How the sitting is held: what is asked, who pours, how long tasters rest. */
export function Manner({ draft, change }: PartProps) {
  return (
    <>
      <Choice
        label="What is asked"
        value={draft.asking}
        change={(asking) => change({ asking: asking as Asking })}
        options={ASKING}
      />
      {isForced(draft.asking) && (
        <div class="fields">
          <Field label="More of what" value={draft.of} change={(of) => change({ of })} />
          <Choice
            label="Which should be the stronger"
            value={draft.stronger}
            change={(stronger) => change({ stronger })}
            options={[['', '–'], ...drinksOf(draft).map((mix) => [mix, mix] as const)]}
          />
        </div>
      )}
      {draft.asking === 'scores' && (
        <Check checked={draft.alone} change={(alone) => change({ alone })}>
          I pour and taste alone: the names stand under the cups and are entered after the last ballot
        </Check>
      )}
      <div class="fields">
        <Field
          label="Rest between two cups"
          number
          unit="s"
          value={draft.restSeconds}
          change={(restSeconds) => change({ restSeconds })}
        />
        <Field
          label="Rest after four cups"
          number
          unit="min"
          value={draft.longRestMinutes}
          change={(longRestMinutes) => change({ longRestMinutes })}
        />
      </div>
      <Check checked={draft.goBack} change={(goBack) => change({ goBack })}>
        Tasters may go back to earlier cups
      </Check>
    </>
  );
}
