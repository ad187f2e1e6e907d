import type { AsideReading, RankingReading, WordsReading } from '../../engine/panel/asides/aside-types.ts';
import type { PairsReading } from '../../engine/panel/asides/read-pairs.ts';
import type { PicksReading } from '../../engine/panel/asides/read-picks.ts';
import type { RisingReading } from '../../engine/panel/asides/read-rising.ts';
import { short, shortInterval, shortP, textTable } from './text-table.ts';

/** What was asked beside the scales of a ballot. */
export function showAside(reading: AsideReading): string {
  const text = reading.form === 'ranking' ? showRanking(reading) : showWords(reading);
  return `${reading.id}: ${text}`;
}

type Ranking = Omit<RankingReading, 'id' | 'form'> & { rising?: RisingReading };

export function showRanking({ says, mixes, test, concordance, pairs, rising }: Ranking): string {
  const exact = test.pExact === null ? '' : `, exact ${shortP(test.pExact)}`;
  const figures =
    test.p === null
      ? []
      : [
          `  Chi-square(${test.df}) = ${short(test.statistic)}, p ${shortP(test.p)}${exact}${concordance === null ? '' : `; concordance ${short(concordance, 3)}`}.\n`,
        ];
  const apart = pairs.filter(({ pAllPairs }) => pAllPairs < 0.05).map(({ a, b }) => `${a} and ${b}`);
  return [
    `${says}\n\n`,
    ...(mixes.length === 0 ? [] : [`${rankTable(mixes)}`]),
    ...figures,
    ...(apart.length === 0 ? [] : [`  Apart, all pairs looked at: ${apart.join('; ')}.\n`]),
    ...(rising === undefined ? [] : [`  ${rising.order.join(' < ')}: ${risingLine(rising)}\n`]),
  ].join('');
}

function rankTable(mixes: Ranking['mixes']): string {
  return textTable(
    [{ title: 'mix' }, ...['place, 0 to 1', 'sum', 'ballots'].map((title) => ({ title, numeric: true }))],
    mixes.map(({ mix, height, rankSum, ballots }) => [
      mix,
      short(height, 3),
      short(rankSum),
      String(ballots),
    ]),
  );
}

function risingLine({ says, statistic, p, pExact }: RisingReading): string {
  if (p === null) return says;
  return `${says} L = ${short(statistic, 6)}, p ${shortP(p)}${pExact === null ? '' : `, exact ${shortP(pExact)}`}.`;
}

export function showWords({ says, mixes, words }: Omit<WordsReading, 'id' | 'form'>): string {
  const table = textTable(
    [{ title: 'word' }, ...[...mixes, 'p'].map((title) => ({ title, numeric: true }))],
    words.map(({ word, counts, p }) => [word, ...counts.map(String), shortP(p)]),
  );
  return words.length === 0 ? `${says}\n` : `${says}\n\n${table}`;
}

export function showPairs({ says, mixes, lackOfFit }: PairsReading): string {
  if (mixes.length === 0) return `${says}\n`;
  const table = textTable(
    [{ title: 'mix' }, ...['strength', 'standard error'].map((title) => ({ title, numeric: true }))],
    mixes.map(({ mix, strength, standardError }) => [mix, short(strength), short(standardError, 3)]),
  );
  const fits =
    lackOfFit.p === null
      ? 'No pair is left to check the strengths by.'
      : `One strength a mix against all pairs: chi-square(${lackOfFit.df}) = ${short(lackOfFit.deviance)}, p ${shortP(lackOfFit.p)}.`;
  return `${says}\n\n${table}  ${fits}\n`;
}

export function showPicks({ says, mixes, statistic, df, p, pExact }: PicksReading): string {
  const table = textTable(
    [
      { title: 'mix' },
      ...['picked', 'share'].map((title) => ({ title, numeric: true })),
      { title: '95 % interval' },
    ],
    mixes.map(({ mix, count, share, interval }) => [
      mix,
      String(count),
      short(share, 3),
      shortInterval(interval, 3),
    ]),
  );
  const exact = pExact === null ? '' : `, exact ${shortP(pExact)}`;
  return `${says}\n\n${table}  All alike: chi-square(${df}) = ${short(statistic)}, p ${shortP(p)}${exact}.\n`;
}
