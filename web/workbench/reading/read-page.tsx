import { useState } from 'preact/hooks';
import type { Reading, RoundView, TrialView } from '../../../trials/schema/api.ts';
import { untasted } from '../bench/sitting-draft.ts';
import { useLoaded } from '../loaded.ts';
import { count, fewOf } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { Check } from '../parts/field.tsx';
import { JobProgress, useJob } from '../parts/jobs.tsx';
import { Onward } from '../parts/onward.tsx';
import { Care, Figures, PageHead, Warnings } from '../parts/page.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { When } from '../parts/when.tsx';
import { inputOf, latest, readOf } from '../results.ts';
import { stepAddress, trialAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { isProof } from '../story.ts';
import { openTrialOf } from '../trial-store.ts';
import { wayOn } from '../way-on.ts';
import { AsidesSection } from './asides-section.tsx';
import { CurvesSection } from './curves-section.tsx';
import { DifferencesSection } from './differences-section.tsx';
import { EffectsSection } from './effects-section.tsx';
import { FitFigures } from './fit-figures.tsx';
import { InfluenceSection } from './influence-section.tsx';
import { KnowingSection } from './knowing-section.tsx';
import { LikingSection } from './liking-section.tsx';
import { MapSection } from './map-section.tsx';
import { MissesSection } from './misses-section.tsx';
import { ProfileSection } from './profile-section.tsx';
import { type ReadingView, viewOf } from './reading-view.ts';
import { TriangleSection } from './triangle-section.tsx';
import { TrustSection } from './trust-section.tsx';

interface PageProps {
  trial: TrialView;
  round: RoundView;
  query: URLSearchParams;
}

/** Reads panel and ratios from all scores so far, in the order in which trust is built. */
export function ReadPage({ trial, round, query }: PageProps) {
  const job = useJob();
  const people = [
    ...new Set(trial.roundViews.flatMap((r) => r.sittings.flatMap(({ assessors }) => assessors))),
  ];
  const [setAside, setSetAside] = useState<readonly string[]>([]);
  const reading = query.get('reading') ?? latest(trial, 'read', round.round);
  const start = async () => {
    const done = await job.run(trial.trial, () =>
      ask('startReading', { trial: trial.trial }, { setAside: [...setAside] }),
    );
    if (done === null) return;
    const goOn = wayOn();
    await openTrialOf(trial.trial);
    goOn(stepAddress(trial.trial, round.round, 'read', { reading: done.reading }));
  };
  const isTest = round.sittings.length > 0 && round.sittings.every(({ test }) => test !== null);
  const turn = (name: string, on: boolean) =>
    setSetAside(on ? [...setAside, name] : setAside.filter((one) => one !== name));
  return (
    <>
      <PageHead title={`Round ${round.round}: read`}>
        {reading === null
          ? 'Whether the panel can be trusted, which mixes differ, and how each ratio moves each attribute.'
          : undefined}
      </PageHead>
      {isTest && <OnlyTest trial={trial} round={round} />}
      <div class="row">
        <button
          type="button"
          class={reading === null && !isTest ? 'do' : undefined}
          disabled={job.job !== null}
          onClick={() => void start()}
        >
          {reading === null ? 'Read the scores' : 'Read again'}
        </button>
      </div>
      {people.length > 0 && (
        <Figures says={setAside.length > 0 ? `without ${setAside.join(', ')}` : 'read without somebody'}>
          <div class="pick">
            {people.map((name) => (
              <Check key={name} checked={setAside.includes(name)} change={(on) => turn(name, on)}>
                {name}
              </Check>
            ))}
          </div>
        </Figures>
      )}
      <JobProgress of={job} what="Reading" />
      <NotPoured trial={trial} round={round} />
      {reading !== null && job.job === null && (
        <StoredReading key={reading} trial={trial} reading={reading} />
      )}
      <Onward trial={trial} round={round} step="read" />
    </>
  );
}

/** A round in which two drinks were to be told apart: no question was scored. */
function OnlyTest({ trial, round }: Omit<PageProps, 'query'>) {
  const [where, says] = isProof(round)
    ? [trialAddress(trial.trial, 'proof'), 'the proof']
    : [stepAddress(trial.trial, round.round, 'taste'), 'the tasting'];
  return (
    <p>
      Nothing was scored in this round: two drinks were to be told apart. What came of it stands at{' '}
      <a href={where}>{says}</a>; reading here reads the scores of all other rounds.
    </p>
  );
}

/** Mixes of the round that no sitting has poured: the reading knows nothing of them. */
function NotPoured({ trial, round }: Omit<PageProps, 'query'>) {
  const left = untasted(round);
  if (left.length === 0 || round.sittings.some(({ test }) => test !== null)) return null;
  return (
    <Care>
      <p>
        Nobody has tasted {fewOf(left)} yet.{' '}
        <a href={stepAddress(trial.trial, round.round, 'pour')}>
          Draw a sitting for {left.length === 1 ? 'it' : 'them'}
        </a>
      </p>
    </Care>
  );
}

function StoredReading({ trial, reading }: { trial: TrialView; reading: string }) {
  const [loaded, again] = useLoaded(reading, () => ask('readShown', { trial: trial.trial, reading }));
  return (
    <Await of={loaded} what="the reading" again={again} leads>
      {(stored) => <ReadingShown view={viewOf(trial, stored)} stored={stored} />}
    </Await>
  );
}

function ReadingShown({ view, stored }: { view: ReadingView; stored: Reading }) {
  const { panel, fit } = readOf(stored);
  const without = inputOf(stored).setAside;
  const asideName = (aside: string) => view.trial.brief.asides.find(({ id }) => id === aside)?.name ?? aside;
  return (
    <>
      {without.length > 0 && (
        <p class="soft">
          Read without {without.join(', ')}; {count(view.tasters, 'taster')} left.
        </p>
      )}
      <Warnings of={[...inputOf(stored).warnings, ...panel.warnings, ...fit.warnings]} />
      <TrustSection view={view} />
      <KnowingSection view={view} stored={stored} />
      <ProfileSection view={view} />
      <DifferencesSection view={view} />
      <AsidesSection asides={panel.asides ?? []} nameOf={asideName} />
      {panel.liking && <LikingSection liking={panel.liking} nameOf={view.nameOf} />}
      <EffectsSection view={view} />
      <TriangleSection view={view} />
      <h2>Looking closer</h2>
      <Unfold says="every question as one component grows">
        <CurvesSection view={view} />
      </Unfold>
      <Unfold says="which mixes taste alike, on a map">
        <MapSection view={view} />
      </Unfold>
      <Unfold says="where the models miss">
        <MissesSection view={view} />
      </Unfold>
      <Unfold says="which mixes the models rest on">
        <InfluenceSection view={view} />
      </Unfold>
      <FitFigures view={view} />
      <p class="soft small">
        Read <When at={stored.at} /> with seed {stored.seed}, version {stored.version}. Its numbers can be had
        again from the same input. <a href={trialAddress(view.trial.trial, 'record')}>Record</a>
      </p>
    </>
  );
}
