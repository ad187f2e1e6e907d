import { expect } from 'vitest';
import type { Program } from './program.ts';

interface Cup {
  code: string;
  mix: string;
}

/** Calls the program as a page or a phone does. */
async function call(program: Program, path: string, body?: unknown, token?: string) {
  const answer = await fetch(program.address + path, {
    method: body === undefined ? 'GET' : 'POST',
    headers: { 'content-type': 'application/json', ...(token ? { 'x-dropwise-ballot': token } : {}) },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  expect(answer.status, path).toBe(200);
  return answer.json();
}

/**
 * All answers of the open sitting of a round, sent as the tasters' phones send them.
 * @param scoreOf the score that a taster gives a mix; in a test between two drinks the higher one is named
 */
export async function answerAsPhones(
  program: Program,
  { trial, round }: { trial: string; round: number },
  scoreOf: (mix: string, taster: string) => number,
): Promise<void> {
  const { sittings } = await call(program, `/api/trials/${trial}/rounds/${round}`);
  const { sitting } = sittings.find(({ state }: { state: string }) => state === 'open');
  const at = `/api/trials/${trial}/sittings/${sitting}`;
  const { trays } = await call(program, `${at}/pouring`);
  for (const { assessor, cups } of trays as { assessor: string; cups: Cup[] }[]) {
    const { links } = await call(program, `${at}/links`, { assessor });
    const token = new URL(links[0].address).hash.slice(1);
    const ballot = await call(program, '/api/ballot', undefined, token);
    const { version } = ballot.consent;
    await call(program, '/api/ballot/consent', { version, mayTaste: true }, token);
    const [best] = [...cups].sort((a, b) => scoreOf(b.mix, assessor) - scoreOf(a.mix, assessor));
    const isTest = /afc|triangle|tetrad|duo/.test(ballot.questions[0].form);
    const given = isTest
      ? [{ code: cups[0]!.code, value: Number(best!.code) }]
      : cups.map(({ code, mix }) => ({ code, value: scoreOf(mix, assessor) }));
    const phone = Buffer.from(assessor.padEnd(16)).toString('hex');
    const answers = given.flatMap((one, k) =>
      (ballot.questions as { id: string }[]).map(({ id: question }, q) => ({
        ...{ ...one, question, phone, count: 100 * k + q },
        id: Buffer.from(`${token.slice(0, 8)}${String(100 * k + q).padStart(8)}`).toString('hex'),
      })),
    );
    expect((await call(program, '/api/ballot/answers', { answers }, token)).refused).toEqual([]);
  }
}
