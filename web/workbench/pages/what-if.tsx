import { useState } from 'preact/hooks';
import type { TrialView, WhatIf } from '../../../trials/schema/api.ts';
import type { Brief } from '../../../trials/schema/brief.ts';
import { readNumber } from '../numbers.ts';
import { Field } from '../parts/field.tsx';

/** What is tried out: other targets, other most shares, and how much is left of a component. */
export interface Tried {
  whatIf?: WhatIf;
  onHand?: Record<string, number>;
}

interface WhatIfProps {
  trial: TrialView;
  busy: boolean;
  look: (tried: Tried) => void;
}

type Texts = Readonly<Record<string, string>>;

/** Other targets and limits tried out on the scores there are; the brief stays as it is. */
export function WhatIfForm({ trial, busy, look }: WhatIfProps) {
  const { brief } = trial;
  const [texts, setTexts] = useState<Texts>({});
  const faults = faultsOf(brief, texts);
  const field = (key: string, label: string, unit: string, placeholder: string) => (
    <Field
      key={key}
      class="narrow"
      number
      label={label}
      unit={unit}
      placeholder={placeholder}
      value={texts[key] ?? ''}
      change={(text) => setTexts({ ...texts, [key]: text })}
      fault={faults[key]}
    />
  );
  const nothing = Object.values(texts).every((text) => text.trim() === '');
  const submit = (event: Event) => {
    event.preventDefault();
    if (!nothing && Object.keys(faults).length === 0) look(triedOf(brief, texts));
  };
  return (
    <form noValidate onSubmit={submit}>
      <p class="soft">
        The scores stay the same and the brief is not changed. What is left empty stays as it is.
      </p>
      <h3>Another target</h3>
      <div class="fields">
        {brief.attributes
          .filter(({ target }) => target !== undefined)
          .map(({ id, name, scale, target }) =>
            field(`target ${id}`, name, `of ${scale[1]}`, typeof target === 'number' ? String(target) : ''),
          )}
      </div>
      <h3>Another limit: at most this many parts of 100</h3>
      <div class="fields">
        {brief.components.map(({ id, name, high }) =>
          field(`high ${id}`, name, 'parts', String(Number((100 * high).toFixed(2)))),
        )}
      </div>
      <h3>Running short: no more than this is left</h3>
      <div class="fields">
        {brief.components.map(({ id, name }) => field(`left ${id}`, `${name}, left`, 'g', ''))}
      </div>
      <button type="submit" disabled={busy || nothing}>
        Look again
      </button>
    </form>
  );
}

/** What is wrong with what was typed, by field. */
export function faultsOf(brief: Brief, texts: Texts): Record<string, string> {
  const faults: Record<string, string> = {};
  const check = (key: string, low: number, high: number, unit: string) => {
    const text = texts[key] ?? '';
    if (text.trim() === '') return;
    const value = readNumber(text);
    if (value === null || value < low || value > high)
      faults[key] =
        high === Number.POSITIVE_INFINITY ? `${low} ${unit} or more` : `from ${low} to ${high}${unit}`;
  };
  for (const { id, scale } of brief.attributes) check(`target ${id}`, scale[0], scale[1], '');
  for (const { id, low } of brief.components) check(`high ${id}`, Number((100 * low).toFixed(4)), 100, '');
  for (const { id } of brief.components) check(`left ${id}`, 0, Number.POSITIVE_INFINITY, 'g');
  return faults;
}

/** What was typed, as the server is asked. */
export function triedOf(brief: Brief, texts: Texts): Tried {
  const typed = (kind: string, list: readonly { id: string }[]): [string, number][] =>
    list.flatMap(({ id }): [string, number][] => {
      const value = readNumber(texts[`${kind} ${id}`] ?? '');
      return value === null ? [] : [[id, value]];
    });
  const targets = Object.fromEntries(typed('target', brief.attributes));
  const highs = typed('high', brief.components).map(([id, parts]) => [id, { high: parts / 100 }] as const);
  const onHand = Object.fromEntries(typed('left', brief.components));
  const changed = Object.keys(targets).length > 0 || highs.length > 0;
  return {
    ...(changed ? { whatIf: { targets, components: Object.fromEntries(highs) } } : {}),
    ...(Object.keys(onHand).length > 0 ? { onHand } : {}),
  };
}

/** What a stored set of proposals was tried out with, in words; empty where it is for the brief as it stands. */
export function triedInWords(brief: Brief, { whatIf, onHand }: Tried): string[] {
  const called = (list: readonly { id: string; name: string }[], id: string) =>
    list.find((one) => one.id === id)?.name ?? id;
  return [
    ...Object.entries(whatIf?.targets ?? {}).map(
      ([id, target]) => `${called(brief.attributes, id)} aimed at ${String(target)}`,
    ),
    ...Object.entries(whatIf?.components ?? {}).map(
      ([id, { high = 1 }]) =>
        `${called(brief.components, id)} at most ${Number((100 * high).toFixed(2))} parts of 100`,
    ),
    ...Object.entries(onHand ?? {}).map(
      ([id, grams]) => `${grams} g left of ${called(brief.components, id)}`,
    ),
  ];
}
