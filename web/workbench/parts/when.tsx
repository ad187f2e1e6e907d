import { useEffect, useState } from 'preact/hooks';
import { when } from '../numbers.ts';
import { whenIdle } from './idle.ts';

/** `25 Nov, 10:52`, said once the page stands: the first date of a page takes the browser longer than most words on it. */
export function When({ at }: { at: string }) {
  const [text, setText] = useState('');
  useEffect(() => {
    let gone = false;
    whenIdle(() => !gone && setText(when(at)));
    return () => {
      gone = true;
    };
  }, [at]);
  return <time dateTime={at}>{text}</time>;
}
