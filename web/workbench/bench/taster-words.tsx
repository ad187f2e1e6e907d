import type { TrialView } from '../../../trials/schema/api.ts';
import { addedCautions, tasterCautions, untoldAllergens } from '../../../trials/schema/taster-cautions.ts';
import { count } from '../numbers.ts';
import { Care, Figures } from '../parts/page.tsx';
import { sentence } from '../parts/sentence.ts';
import { trialAddress } from '../routes.ts';
import { useMaterials } from '../shelf/known-materials.ts';

/** What tasters are told on their ballots before the first cup, and what of the components they are not told. */
export function TasterWords({ trial }: { trial: TrialView }) {
  const told = tasterCautions(trial.brief);
  const english = new Map(addedCautions(trial.brief).map((one) => [one.told, one.english]));
  const untold = untoldAllergens(trial.brief, useMaterials());
  return (
    <>
      {told.length > 0 ? (
        <Figures says={`${count(told.length, 'caution')} that tasters read before the first cup`}>
          <ul>
            {told.map((text) => (
              <li key={text}>
                {text}
                {(english.get(text) ?? text) !== text && (
                  <span class="soft small"> In place of: “{english.get(text)}”</span>
                )}
              </li>
            ))}
          </ul>
        </Figures>
      ) : (
        <p class="soft">Tasters are told of nothing to beware of before the first cup.</p>
      )}
      {untold.length > 0 && (
        <Care>
          <p>Not told to the tasters, since it would give a component away:</p>
          <ul>
            {untold.map(({ component, says }) => (
              <li key={component}>
                {component}: {sentence(says)}
              </li>
            ))}
          </ul>
          <p>
            Ask each taster, or{' '}
            <a href={trialAddress(trial.trial, 'brief')}>write it into the brief’s cautions</a> in words that
            harm no blinding.
          </p>
        </Care>
      )}
    </>
  );
}
