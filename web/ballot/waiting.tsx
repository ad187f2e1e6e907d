import { useState } from 'preact/hooks';
import { encode } from 'uqr';
import { writeCodes } from '../../trials/schema/waiting-code.ts';
import { Heading } from './heading.tsx';
import { kept, say } from './session.ts';

/** The answers that wait on this phone as square codes and signs, for the maker to read in. */
export function WaitingCodes({ close }: { close: () => void }) {
  const { ballot, queue } = kept.value;
  const [at, setAt] = useState(0);
  const questions = ballot?.questions.map(({ id }) => id) ?? [];
  const codes = ballot && queue.length > 0 ? writeCodes(ballot.seat, queue, questions) : [];
  const code = codes[Math.min(at, codes.length - 1)];
  return (
    <section class="carry">
      <Heading text={say('codeTitle')} />
      <p>{code === undefined ? say('sent') : say('codeSays')}</p>
      {code !== undefined && (
        <>
          {codes.length > 1 && <p>{say('codeOf', { position: at + 1, cups: codes.length })}</p>}
          <Square text={code} />
          <p class="signs">{code}</p>
        </>
      )}
      {at + 1 < codes.length && (
        <button type="button" class="main" onClick={() => setAt(at + 1)}>
          {say('codeNext')}
        </button>
      )}
      <button type="button" class={at + 1 < codes.length ? '' : 'main'} onClick={close}>
        {say('codeClose')}
      </button>
    </section>
  );
}

function Square({ text }: { text: string }) {
  const { data, size } = encode(text, { ecc: 'L', border: 2 });
  const dots = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : [])));
  return (
    <svg class="square" viewBox={`0 0 ${size} ${size}`} shape-rendering="crispEdges" role="img">
      <title>{say('codeTitle')}</title>
      <path d={dots.join('')} />
    </svg>
  );
}
