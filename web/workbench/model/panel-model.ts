import type { Chances } from '../../../engine/model/chance.ts';
import type { Point } from '../../../engine/model/posterior-types.ts';
import type { PanelMap } from '../../../engine/panel/map/panel-map.ts';
import type { Reading } from '../../../trials/schema/api.ts';
import { inputOf, readOf } from '../results.ts';
import type { Answer, Question, Scores } from './messages.ts';

type Unnumbered<Q> = Q extends { id: number } ? Omit<Q, 'id'> : never;

/** What one reading says of any ratio, worked out beside the page by the same engine that made the reading. */
export interface PanelModel {
  /** By attribute in the order of the brief; null where it could not be modelled. */
  scores(points: readonly Point[]): Promise<(Scores | null)[]>;
  /** @param draws more of them make a chance steadier: 400 hold it within 5 of a hundred, 4000 within 1.6 */
  chances(points: readonly Point[], draws: number): Promise<Chances>;
  /** Mixes by how alike they taste, each with a region of where it may lie. */
  map(): Promise<PanelMap>;
}

let current: { reading: string; model: PanelModel; close: () => void } | null = null;

/** The model of a stored reading; the last one asked for is kept, so that going back and forth learns nothing twice. */
export function modelOf(stored: Reading): PanelModel {
  const key = `${stored.reading} ${stored.at}`;
  if (current?.reading === key) return current.model;
  current?.close();
  const line = openLine();
  const learnt = line.ask({ ask: 'learn', input: inputOf(stored), region: readOf(stored).fit.region });
  const model: PanelModel = {
    scores: async (points) => {
      await learnt;
      const answer = await line.ask({ ask: 'scores', points });
      return answer.done === 'scores' ? answer.scores : [];
    },
    chances: async (points, draws) => {
      await learnt;
      const answer = await line.ask({ ask: 'chances', points, draws });
      if (answer.done !== 'chances') throw new Error('the engine answered something else');
      return answer.chances;
    },
    map: async () => {
      await learnt;
      const answer = await line.ask({ ask: 'map' });
      if (answer.done !== 'map') throw new Error('the engine answered something else');
      const { mixes, questions, map, reason } = answer;
      return { mixes, questions, map, reason };
    },
  };
  learnt.catch(() => {
    if (current?.reading === key) current = null;
  });
  current = { reading: key, model, close: line.close };
  return model;
}

/** A worker that answers questions by their number. */
function openLine() {
  const worker = new Worker(new URL('./panel-worker.ts', import.meta.url), { type: 'module' });
  const waiting = new Map<number, { resolve: (answer: Answer) => void; reject: (why: Error) => void }>();
  let last = 0;
  worker.onmessage = ({ data }: MessageEvent<Answer>) => {
    const asked = waiting.get(data.id);
    waiting.delete(data.id);
    if (data.done === 'failed') asked?.reject(new Error(data.message));
    else asked?.resolve(data);
  };
  worker.onerror = () => {
    for (const { reject } of waiting.values()) reject(new Error('the engine in this page has stopped'));
    waiting.clear();
  };
  return {
    ask: (question: Unnumbered<Question>) =>
      new Promise<Answer>((resolve, reject) => {
        last += 1;
        waiting.set(last, { resolve, reject });
        worker.postMessage({ ...question, id: last });
      }),
    close: () => worker.terminate(),
  };
}
