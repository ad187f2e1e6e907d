import type { AsideAnswer } from '../../engine/panel/asides/aside-types.ts';
import { type PairCount, readPairs } from '../../engine/panel/asides/read-pairs.ts';
import { readPicks } from '../../engine/panel/asides/read-picks.ts';
import { readRanking } from '../../engine/panel/asides/read-ranking.ts';
import { readRising } from '../../engine/panel/asides/read-rising.ts';
import { readWords } from '../../engine/panel/asides/read-words.ts';
import { documentOf } from './documents.ts';

interface Read {
  warnings?: readonly string[] | undefined;
}

export interface RanksRequest extends Read {
  answers: readonly AsideAnswer[];
  /** Mixes in the order in which places are expected to rise. */
  rising?: readonly string[] | undefined;
}

/** What orders of cups say; with an expected order, whether places rise along it. */
export function ranksOperation(request: RanksRequest) {
  const { answers, rising } = request;
  const { id: _, form: __, ...reading } = readRanking({ id: 'ranks', form: 'ranking' }, answers);
  return documentOf(request, {
    ...reading,
    ...(rising === undefined ? {} : { rising: readRising(answers, rising) }),
  });
}

/** What choices between two cups say. */
export function pairsOperation(request: Read & { counts: readonly PairCount[] }) {
  return documentOf(request, { ...readPairs(request.counts), warnings: [] });
}

/** What first choices say. */
export function picksOperation(request: Read & { counts: readonly { mix: string; count: number }[] }) {
  return documentOf(request, { ...readPicks(request.counts), warnings: [] });
}

/** What words for cups say. */
export function wordsOperation(
  request: Read & { answers: readonly AsideAnswer[]; words?: readonly string[] | undefined },
) {
  const { answers, words } = request;
  const { id: _, form: __, ...reading } = readWords({ id: 'words', form: 'describe', words }, answers);
  return documentOf(request, reading);
}
