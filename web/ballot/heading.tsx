import { useLayoutEffect, useRef } from 'preact/hooks';

/** The heading takes the focus when a screen opens, so that a screen reader starts there. */
export function Heading({ text, code }: { text: string; code?: string | undefined }) {
  const ref = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    ref.current?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }, []);
  return (
    <h1 ref={ref} tabIndex={-1}>
      {text}
      {code && <span class="small-code">{code}</span>}
    </h1>
  );
}
