/** Stands in for the built worker: says how far it is, then does what its input asks. */
export default async function work({ kind, input, seed, port, flag }) {
  const asked = new Int32Array(flag);
  const wish = input?.options?.mixes ?? 0;
  try {
    port.postMessage({ share: 0.5, doing: 'half way' });
    await new Promise((resolve) => setTimeout(resolve, 30));
    if (wish === 101) throw new Error('broken inside, with a secret');
    if (wish === 102)
      return {
        misuse: {
          fault: 'too-few-mixes',
          argument: 'mixes',
          found: 102,
          allowed: '5 or more',
          message: 'too few',
        },
      };
    if (wish === 103) while (Atomics.load(asked, 0) === 0) Atomics.wait(asked, 0, 0, 20);
    if (wish === 103)
      return { misuse: { fault: 'cancelled', argument: 'hooks', found: true, allowed: '', message: '' } };
    if (wish === 104) for (;;) Math.sqrt(2);
    return { result: JSON.stringify({ kind, seed, third: 1 / 3, mixes: [] }) };
  } finally {
    port.close();
  }
}
