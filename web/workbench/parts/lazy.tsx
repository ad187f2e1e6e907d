import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { Failed } from './await.tsx';
import { whenIdle } from './idle.ts';

/** A page whose code is not there from the start. */
export type LazyPage<P> = ComponentType<P> & {
  /** Fetches the code before it is needed; what goes wrong shows once the page is opened. */
  ready: () => Promise<void>;
};

/** Fetches the code of pages one after another, each when the browser has nothing else to do. */
export function fetchInTurn([first, ...others]: readonly Pick<LazyPage<never>, 'ready'>[]): void {
  if (first === undefined) return;
  whenIdle(() => void first.ready().then(() => fetchInTurn(others)));
}

/** A page whose code is fetched when it is first opened. */
export function lazyPage<P extends object>(load: () => Promise<ComponentType<P>>): LazyPage<P> {
  let known: ComponentType<P> | null = null;
  const ready = () =>
    load().then(
      (is) => {
        known = is;
      },
      () => undefined,
    );
  return Object.assign(Lazy, { ready });

  function Lazy(props: P) {
    const [Page, setPage] = useState<{ is: ComponentType<P> | null }>({ is: known });
    const [failed, setFailed] = useState(false);
    const fetchPage = () => {
      setFailed(false);
      load().then(
        (is) => {
          known = is;
          setPage({ is });
        },
        () => setFailed(true),
      );
    };
    useEffect(() => {
      if (Page.is === null) fetchPage();
    }, []);
    if (failed) return <Failed message="the page could not be fetched" again={fetchPage} />;
    if (Page.is === null) return <p class="soft">Fetching the page …</p>;
    return <Page.is {...props} />;
  }
}
