import { useState } from 'preact/hooks';
import { speaksOf } from '../../../engine/bench/limits.ts';
import type { LimitView, MaterialView } from '../../../trials/schema/api.ts';
import type { OwnLimit } from '../../../trials/schema/shelf-shapes.ts';
import { useLoaded } from '../loaded.ts';
import { useAct } from '../parts/act.ts';
import { Await, Trouble } from '../parts/await.tsx';
import { offerUndo } from '../parts/undo.tsx';
import { Unfold } from '../parts/unfold.tsx';
import { ask } from '../server.ts';
import { LimitForm } from './limit-form.tsx';
import { drinksOf, saysOf } from './limit-words.ts';
import { LimitsTable } from './limits-table.tsx';

/** What drinks are held against: the maker's own limits, to enter and change, and the legal ones. */
export function Limits({ materials }: { materials: readonly MaterialView[] }) {
  const [limits, again] = useLoaded('limits', () => ask('listLimits'));
  return (
    <>
      <h2>Limits</h2>
      <p>
        Briefs, plans and cards are held against these, each with where it stands. Legal ones that were not
        verified against the law say so; your own are your own figures: check the law where you sell. No
        verdict: local law and a qualified person decide.
      </p>
      <Await of={limits} what="the limits" again={again}>
        {(found) => <LimitParts found={found} materials={materials} />}
      </Await>
    </>
  );
}

interface PartsProps {
  found: readonly LimitView[];
  materials: readonly MaterialView[];
}

function LimitParts({ found, materials }: PartsProps) {
  const [limits, setLimits] = useState(found);
  const [changing, setChanging] = useState<number | null>(null);
  const { trouble, run } = useAct();
  const own = limits.flatMap((one) => (one.own === null ? [] : [{ ...one, own: one.own }]));
  const put = async (limit: number, entry: OwnLimit) => setLimits(await ask('changeLimit', { limit }, entry));
  const take = async (limit: number) => setLimits(await ask('takeLimitAway', { limit }));
  const takeAway = (one: LimitView & { own: number }) =>
    run(async () => {
      await take(one.own);
      offerUndo(
        `The limit for ${one.substance} is taken away.`,
        () => void run(() => put(one.own, entryOf(one))),
      );
    });
  const add = async (entry: OwnLimit) => {
    const next = await ask('addLimit', {}, entry);
    setLimits(next);
    const added = Math.max(...next.map((one) => one.own ?? 0));
    offerUndo(`The limit for ${entry.substance} is kept.`, () => void run(() => take(added)));
  };
  const change = async (one: LimitView & { own: number }, entry: OwnLimit) => {
    await put(one.own, entry);
    setChanging(null);
    offerUndo(
      `The limit for ${entry.substance} is changed.`,
      () => void run(() => put(one.own, entryOf(one))),
    );
  };
  return (
    <>
      {own.length > 0 && (
        <ul class="people" aria-label="Limits of your own">
          {own.map((one) =>
            changing === one.own ? (
              <li key={one.own}>
                <LimitForm
                  label={`The limit for ${one.substance}`}
                  act="Keep the change"
                  of={one}
                  materials={materials}
                  send={(entry) => change(one, entry)}
                />
                <button type="button" class="quiet" onClick={() => setChanging(null)}>
                  Leave it as it was
                </button>
              </li>
            ) : (
              <li key={one.own}>
                <span>
                  <strong>{one.substance}</strong>: {saysOf(one)} {drinksOf(one)}.{' '}
                  <span class="soft small">
                    {whereOf(one)} Own figure, not verified: check the law where you sell.
                    {one.note !== '' && ` ${one.note}`}
                  </span>
                  {!isOnShelf(one, materials) && (
                    <strong class="small">
                      {' '}
                      Nothing on the shelf is called so: it speaks only of what a formula calls exactly so.
                    </strong>
                  )}
                </span>
                <button type="button" onClick={() => setChanging(one.own)}>
                  Change<span class="unseen"> the limit for {one.substance}</span>
                </button>
                <button type="button" class="quiet" onClick={() => void takeAway(one)}>
                  Take away<span class="unseen"> the limit for {one.substance}</span>
                </button>
              </li>
            ),
          )}
        </ul>
      )}
      <Trouble of={trouble} />
      <Unfold says="A limit of your own">
        <LimitForm
          label="A limit of your own"
          act="Keep the limit"
          of={null}
          materials={materials}
          send={add}
        />
      </Unfold>
      <Unfold says="Show the legal limits">
        <LimitsTable limits={limits.filter((one) => one.own === null)} />
      </Unfold>
    </>
  );
}

/** `Stands in: letter of May (customer).` Whose rule it is goes without saying where it is the maker's. */
function whereOf({ jurisdiction, source }: LimitView): string {
  return `Stands in: ${source}${jurisdiction === 'own' ? '' : ` (${jurisdiction})`}.`;
}

/** Whether it speaks of a material of the shelf or of what one holds. */
function isOnShelf(limit: LimitView, materials: readonly MaterialView[]): boolean {
  return materials.some(
    (one) =>
      speaksOf(limit, one) ||
      one.constituents.some(({ substance, cas }) => speaksOf(limit, { name: substance, cas })),
  );
}

/** An own limit as it is sent. */
function entryOf({ substance, cas, limit, unit, kind, drinks, only, jurisdiction, source, note }: LimitView) {
  return {
    ...{ substance, cas, limit, unit, kind, drinks, only, jurisdiction, source, note },
  } as OwnLimit;
}
