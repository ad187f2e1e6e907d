import { useEffect, useRef, useState } from 'preact/hooks';
import type { OldLook } from '../../../trials/schema/old-tables.ts';
import { type Loaded, troubleOf, useLoaded } from '../loaded.ts';
import { count, listed } from '../numbers.ts';
import { FaultLines, Trouble } from '../parts/await.tsx';
import { Choice, Field } from '../parts/field.tsx';
import { Care, PageHead, Warnings } from '../parts/page.tsx';
import { stepAddress } from '../routes.ts';
import { ask } from '../server.ts';
import { wayOn } from '../way-on.ts';
import { EMPTY_OLD, type OldDraft, type OldKind, requestOf, withColumn, withTrial } from './old-draft.ts';
import { OldTable } from './old-table.tsx';
import { WhatTheyLookLike } from './what-they-look-like.tsx';

/** Weighings and scores from before, out of two files, seen before they are stored. */
export function OldPage() {
  const [draft, setDraft] = useState(EMPTY_OLD);
  const [trials] = useLoaded('trials', () => ask('listTrials'));
  const own = trials.state === 'here' ? trials.value.filter(({ demo }) => !demo) : [];
  const choose = async (kind: OldKind, file: File) => {
    const chosen = { name: file.name, base64: await base64Of(file), columns: null };
    setDraft((was) => ({ ...was, [kind]: chosen }));
  };
  return (
    <>
      <PageHead title="Old tastings">
        Weighings and scores from before, in two files saved as CSV. You see what they hold before anything is
        stored.
      </PageHead>
      <Choice
        label="They go into"
        class="narrow"
        value={draft.trial}
        change={(trial) => setDraft(withTrial(draft, trial))}
        options={[['', 'a new trial'], ...own.map(({ trial, name }) => [trial, name] as const)]}
      />
      <div class="fields">
        <FileField label="The mixes, as they were weighed" take={(file) => void choose('mixes', file)} />
        <FileField label="The scores" take={(file) => void choose('scores', file)} />
      </div>
      <WhatTheyLookLike />
      <Seen draft={draft} setDraft={setDraft} />
    </>
  );
}

function base64Of(file: File): Promise<string> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.onload = () => resolve(String(reader.result).replace(/^[^,]*,/, ''));
    reader.onerror = () => reject(reader.error);
    reader.readAsDataURL(file);
  });
}

function FileField({ label, take }: { label: string; take: (file: File) => void }) {
  return (
    <div class="field">
      <label>
        {label}
        <input
          type="file"
          accept=".csv,.tsv,.txt,text/csv"
          onChange={(event) => {
            const file = event.currentTarget.files?.[0];
            if (file) take(file);
          }}
        />
      </label>
    </div>
  );
}

interface SeenProps {
  draft: OldDraft;
  setDraft: (draft: OldDraft) => void;
}

/** What the files hold, what is wrong with them, and the way into the trial. */
function Seen({ draft, setDraft }: SeenProps) {
  const { look, trouble } = useLook(draft);
  const { mixes, scores } = draft;
  if (mixes === null || scores === null) return null;
  if (look === null)
    return trouble === null ? <p role="status">Looking at the files …</p> : <Trouble of={trouble} />;
  const table = (kind: OldKind) => (
    <OldTable
      kind={kind}
      file={(kind === 'mixes' ? mixes : scores).name}
      table={look[kind]}
      faults={look.faults}
      brief={draft.trial === '' ? null : look.brief}
      change={(index, column) =>
        setDraft(withColumn(draft, kind, { seen: look[kind].columns, index, column }))
      }
    />
  );
  return (
    <>
      {table('mixes')}
      {table('scores')}
      <Trouble of={trouble} />
      {look.faults.length > 0 && (
        <div role="alert">
          <Care>
            <p>
              <strong>Nothing can be stored yet.</strong> Mend the file and choose it again, or say above what
              a column is.
            </p>
            <FaultLines faults={look.faults} />
          </Care>
        </div>
      )}
      <Warnings of={look.warnings} />
      <More draft={draft} setDraft={setDraft} />
      {look.found !== null && <Store draft={draft} found={look.found} />}
    </>
  );
}

function More({ draft, setDraft }: SeenProps) {
  const set = (change: Partial<OldDraft>) => setDraft({ ...draft, ...change });
  return (
    <div class="fields">
      {draft.trial === '' && (
        <Field label="What the trial is called" value={draft.name} change={(name) => set({ name })} />
      )}
      <Field
        label="The drink to be matched is called"
        value={draft.reference}
        change={(reference) => set({ reference })}
        help="in the scores, if it was tasted too"
      />
      <Field
        label="Who knew what was in the glass"
        value={draft.knowing}
        change={(knowing) => set({ knowing })}
        help="names, with commas between; read with and without them"
      />
      {draft.trial !== '' && (
        <Field
          label="A word before all names"
          value={draft.before}
          change={(before) => set({ before })}
          help="where the trial has mixes of the same names"
        />
      )}
    </div>
  );
}

function Store({ draft, found }: { draft: OldDraft; found: NonNullable<OldLook['found']> }) {
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const [busy, setBusy] = useState(false);
  const store = async () => {
    setBusy(true);
    setTrouble(null);
    const goOn = wayOn();
    try {
      const { trial, round } = await ask('enterOldTables', {}, requestOf(draft)!);
      goOn(stepAddress(trial, round, 'read'));
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
      setBusy(false);
    }
  };
  return (
    <section aria-label="What will be stored">
      <p class="lead">{foundSentence(found)}</p>
      <p class="small soft">
        All of it becomes one round, weighed and tasted, marked as entered from old files.
        {draft.trial === '' &&
          ' The limits of the components are taken from what was weighed: change them in the brief.'}
      </p>
      <button type="button" class="do" disabled={busy} onClick={() => void store()}>
        Store this round
      </button>
      <Trouble of={trouble} />
    </section>
  );
}

function foundSentence({
  mixes,
  bottles,
  assessors,
  sessions,
  cups,
  answers,
  missing,
}: NonNullable<OldLook['found']>) {
  const who = assessors.length > 6 ? count(assessors.length, 'taster') : listed(assessors);
  const left = missing === 0 ? 'none missing' : `${missing} missing`;
  return `${count(mixes, 'mix', 'mixes')} from ${count(bottles, 'bottle')}; ${who}; ${count(cups, 'cup')} in ${count(sessions.length, 'sitting')}; ${count(answers, 'score')}, ${left}.`;
}

const PAUSE = 250;

/** Looks at the files whenever something about them changes; what was seen stays until the new look is there. */
function useLook(draft: OldDraft) {
  const [look, setLook] = useState<OldLook | null>(null);
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const asked = useRef(0);
  const request = requestOf(draft);
  useEffect(() => {
    const turn = ++asked.current;
    if (request === null) return;
    const wait = setTimeout(() => {
      ask('lookAtOldTables', {}, request).then(
        (seen) => {
          if (asked.current !== turn) return;
          setLook(seen);
          setTrouble(null);
        },
        (thrown: unknown) => asked.current === turn && setTrouble(troubleOf(thrown)),
      );
    }, PAUSE);
    return () => clearTimeout(wait);
  }, [JSON.stringify(request)]);
  return { look, trouble };
}
