import { useState } from 'preact/hooks';
import { type Loaded, troubleOf } from '../loaded.ts';

/** Something the maker has the page do: one at a time, and what went wrong with the last one. */
export interface Act {
  busy: boolean;
  trouble: Loaded<never> | null;
  /** Runs it unless one is under way; true where it went well. */
  run: (what: () => unknown) => Promise<boolean>;
}

export function useAct(): Act {
  const [busy, setBusy] = useState(false);
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const run: Act['run'] = async (what) => {
    if (busy) return false;
    setBusy(true);
    setTrouble(null);
    try {
      await what();
      return true;
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { busy, trouble, run };
}
