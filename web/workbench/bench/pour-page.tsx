import { useState } from 'preact/hooks';
import type { RoundView, SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { count, fewOf, figure } from '../numbers.ts';
import { Trouble } from '../parts/await.tsx';
import { Onward } from '../parts/onward.tsx';
import { PageHead, Warnings } from '../parts/page.tsx';
import { QrCode } from '../parts/qr-code.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { printAddress, stepAddress } from '../routes.ts';
import { type Answer, ask } from '../server.ts';
import { DrawForm } from './draw-form.tsx';
import { MarkDone } from './mark-done.tsx';
import { PouringList } from './pouring-list.tsx';
import { untasted } from './sitting-draft.ts';
import { TasterWords } from './taster-words.tsx';

/** Draws codes and shows who pours what where. */
export function PourPage({ trial, round }: { trial: TrialView; round: RoundView }) {
  const any = round.sittings.length > 0;
  const left = untasted(round);
  return (
    <>
      <PageHead title={`Round ${round.round}: pour`}>
        Codes reach the tasters, mixes do not. Draw the codes, print the pouring sheet, let somebody pour who
        does not taste if you can.
      </PageHead>
      <TasterWords trial={trial} />
      {any && (
        <ul class="sittings">
          {round.sittings.map((sitting) => (
            <SittingLine key={sitting.sitting} trial={trial} round={round} sitting={sitting} />
          ))}
        </ul>
      )}
      {any ? (
        <details key={round.sittings.length} open={left.length > 0}>
          <summary>
            {left.length > 0
              ? `${fewOf(left)} ${left.length === 1 ? 'is' : 'are'} in no sitting yet: draw another`
              : 'Draw another sitting'}
          </summary>
          <DrawForm trial={trial} round={round} more={left.length === 0} />
        </details>
      ) : (
        <DrawForm trial={trial} round={round} />
      )}
      {any && (
        <MarkDone
          trial={trial}
          round={round}
          step="pour"
          says="The cups are poured"
          early={left.length > 0}
          then="taste"
        />
      )}
      <Onward trial={trial} round={round} step="pour" />
    </>
  );
}

interface LineProps {
  trial: TrialView;
  round: RoundView;
  sitting: SittingSummary;
}

function SittingLine({ trial, round, sitting }: LineProps) {
  const { label, cups, assessors, ethanolGrams, warnings } = sitting;
  return (
    <li>
      <strong>{label}</strong>: {count(cups, 'cup')} for {count(assessors.length, 'taster')}
      {ethanolGrams !== null && `, ${figure(ethanolGrams)} g of pure alcohol in all cups of one taster`}.
      <Warnings of={warnings} />
      <p class="apart">
        <a href={printAddress(trial.trial, 'pouring', { sitting: sitting.sitting })}>Pouring sheet</a>
        <a href={printAddress(trial.trial, 'labels', { sitting: sitting.sitting })}>Labels for the cups</a>
        <a href={printAddress(trial.trial, 'ballots', { sitting: sitting.sitting })}>Paper ballots</a>
        <a href={printAddress(trial.trial, 'key', { sitting: sitting.sitting })}>Key to seal</a>
        <a href={stepAddress(trial.trial, round.round, 'taste', { sitting: sitting.sitting })}>
          Links for the phones
        </a>
      </p>
      <PourerLink trial={trial} sitting={sitting} />
      <Unfold says="which mix goes where: not for eyes that will taste">
        <PouringList trial={trial.trial} sitting={sitting.sitting} />
      </Unfold>
    </li>
  );
}

/** A link for somebody else's phone, who pours and does not taste. */
function PourerLink({ trial, sitting }: Omit<LineProps, 'round'>) {
  const [link, setLink] = useState<Answer<'pourerLink'> | null>(null);
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const make = () => {
    setTrouble(null);
    ask('pourerLink', { trial: trial.trial, sitting: sitting.sitting }).then(setLink, (thrown) =>
      setTrouble(troubleOf(thrown)),
    );
  };
  if (link === null)
    return (
      <>
        <p class="apart">
          <button type="button" class="quiet" onClick={make}>
            A link for whoever pours
          </button>
        </p>
        <Trouble of={trouble} />
      </>
    );
  return (
    <div class="phone-link">
      <QrCode of={link.qr} says="QR code of the pouring page" />
      <a href={link.address}>{link.address}</a>
    </div>
  );
}
