import { createRandom, type Random } from '../../engine/numeric/random.ts';
import { messageId } from '../../trials/rounds/take-answers.ts';
import type { AnswerMessage } from '../../trials/schema/ballot.ts';

/** A phone on a bad network. */
export interface RoughPhone {
  /** The last value given to each question about each cup. */
  given: Map<string, number>;
  /** Ids that the server has acknowledged to this phone. */
  acknowledged: Set<string>;
  /** Milliseconds that each answered request took. */
  took: number[];
  /** How often the line was cut under it. */
  cut: { times: number };
  /** Gives every answer, some twice over, and sends until all are acknowledged. */
  run(): Promise<void>;
}

interface PhoneOptions {
  base: string;
  token: string;
  name: string;
  codes: readonly string[];
  questions: readonly string[];
  seed: number;
  /** Share of requests that are lost on the way, lost on the way back, sent twice, or held up: each. */
  trouble: number;
  /** Most answers in a message. */
  batch: number;
}

const ANOTHER_MIND = 0.05;

/** A phone that answers every question about every cup in order, changing its mind now and then. */
export function roughPhone(options: PhoneOptions): RoughPhone {
  const { name, codes, questions, seed } = options;
  const random = createRandom(seed, `phone ${name}`);
  const phone = messageId(['phone', name]);
  const given = new Map<string, number>();
  const acknowledged = new Set<string>();
  const took: number[] = [];
  const held: Promise<void>[] = [];
  const cut = { times: 0 };
  let count = 0;
  const answer = (code: string, question: string): AnswerMessage => {
    const value = Math.floor(101 * random.uniform());
    given.set(`${code} ${question}`, value);
    count += 1;
    return { id: messageId([phone, String(count)]), code, question, value, phone, count };
  };
  const send = async (answers: readonly AnswerMessage[]): Promise<void> => {
    const began = performance.now();
    const response = await fetch(`${options.base}/api/ballot/answers`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'x-dropwise-ballot': options.token },
      body: JSON.stringify({ answers }),
    }).catch(() => null);
    // The line was cut, as phones know it: what was not acknowledged is sent again.
    if (response === null) {
      cut.times += 1;
      return;
    }
    const receipt = (await response.json()) as { stored?: string[] };
    took.push(performance.now() - began);
    if (response.status !== 200) throw new Error(`answered ${response.status} ${JSON.stringify(receipt)}`);
    for (const id of receipt.stored ?? []) acknowledged.add(id);
  };
  const roughly = (answers: readonly AnswerMessage[]) =>
    sendRoughly(send, answers, { random, held, ...options });
  const run = async () => {
    let queue: AnswerMessage[] = [];
    for (const code of codes)
      for (const question of questions) {
        queue.push(answer(code, question));
        if (random.uniform() < ANOTHER_MIND) queue.push(answer(code, question));
        await roughly(queue.slice(0, options.batch));
        queue = queue.filter(({ id }) => !acknowledged.has(id));
      }
    while (queue.length > 0) {
      await roughly(queue.slice(0, options.batch));
      queue = queue.filter(({ id }) => !acknowledged.has(id));
    }
    await Promise.all(held);
  };
  return { given, acknowledged, took, cut, run };
}

/** Sends once, or as the network will have it. */
async function sendRoughly(
  send: (answers: readonly AnswerMessage[]) => Promise<void>,
  answers: readonly AnswerMessage[],
  { random, held, trouble }: { random: Random; held: Promise<void>[]; trouble: number },
): Promise<void> {
  const fate = random.uniform();
  if (fate < trouble) return;
  if (fate < 2 * trouble) {
    await Promise.all([send(answers), send(answers)]);
    return;
  }
  if (fate < 3 * trouble) {
    const wait = 20 + 400 * random.uniform();
    held.push(new Promise<void>((resolve) => setTimeout(resolve, wait)).then(() => send(answers)));
    return;
  }
  await send(answers);
}
