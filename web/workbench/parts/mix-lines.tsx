import type { Brief } from '../../../trials/schema/brief.ts';
import { grams, parts } from '../numbers.ts';
import { Table } from './table.tsx';

interface MixLinesProps {
  brief: Brief;
  mix: string;
  ratios: Record<string, number>;
  masses: Record<string, number>;
  settings: Record<string, number>;
}

/** A mix line by line in bench words: what, how many grams, how many parts. */
export function MixLines({ brief, mix, ratios, masses, settings }: MixLinesProps) {
  const { readability } = brief.batch;
  return (
    <>
      <Table
        caption={`What goes into ${mix}`}
        quietCaption
        rows={brief.components}
        columns={[
          { head: 'Component', cell: ({ name }) => name },
          { head: 'grams', number: true, cell: ({ id }) => grams(masses[id] ?? 0, readability) },
          { head: 'parts of 100', number: true, cell: ({ id }) => parts(ratios[id] ?? 0) },
        ]}
      />
      {settingsSay(brief, settings) !== '' && <p class="small">{settingsSay(brief, settings)}</p>}
    </>
  );
}

/** `Concentrate in the drink: 0.25 mL/L`. */
export function settingsSay(brief: Brief, settings: Record<string, number>): string {
  return brief.settings
    .filter(({ id }) => settings[id] !== undefined)
    .map(({ id, name, unit }) => `${name}: ${Number(settings[id]!.toPrecision(6))}${unit ? ` ${unit}` : ''}`)
    .join('; ');
}
