import type { RightReading } from '../../engine/panel/answers/read-right.ts';
import type { StepsReading } from '../../engine/panel/answers/read-steps.ts';
import type { LikingReading } from '../../engine/panel/map/liking-with.ts';
import type { PanelMap } from '../../engine/panel/map/panel-map.ts';
import { short, shortInterval, shortP, textTable } from './text-table.ts';

/** Steps read as steps. */
export function showSteps({ status, reason, steps, mixTest, assessorVariance, mixes }: StepsReading): string {
  const head =
    status === 'estimated'
      ? `  Read as steps: mixes differ: chi-square(${mixTest.df}) = ${short(mixTest.chiSquare)}, p ${shortP(mixTest.p)}; variance between assessors ${short(assessorVariance, 3)}.\n`
      : `  Read as steps: nothing can be said (${reason}).\n`;
  const titles = [...steps.map((step) => `step ${step}`), 'place', 'standard error'];
  return `${head}${textTable(
    [{ title: 'mix' }, ...titles.map((title) => ({ title, numeric: true }))],
    mixes.map(({ mix, counts, place, standardError }) => [
      mix,
      ...counts.map(String),
      short(place, 3),
      short(standardError, 3),
    ]),
  )}`;
}

/** Just about right. */
export function showRight({ mixes, overall, reason }: RightReading): string {
  const lines = mixes.map(({ mix, says }) => `  ${mix}: ${says}\n`);
  if (overall === null) return `${lines.join('')}  What being off costs: cannot be said (${reason}).\n`;
  const side = (words: string, { share, drop, interval, cost }: typeof overall.off) =>
    drop === null
      ? `${words}: nobody to compare`
      : `${words}: ${Math.round(100 * share)} % of answers, ${short(drop, 3)} points of liking lower (${shortInterval(interval, 3)}), costing ${short(cost, 3)}`;
  return `${lines.join('')}  Over all mixes, ${side('too little', overall.tooWeak)}; ${side('too much', overall.tooStrong)}.\n`;
}

export function showLiking({ of, with: others }: LikingReading): string {
  return `${of} goes with:\n\n${textTable(
    [
      { title: 'attribute' },
      { title: 'correlation', numeric: true },
      { title: '95 % interval' },
      { title: 'p', numeric: true },
      { title: '' },
    ],
    others.map(({ id, correlation, interval, p, reason }) => [
      id,
      short(correlation, 3),
      shortInterval(interval, 3),
      shortP(p),
      reason ?? '',
    ]),
  )}`;
}

export function showMap(
  { mixes, questions, map, reason }: PanelMap,
  attributes: readonly { id: string }[],
): string {
  if (map === null || map.regions.length === 0) return `There is no map: ${reason}.\n`;
  const share = (c: number) => `${Math.round(100 * (map.map.explained[c] ?? 0))} %`;
  const rows = [
    ...mixes.map((mix, i) => [mix, ...map.map.scores[i]!.map((v) => short(v, 3))]),
    ...questions.map((k, at) => [attributes[k]!.id, ...map.map.loadings[at]!.map((v) => short(v, 3))]),
  ];
  const apart = map.pairs.filter(({ p }) => p !== null && p < 0.05).length;
  return `On the map ${apart} of ${map.pairs.length} pairs of mixes lie apart (${map.draws} panels drawn).\n\n${textTable(
    [
      { title: 'mix or attribute' },
      { title: `across, ${share(0)}`, numeric: true },
      { title: `up, ${share(1)}`, numeric: true },
    ],
    rows,
  )}`;
}
