import { useMemo, useState } from 'preact/hooks';
import type { TrialView } from '../../../trials/schema/api.ts';
import { toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import { meshPolygon } from '../../charts/triangle/mesh.ts';
import type { Three } from '../../charts/triangle/plane.ts';
import { toShares } from '../../charts/triangle/plane.ts';
import { type RegionData, regionChart } from '../../charts/triangle/region-chart.ts';
import { sliceRegion } from '../../charts/triangle/slice.ts';
import { count } from '../numbers.ts';
import { Chart } from '../parts/chart.tsx';
import { regionSays } from '../parts/chart-words.ts';
import { Choice } from '../parts/field.tsx';
import { weighedMixes } from '../reading/reading-view.ts';
import type { PlanDocument } from '../results.ts';
import { type Draft, sharesIn, varianceOf } from './draft.ts';

interface RegionProps {
  trial: TrialView;
  plan: PlanDocument;
  draft: Draft;
}

const CORNERS = ['Upward', 'To the left', 'To the right'] as const;
/** Points along each slice of the mesh. */
const FINENESS = 9;

/** What is allowed, drawn over three components: corners, mixes, and where the plan would know least. */
export function PlanRegion({ trial, plan, draft }: RegionProps) {
  const { components } = trial.brief;
  const [three, setThree] = useState(() => widest(trial));
  const data = useMemo(
    () => (components.length < 3 ? null : regionData({ trial, plan, draft }, three)),
    [trial, plan, draft, three],
  );
  if (components.length < 3 || plan.corners.length < 3) return null;
  const set = (corner: number, to: number) => {
    const next: [number, number, number] = [...three];
    const taken = next.indexOf(to);
    if (taken >= 0) next[taken] = next[corner]!;
    next[corner] = to;
    setThree(next);
  };
  return (
    <section>
      <h2>What may be mixed</h2>
      {components.length > 3 && (
        <div class="fields">
          {CORNERS.map((label, corner) => (
            <Choice
              key={label}
              label={label}
              value={String(three[corner])}
              options={components.map(({ id }, index) => [String(index), id] as const)}
              change={(to) => set(corner, Number(to))}
            />
          ))}
        </div>
      )}
      {data === null ? (
        <p class="soft">
          With the other components in the middle, these three leave nothing that is allowed.
        </p>
      ) : (
        <Chart
          title={data.title}
          summary={`${regionSays(data)} ${summaryOf(trial, plan)}`}
          of={data}
          spec={(frame) => regionChart(data, frame)}
          table={{
            head: ['mix', ...three.map((i) => components[i]!.id)],
            rows: data.mixes.map(({ mix, shares }) => [mix, ...shares.map((share) => 100 * share)]),
          }}
        />
      )}
    </section>
  );
}

/** The three components with the most room, in the order of the brief. */
function widest({ brief: { components } }: TrialView): [number, number, number] {
  const room = components
    .map(({ low, high }, i) => ({ i, room: high - low }))
    .sort((a, b) => b.room - a.room);
  const [a = 0, b = 1, c = 2] = room
    .slice(0, 3)
    .map(({ i }) => i)
    .sort((x, y) => x - y);
  return [a, b, c];
}

function summaryOf(trial: TrialView, { corners, cornersComplete }: PlanDocument): string {
  const q = trial.brief.components.length;
  const many = cornersComplete ? count(corners.length, 'corner') : 'more corners than can be listed';
  const slice =
    q > 3 ? ', cut here with the others in the middle; mixes that lie elsewhere are drawn small' : '';
  return `The allowed ratios have ${many}${slice}. Dashed rings are planned, full ones held or made already. The stronger the colour, the less sure a prediction there would be.`;
}

function regionData(
  { trial, plan, draft }: RegionProps,
  three: readonly [number, number, number],
): RegionData | null {
  const { components } = trial.brief;
  const space = toBlendSpace(trial.brief);
  const middle = components.map(
    (_, i) => plan.corners.reduce((sum, c) => sum + c[i]!, 0) / plan.corners.length,
  );
  const { frame, outline } = sliceRegion(space, three, middle);
  if (outline.length < 3) return null;
  const pick = (shares: readonly number[]): Three => [
    shares[three[0]]!,
    shares[three[1]]!,
    shares[three[2]]!,
  ];
  const near = (shares: readonly number[]) =>
    components.every(
      ({ low, high }, i) => three.includes(i) || Math.abs(shares[i]! - middle[i]!) <= 0.05 * (high - low),
    );
  const place = (mix: string, shares: readonly number[], state: 'planned' | 'held' | 'made') => ({
    ...{ mix, state, onSlice: components.length === 3 || near(shares) },
    shares: pick(shares),
  });
  const mesh = meshPolygon(outline, FINENESS);
  const variance = varianceOf(trial, plan, draft);
  const at = (point: readonly [number, number]) => {
    const own = toShares(frame, point);
    return middle.map((share, i) => (three.includes(i) ? own[three.indexOf(i)]! : share));
  };
  return {
    title: 'What may be mixed, and where the mixes lie',
    names: [components[three[0]]!.id, components[three[1]]!.id, components[three[2]]!.id],
    ...{ frame, outline, mesh },
    variances: variance === null ? [] : mesh.points.map((point) => variance(at(point))),
    mixes: [
      ...weighedMixes(trial).map(({ mix, shares }) => place(mix, shares, 'made')),
      ...plan.mixes
        .filter(({ mix }) => !draft.unwanted.has(mix))
        .map((mix) =>
          place(
            mix.mix,
            sharesIn(trial, draft, mix),
            draft.held.has(mix.mix) || mix.pinned ? 'held' : 'planned',
          ),
        ),
    ],
  };
}
