/** Telling takes at most this share of the time, however much there is to count. */
const MOST_SHARE = 0.1;

/** Tells those who watch a sitting that something in it has changed, at most once a beat. */
export interface LiveBell {
  ring(trial: string, sitting: string): void;
  listen(trial: string, sitting: string, hear: () => void): () => void;
  /** Rings everywhere, as after a restored copy. */
  ringAll(): void;
  close(): void;
}

/** @param beat least milliseconds between two rings of one sitting, however many phones are answering */
export function liveBell(beat: number): LiveBell {
  const listeners = new Map<string, Set<() => void>>();
  const pending = new Map<string, ReturnType<typeof setTimeout>>();
  let took = 0;
  const key = (trial: string, sitting: string) => JSON.stringify([trial, sitting]);
  const ringKey = (at: string) => {
    if (pending.has(at) || !listeners.has(at)) return;
    const tell = () => {
      pending.delete(at);
      const began = performance.now();
      for (const hear of listeners.get(at) ?? []) hear();
      took = performance.now() - began;
    };
    pending.set(at, setTimeout(tell, Math.max(beat, took / MOST_SHARE)));
  };
  return {
    ring: (trial, sitting) => ringKey(key(trial, sitting)),
    ringAll: () => {
      for (const at of listeners.keys()) ringKey(at);
    },
    listen: (trial, sitting, hear) => {
      const at = key(trial, sitting);
      const own = listeners.get(at) ?? new Set();
      listeners.set(at, own.add(hear));
      return () => {
        own.delete(hear);
        if (own.size === 0) listeners.delete(at);
      };
    },
    close: () => {
      for (const timer of pending.values()) clearTimeout(timer);
      pending.clear();
      listeners.clear();
    },
  };
}
