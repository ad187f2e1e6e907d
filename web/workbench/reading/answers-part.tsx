import type { RightMix, RightReading } from '../../../engine/panel/answers/read-right.ts';
import type { StepsReading } from '../../../engine/panel/answers/read-steps.ts';
import type { Brief } from '../../../trials/schema/brief.ts';
import { wordsOf } from '../../../trials/schema/scale-form.ts';
import { probability } from '../numbers.ts';
import { Figures } from '../parts/page.tsx';
import { Table } from '../parts/table.tsx';
import type { AttributeReading } from '../results.ts';
import { ChoiceStrips } from './choice-strips.tsx';

type BriefAttribute = Brief['attributes'][number];

/** What the kind of question says beyond scores: answers in steps as steps, and who finds a mix just about right. */
export function AnswersPart({ one, asked }: { one: AttributeReading; asked: BriefAttribute | undefined }) {
  return (
    <>
      {one.right && <RightPart right={one.right} />}
      {one.steps && <StepsPart steps={one.steps} asked={asked} />}
    </>
  );
}

function RightPart({ right: { mixes, overall } }: { right: RightReading }) {
  return (
    <>
      <h3>Too little, just about right, too much</h3>
      <p class="summary soft">
        {overall === null
          ? 'What being off costs cannot be said: nobody was asked how much they like it.'
          : costs(overall)}
      </p>
      <ChoiceStrips
        parts={['too little', 'just about right', 'too much']}
        rows={mixes.map(({ mix, tooLittle, right, tooMuch, says }) => ({
          mix,
          counts: [tooLittle, right, tooMuch],
          says,
        }))}
      />
    </>
  );
}

/** A side is worth acting on where enough chose it and liking is surely lower there. */
function costs({ tooWeak, tooStrong }: NonNullable<RightMix['penalty']>): string {
  const parts = [
    { words: 'too little', side: tooWeak },
    { words: 'too much', side: tooStrong },
  ].flatMap(({ words, side }) =>
    side.counts && side.interval !== null && side.interval[0] > 0 && side.drop !== null
      ? [`those who find ${words} like it ${side.drop.toFixed(1)} less`]
      : [],
  );
  if (parts.length === 0) return 'Over all mixes no side clearly costs liking.';
  return `Over all mixes, ${parts.join(' and ')} than those who find it just about right.`;
}

function StepsPart({ steps, asked }: { steps: StepsReading; asked: BriefAttribute | undefined }) {
  const words = asked ? wordsOf(asked) : [];
  const named = steps.steps.map((step) => (asked && words[step - asked.scale[0]]) ?? String(step));
  const { p } = steps.mixTest;
  return (
    <>
      <h3>What was chosen</h3>
      <p class="summary soft">
        {p === null
          ? `Read as steps, nothing can be said: ${steps.reason}.`
          : p < 0.05
            ? 'Also where only the order of the steps counts, not their distance, the mixes differ.'
            : 'Where only the order of the steps counts, not their distance, the mixes cannot be told apart.'}
      </p>
      <ChoiceStrips parts={named} rows={steps.mixes.map(({ mix, counts }) => ({ mix, counts, says: '' }))} />
      <Figures says="the steps in figures">
        <Table
          caption={`Log odds of a higher step, about the middle of all mixes; mixes differ, p ${probability(p)}`}
          rows={steps.mixes}
          columns={[
            { head: 'Mix', cell: ({ mix }) => mix },
            { head: 'log odds', value: ({ place }) => place },
            { head: 'standard error', value: ({ standardError }) => standardError },
          ]}
        />
      </Figures>
    </>
  );
}
