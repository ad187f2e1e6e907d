import { useState } from 'preact/hooks';
import { type AimedAttribute, matchingBand } from '../../charts/aims.ts';
import { type TriangleData, triangleChart } from '../../charts/triangle/triangle-chart.ts';
import { useLoaded } from '../loaded.ts';
import { modelOf } from '../model/panel-model.ts';
import { listed } from '../numbers.ts';
import { Await } from '../parts/await.tsx';
import { Chart } from '../parts/chart.tsx';
import { triangleSays } from '../parts/chart-words.ts';
import { Choice } from '../parts/field.tsx';
import { rankedMixes } from './profile-section.tsx';
import type { ReadingView, WeighedMix } from './reading-view.ts';
import {
  type AskedSlice,
  askedSlice,
  COARSE,
  FINE,
  mixesOn,
  surfaceOf,
  type TriangleChoice,
} from './triangle-model.ts';

/** Stands for the chance of a match among the questions. */
const CHANCE = 'chance of a match';

/** How the ratios move one attribute, three components at a time. */
export function TriangleSection({ view }: { view: ReadingView }) {
  const [choice, setChoice] = useState<TriangleChoice>(() => firstChoice(view));
  const mix = view.mixes.find((one) => one.mix === choice.through) ?? view.mixes[0];
  if (view.trial.brief.components.length < 3 || mix === undefined) return null;
  return (
    <section>
      <h2>How the ratios move the flavour</h2>
      <TriangleControls view={view} choice={choice} change={setChoice} />
      <TriangleAsked
        key={`${choice.three.join()} ${mix.mix}`}
        view={view}
        choice={choice}
        mix={mix}
        tap={(through) => setChoice({ ...choice, through })}
      />
    </section>
  );
}

/** The first question with a target, over the three components that move it most, through the mix nearest to the target. */
function firstChoice(view: ReadingView): TriangleChoice {
  const aimed = view.attributes.find((attribute) => matchingBand(attribute) !== null) ?? view.attributes[0];
  const effects = view.fit.find(({ id }) => id === aimed?.id)?.effects ?? [];
  const strength = (id: string) => Math.abs(effects.find(({ component }) => component === id)?.change ?? 0);
  const strongest = view.trial.brief.components
    .map(({ id }, index) => ({ index, by: strength(id) }))
    .sort((a, b) => b.by - a.by)
    .slice(0, 3)
    .map(({ index }) => index)
    .sort((a, b) => a - b);
  const nearest = rankedMixes(view).find((mix) => view.mixes.some((one) => one.mix === mix));
  return {
    attribute: aimed?.id ?? '',
    three: [strongest[0] ?? 0, strongest[1] ?? 1, strongest[2] ?? 2],
    through: nearest ?? view.mixes[0]?.mix ?? '',
  };
}

interface ControlsProps {
  view: ReadingView;
  choice: TriangleChoice;
  change: (choice: TriangleChoice) => void;
}

const CORNERS = ['Upward', 'To the left', 'To the right'] as const;

function TriangleControls({ view, choice, change }: ControlsProps) {
  const { components } = view.trial.brief;
  const setCorner = (corner: number, to: number) => {
    const three = [...choice.three] as [number, number, number];
    const taken = three.indexOf(to);
    if (taken >= 0) three[taken] = three[corner]!;
    three[corner] = to;
    change({ ...choice, three });
  };
  return (
    <div class="fields">
      <Choice
        label="Question"
        class="wide"
        value={choice.attribute}
        options={[...view.attributes.map(({ id, name }) => [id, name] as const), [CHANCE, CHANCE]]}
        change={(attribute) => change({ ...choice, attribute })}
      />
      {CORNERS.map((label, corner) => (
        <Choice
          key={label}
          label={label}
          value={String(choice.three[corner])}
          options={components.map(({ id }, index) => [String(index), id] as const)}
          change={(to) => setCorner(corner, Number(to))}
        />
      ))}
      {components.length > 3 && (
        <Choice
          label="Slice through"
          value={choice.through}
          options={view.mixes.map(({ mix }) => [mix, mix] as const)}
          change={(through) => change({ ...choice, through })}
        />
      )}
    </div>
  );
}

interface AskedProps {
  view: ReadingView;
  choice: TriangleChoice;
  mix: WeighedMix;
  tap: (mix: string) => void;
}

function TriangleAsked({ view, choice, mix, tap }: AskedProps) {
  const isChance = choice.attribute === CHANCE;
  const key = `${view.stored.reading} ${choice.three.join()} ${mix.mix} ${isChance}`;
  const [loaded, again] = useLoaded(key, async () => {
    const asked = askedSlice(view, choice, mix, isChance ? COARSE : FINE);
    return asked && { asked, surfaces: await surfacesOn(view, asked, isChance) };
  });
  return (
    <Await of={loaded} what="what these ratios should taste like" again={again}>
      {(found) =>
        found === null ? (
          <p class="soft">
            With the other components as in {mix.mix}, these three leave nothing that is allowed.
          </p>
        ) : (
          <TriangleShown view={view} choice={choice} mix={mix} tap={tap} {...found} />
        )
      }
    </Await>
  );
}

type Surface = { means: number[]; halfWidths: number[] };

/** By attribute, or the one of the chance. */
async function surfacesOn(view: ReadingView, { points }: AskedSlice, isChance: boolean) {
  const model = modelOf(view.stored);
  const surfaces = new Map<string, Surface | null>();
  if (isChance) {
    const { joint } = await model.chances(points, 500);
    surfaces.set(CHANCE, joint && { means: [...joint].map((c) => 100 * c), halfWidths: points.map(() => 0) });
    return surfaces;
  }
  const scores = await model.scores(points);
  view.attributes.forEach(({ id }, k) => {
    const found = scores[k] ?? null;
    surfaces.set(id, found && surfaceOf(found));
  });
  return surfaces;
}

interface ShownProps extends AskedProps {
  asked: AskedSlice;
  surfaces: ReadonlyMap<string, Surface | null>;
}

function TriangleShown({ view, choice, mix, asked, surfaces, tap }: ShownProps) {
  const attribute = shownAs(view, choice);
  const surface = surfaces.get(choice.attribute) ?? null;
  if (surface === null) return <p class="soft">The scores do not say how this moves with the ratios.</p>;
  const { components } = view.trial.brief;
  const names = choice.three.map((c) => components[c]!.id) as [string, string, string];
  const title = `${attribute.name} over ${listed(names)}`;
  const data: TriangleData = {
    title,
    attribute,
    names,
    frame: asked.slice.frame,
    outline: asked.slice.outline,
    mesh: asked.mesh,
    ...surface,
    veilAbove: 0.2 * (attribute.scale[1] - attribute.scale[0]),
    mixes: mixesOn(view, choice, mix),
  };
  return (
    <Chart
      title={title}
      summary={<TriangleSays view={view} choice={choice} mix={mix} data={data} />}
      of={`${choice.attribute} ${choice.three.join()} ${mix.mix}`}
      spec={(frame) => triangleChart(data, frame)}
      tap={(datum) => typeof datum['mix'] === 'string' && tap(datum['mix'])}
      table={{
        head: [...components.map(({ id }) => `${id}, parts`), attribute.name, 'give or take'],
        rows: asked.points.map(({ shares }, i) => [
          ...shares.map((share) => 100 * share),
          surface.means[i]!,
          surface.halfWidths[i]!,
        ]),
      }}
    />
  );
}

/** The attribute that is looked at, or the chance of a match as one. */
function shownAs(view: ReadingView, { attribute }: TriangleChoice): AimedAttribute {
  return (
    view.attributes.find(({ id }) => id === attribute) ?? {
      id: CHANCE,
      name: 'Chance of a match, in 100',
      scale: [0, 100],
      aim: null,
      weight: 0,
    }
  );
}

interface SaysProps extends Omit<AskedProps, 'tap'> {
  data: TriangleData;
}

function TriangleSays({ view, choice, mix, data }: SaysProps) {
  const { attribute } = data;
  const others = view.trial.brief.components.filter((_, c) => !choice.three.includes(c)).map(({ id }) => id);
  const hatched = matchingBand(attribute) !== null;
  return (
    <>
      {triangleSays(data)} {others.length > 0 && `With ${listed(others)} as in ${mix.mix}. `}
      {hatched && 'Hatched: within tolerance of the target. '}
      {attribute.id !== CHANCE && 'Washed out: the panel cannot know it within a fifth of the scale. '}A ring
      for each pour; small ones lie off this slice. Tap a mix to slice through it.
    </>
  );
}
