import { useState } from 'preact/hooks';
import type { Card, TrialView } from '../../../trials/schema/api.ts';
import { differencesOf } from '../../sheets/card-differences.ts';
import { AgeingSection } from '../card/ageing-section.tsx';
import { BillSection } from '../card/bill-section.tsx';
import { LadderSection } from '../card/ladder-section.tsx';
import { cardNames } from '../card/names.ts';
import { VersionsSection } from '../card/versions-section.tsx';
import { useLoaded } from '../loaded.ts';
import { chance, count, figure, readNumber } from '../numbers.ts';
import { useAct } from '../parts/act.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { BlendBar } from '../parts/blend-bar.tsx';
import { ClearChain, chainGist } from '../parts/clear-chain.tsx';
import { Field } from '../parts/field.tsx';
import { MixLines } from '../parts/mix-lines.tsx';
import { Care, Figures, PageHead, Warnings } from '../parts/page.tsx';
import { latest } from '../results.ts';
import { printAddress, trialAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { openTrialOf } from '../trial-store.ts';
import { wayOn } from '../way-on.ts';

/** The formula as it stands, published versions of it, and what it takes to make more. */
export function CardPage({ trial }: { trial: TrialView }) {
  const reading = latest(trial, 'next');
  const params = { trial: trial.trial };
  const [loaded, again] = useLoaded(`${trial.trial} ${reading} ${trial.changed}`, async () => ({
    cards: await ask('listCards', params),
    draft: reading === null ? null : await ask('draftCard', params, { reading }),
  }));
  return (
    <>
      <PageHead title="Card">The formula as it stands, with what speaks for it and what to mind.</PageHead>
      <Await of={loaded} what="the formula" again={again}>
        {({ cards, draft }) => (
          <>
            {draft === null || reading === null ? (
              <p>
                There is no formula yet: read a round and{' '}
                <a href={trialAddress(trial.trial, 'next')}>ask for the next mixes</a> first.
              </p>
            ) : (
              <Standing trial={trial} draft={draft} reading={reading} before={cards.at(-1) ?? null} />
            )}
            <VersionsSection trial={trial} cards={cards} />
            {cards.length > 0 && <AgeingSection card={cards.at(-1)!} />}
            {(cards.at(-1) ?? draft) && (
              <>
                <LadderSection card={(cards.at(-1) ?? draft)!} />
                <BillSection card={(cards.at(-1) ?? draft)!} />
              </>
            )}
          </>
        )}
      </Await>
    </>
  );
}

interface StandingProps {
  trial: TrialView;
  draft: Card;
  reading: string;
  before: Card | null;
}

function Standing({ trial, draft, reading, before }: StandingProps) {
  const changes = before === null ? [] : differencesOf(before, draft, cardNames(trial));
  const { proofs } = draft.evidence;
  return (
    <>
      <p class="chance">
        {chance(draft.chance)}{' '}
        <span class="small soft">chance of a match{proofs.length === 0 ? '; not yet proved blind' : ''}</span>
      </p>
      <p class="soft">Distance to the target: {figure(draft.distance, 2)} points of 100.</p>
      {proofs.map((says) => (
        <p key={says}>{says}</p>
      ))}
      <BlendBar components={trial.brief.components} ratios={draft.ratios} />
      <MixLines
        brief={trial.brief}
        mix="the formula"
        ratios={draft.ratios}
        masses={draft.grams}
        settings={draft.settings}
      />
      {before !== null && (
        <p class="soft">
          {changes.length === 0
            ? `As version ${before.version}.`
            : `Against version ${before.version}: ${changes.map(({ what, was, is }) => `${what} ${was} → ${is}`).join('; ')}.`}
        </p>
      )}
      {draft.warnings.length > 0 && (
        <Figures says="how it was calculated">
          <Warnings of={draft.warnings} />
        </Figures>
      )}
      <Publish trial={trial} reading={reading} draft={draft} />
      <Mind draft={draft} />
    </>
  );
}

function Publish({ trial, reading, draft }: Pick<StandingProps, 'trial' | 'reading' | 'draft'>) {
  const [sizes, setSizes] = useState(draft.sizes.map(String).join(', '));
  const [weeks, setWeeks] = useState('1, 4, 12');
  const [note, setNote] = useState('');
  const { busy, trouble, run } = useAct();
  const publish = (event: Event) => {
    event.preventDefault();
    const goOn = wayOn();
    return run(async () => {
      const body = { reading, sizes: numbersIn(sizes), weeks: numbersIn(weeks), note };
      const { card } = await ask('publishCard', { trial: trial.trial }, body);
      await openTrialOf(trial.trial);
      goOn(printAddress(trial.trial, 'card', { version: card.version }));
    });
  };
  return (
    <form onSubmit={(event) => void publish(event)} noValidate>
      <div class="fields">
        <Field label="Batches on the card" unit="g of mix" value={sizes} change={setSizes} />
        <Field label="Taste again after" unit="weeks" value={weeks} change={setWeeks} />
        <Field label="A line for whoever reads it" class="wide" value={note} change={setNote} />
      </div>
      <div class="row">
        <button type="submit" class="do" disabled={busy}>
          Publish version {draft.version}
        </button>
        <a href={printAddress(trial.trial, 'card', { reading })}>Look at the draft</a>
      </div>
      <Trouble of={trouble} />
    </form>
  );
}

/** `4, 40, 400`; what is no number is sent as typed and refused with its place. */
function numbersIn(text: string): number[] {
  return text
    .split(/[;,]\s+|[;\s]+/)
    .filter((part) => part !== '')
    .map((part) => readNumber(part) ?? (part as unknown as number));
}

function Mind({ draft }: { draft: Card }) {
  const over = draft.substances.flatMap(({ limits }) => limits.filter(({ exceeded }) => exceeded === true));
  const checked = draft.substances.reduce((sum, { limits }) => sum + limits.length, 0);
  return (
    <>
      <h2>What to mind</h2>
      <p>
        {checked === 0
          ? 'No limit on file speaks of what is known to be in it'
          : `${count(checked, 'limit')} held against the drink, ${over.length === 0 ? 'none' : over.length} exceeded`}
        ; {count(draft.unchecked.length, 'material')} could not be checked. The card says which.
      </p>
      {draft.chain !== undefined && draft.chain.length > 0 && (
        <Figures says={chainGist(draft.chain)}>
          <ClearChain of={draft.chain} />
        </Figures>
      )}
      <Care>
        <ul>
          {draft.cautions.map(({ text, source }) => (
            <li key={text}>
              {text} <span class="soft small">{source}</span>
            </li>
          ))}
        </ul>
      </Care>
    </>
  );
}
