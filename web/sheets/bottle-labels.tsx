import type { Brief } from '../../trials/schema/brief.ts';
import type { PaperBottle } from './paper-bottle.ts';
import { WriteIn } from './sheet.tsx';

/** Letters of a name that stand large on one line. */
const SHORT = 12;

/** A label a bottle: which it is, when it was made, and that nobody tastes it as it is. */
export function BottleLabels({
  brief,
  of,
  bottles,
}: {
  brief: Brief;
  of: string;
  bottles: readonly PaperBottle[];
}) {
  const strength =
    brief.concentrate === undefined
      ? ''
      : `about ${brief.concentrate.percentVol} % alcohol by volume, highly flammable`;
  return (
    <section class="paper labels" aria-label="Bottle labels">
      {bottles.map(({ blend, mixes }) => (
        <div class="label bottle-label" key={blend}>
          <span class={`label-code${blend.length > SHORT ? ' long' : ''}`}>{blend}</span>
          <span class="label-place">
            {brief.name}, {of}
          </span>
          {mixes.length > 1 && <span class="label-place">serves {mixes.join(', ')}</span>}
          <span class="label-place">
            <WriteIn what="made" /> <WriteIn what="by" />
          </span>
          <span class="label-place">Never tasted as it is{strength === '' ? '' : `; ${strength}`}.</span>
        </div>
      ))}
    </section>
  );
}
