import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { sentence } from './sentence.ts';
import { Unfold } from './unfold.tsx';

/** The head of a page: what it is, and one sentence. The heading takes the focus when the page changes. */
export function PageHead({ title, children }: { title: string; children?: ComponentChildren }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useLayoutEffect(() => {
    document.title = `${title} · Dropwise`;
    if (document.activeElement === document.body || document.activeElement?.closest('nav, details.spine'))
      heading.current?.focus();
  }, [title]);
  return (
    <header>
      <h1 ref={heading} tabIndex={-1}>
        {title}
      </h1>
      {children !== undefined && <p class="lead">{children}</p>}
    </header>
  );
}

/** Figures, one click behind the words. */
export function Figures({ says = 'the figures', children }: { says?: string; children: ComponentChildren }) {
  return <Unfold says={says}>{children}</Unfold>;
}

/** Something to mind. */
export function Care({ children }: { children: ComponentChildren }) {
  return <div class="note care">{children}</div>;
}

/** Warnings of a result, if there are any, each once. */
export function Warnings({ of = [] }: { of: readonly string[] | undefined }) {
  if (of.length === 0) return null;
  const lines = [...new Set(of)];
  return (
    <Care>
      {lines.length === 1 ? (
        <p>{sentence(lines[0]!)}</p>
      ) : (
        <ul>
          {lines.map((line) => (
            <li key={line}>{sentence(line)}</li>
          ))}
        </ul>
      )}
    </Care>
  );
}
