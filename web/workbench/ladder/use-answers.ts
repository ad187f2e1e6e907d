import { useEffect, useRef, useState } from 'preact/hooks';
import type { LadderAnswers, LadderView } from '../../../trials/schema/api.ts';
import { keep, kept } from '../kept.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { offerUndo } from '../parts/undo.tsx';
import { ask } from '../server.ts';

type Answer = LadderAnswers['answers'][number];
/** What stands in a field and names no cup, or not yet. */
interface Typed {
  text: string;
  left: boolean;
}

/** The answers of a ladder while they are typed. */
export interface Answering {
  /** The ladder as it stands on screen: what is typed counts before the workbench has it. */
  now: LadderView;
  /** What stands in the field of a taster's rung (0 = lowest). */
  textOf: (tray: number, rung: number) => string;
  /** What is typed there names none of the three cups. */
  isStrange: (tray: number, rung: number) => boolean;
  type: (tray: number, rung: number, text: string) => void;
  /** The field was left: one that names no cup takes back what stood there. */
  leave: (tray: number, rung: number) => void;
  /** How many answers the workbench does not have yet. */
  waiting: number;
  trouble: Loaded<never> | null;
  again: () => void;
}

/**
 * Keeps answers as they are typed. What the workbench has not acknowledged is kept by the browser meanwhile, and sent
 * with the next answer, on asking, or when the page is next opened.
 * @param show puts a ladder that the workbench has answered with in its place
 */
export function useAnswers(trial: string, ladder: LadderView, show: (next: LadderView) => void): Answering {
  const key = `ladder-unsent:${trial}:${ladder.ladder}`;
  const [unsent, setUnsent] = useState<readonly Answer[]>(() => kept<Answer[]>(key) ?? []);
  const [typed, setTyped] = useState<Readonly<Record<string, Typed>>>({});
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const queue = useRef(unsent);
  const busy = useRef(false);
  const put = (next: readonly Answer[]) => {
    queue.current = next;
    keep(key, next.length === 0 ? null : next);
    setUnsent(next);
  };
  const send = async () => {
    if (busy.current) return;
    busy.current = true;
    setTrouble(null);
    try {
      while (queue.current.length > 0) {
        const answers = [...queue.current];
        const next = await ask('answerLadder', { trial, ladder: ladder.ladder }, { answers });
        put(queue.current.filter((one) => !answers.includes(one)));
        show(next);
      }
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    } finally {
      busy.current = false;
    }
  };
  const note = (answer: Answer) => {
    put([...queue.current.filter((one) => !isSamePlace(one, answer)), answer]);
    void send();
  };
  useEffect(() => {
    if (queue.current.length > 0) void send();
  }, []);

  const now = withAnswers(ladder, unsent);
  const change = (tray: number, rung: number, code: string | null) => {
    const { taster, named } = now.trays[tray]!;
    const before = named[rung]!;
    if (code === before) return;
    note({ taster, rung: rung + 1, code });
    if (before === null) return;
    const says = code === null ? `${before} taken back` : `${code} instead of ${before}`;
    offerUndo(`${taster}, rung ${rung + 1}: ${says}.`, () => {
      setTyped((all) => without(all, placeOf(tray, rung)));
      note({ taster, rung: rung + 1, code: before });
    });
  };
  const codesOf = (tray: number, rung: number) => now.trays[tray]!.threes[rung]!.codes;
  return {
    now,
    textOf: (tray, rung) => typed[placeOf(tray, rung)]?.text ?? now.trays[tray]!.named[rung] ?? '',
    isStrange: (tray, rung) => {
      const { text, left } = typed[placeOf(tray, rung)] ?? { text: '', left: false };
      return text !== '' && (left || text.length > 2);
    },
    type: (tray, rung, said) => {
      const text = said.trim();
      const place = placeOf(tray, rung);
      const isCup = codesOf(tray, rung).includes(text);
      setTyped((all) => (isCup ? without(all, place) : { ...all, [place]: { text, left: false } }));
      if (isCup) change(tray, rung, text);
    },
    leave: (tray, rung) => {
      const place = placeOf(tray, rung);
      const unfinished = typed[place];
      if (unfinished === undefined) return;
      setTyped((all) => ({ ...all, [place]: { ...unfinished, left: true } }));
      change(tray, rung, null);
    },
    waiting: unsent.length,
    trouble,
    again: () => void send(),
  };
}

/** A ladder with answers in the places of those that stood there. */
export function withAnswers(ladder: LadderView, answers: readonly Answer[]): LadderView {
  if (answers.length === 0) return ladder;
  const trays = ladder.trays.map((tray) => ({
    ...tray,
    named: tray.named.map((code, k) => {
      const answer = answers.findLast(({ taster, rung }) => taster === tray.taster && rung === k + 1);
      return answer === undefined ? code : answer.code;
    }),
  }));
  return { ...ladder, trays };
}

function isSamePlace(a: Answer, b: Answer): boolean {
  return a.taster === b.taster && a.rung === b.rung;
}

function without(all: Readonly<Record<string, Typed>>, place: string): Record<string, Typed> {
  const { [place]: _, ...others } = all;
  return others;
}

function placeOf(tray: number, rung: number): string {
  return `${tray}:${rung}`;
}
