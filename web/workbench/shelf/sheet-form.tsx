import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Fault } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { readNumber } from '../numbers.ts';
import { Trouble } from '../parts/await.tsx';

/** What was typed into a form, by field. */
export type Typed<K extends string> = Readonly<Record<K, string>>;

interface FormProps<K extends string> {
  label: string;
  /** Word on the button. */
  act: string;
  begin: Typed<K>;
  /** What the form calls the fields of what is sent, so that a refusal names them as they are read here. */
  names?: Readonly<Record<string, string>>;
  /** Sends what was typed; throws a `Refusal` where the workbench says no. */
  send: (typed: Typed<K>) => Promise<void>;
  children: (field: (key: K) => { value: string; change: (value: string) => void }) => ComponentChildren;
}

/** A form that keeps what was typed until the workbench has taken it, and then stands empty again. */
export function SheetForm<K extends string>({ label, act, begin, names, send, children }: FormProps<K>) {
  const [typed, setTyped] = useState(begin);
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const submit = async (event: Event) => {
    event.preventDefault();
    setTrouble(null);
    try {
      await send(typed);
      setTyped(begin);
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    }
  };
  const field = (key: K) => ({
    value: typed[key],
    change: (value: string) => setTyped((before) => ({ ...before, [key]: value })),
  });
  return (
    <form aria-label={label} onSubmit={(event) => void submit(event)} noValidate>
      {children(field)}
      <Trouble of={trouble} words={names && ((fault) => namedIn(names, fault))} />
      <p>
        <button type="submit">{act}</button>
      </p>
    </form>
  );
}

function namedIn(names: Readonly<Record<string, string>>, { where, allowed, message }: Fault): string {
  const name = names[where];
  return name === undefined || allowed === undefined ? message : `${name}: ${allowed}`;
}

/** A number that may be left out; what is no number is sent as it was typed, and refused with its field. */
export function numberOrNull(text: string): number | null {
  if (text.trim() === '') return null;
  return readNumber(text) ?? (text as unknown as number);
}

/** A number that must be there. */
export function numberOf(text: string): number {
  return readNumber(text) ?? (text as unknown as number);
}

/** A text that may be left out. */
export function textOrNull(text: string): string | null {
  return text.trim() === '' ? null : text.trim();
}
