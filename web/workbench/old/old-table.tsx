import type { Brief } from '../../../trials/schema/brief.ts';
import type { LookedTable, OldColumn } from '../../../trials/schema/old-tables.ts';
import type { Fault } from '../../../trials/schema/shapes.ts';
import { count, readNumber } from '../numbers.ts';
import { Scroll } from '../parts/scroll.tsx';
import { cellKey, choiceOf, columnOf, faultsByCell, type OldKind, roleChoices } from './old-draft.ts';

interface OldTableProps {
  kind: OldKind;
  file: string;
  table: LookedTable;
  faults: readonly Fault[];
  /** The trial's own, null for a new one. */
  brief: Brief | null;
  change: (index: number, column: OldColumn) => void;
}

/** The first rows of a file under what each column is taken for; cells at fault are marked. */
export function OldTable({ kind, file, table, faults, brief, change }: OldTableProps) {
  const choices = roleChoices(kind, brief);
  const wrong = faultsByCell(faults, file);
  const hidden = table.count - table.rows.length;
  if (table.columns.length === 0) return null;
  return (
    <section aria-label={file}>
      <h2>{file}</h2>
      <Scroll label={`${file}: columns and first rows`}>
        <table class="old">
          <caption class="unseen">{`What each column of ${file} is, and its first rows`}</caption>
          <thead>
            <tr>
              <th scope="col">line</th>
              {table.columns.map((column, index) => (
                <th key={index} scope="col" class={column.as === 'pass' ? 'passed' : undefined}>
                  {column.heading || `column ${index + 1}`}
                  <RoleField
                    of={column}
                    choices={choices}
                    isNew={brief === null}
                    change={(next) => change(index, next)}
                  />
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.rows.map(({ line, cells }) => (
              <tr key={line}>
                <th scope="row" class="n">
                  {line}
                </th>
                {table.columns.map(({ as, heading }, index) => {
                  const fault = wrong.get(cellKey(line, heading));
                  return (
                    <td
                      key={index}
                      class={fault !== undefined ? 'wrong' : as === 'pass' ? 'passed' : undefined}
                      title={fault}
                    >
                      {cells[index]}
                      {fault !== undefined && <span class="unseen"> ({fault})</span>}
                    </td>
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      {hidden > 0 && <p class="small soft">and {count(hidden, 'more row')}</p>}
    </section>
  );
}

interface RoleProps {
  of: OldColumn & { heading: string };
  choices: readonly (readonly [string, string])[];
  isNew: boolean;
  change: (column: OldColumn) => void;
}

function RoleField({ of, choices, isNew, change }: RoleProps) {
  return (
    <>
      <select
        aria-label={`What ${of.heading} is`}
        value={choiceOf(of)}
        onChange={(event) => change(columnOf(event.currentTarget.value, of, isNew))}
      >
        {choices.map(([value, says]) => (
          <option key={value} value={value}>
            {says}
          </option>
        ))}
      </select>
      {of.as === 'attribute' && of.scale !== undefined && (
        <ScaleFields of={of} scale={of.scale} change={change} />
      )}
    </>
  );
}

interface ScaleProps {
  of: RoleProps['of'];
  scale: [number, number];
  change: RoleProps['change'];
}

/** The two ends of the scale that the old scores stand on. */
function ScaleFields({ of, scale, change }: ScaleProps) {
  const end = (side: 0 | 1, says: string) => (
    <input
      class="n"
      inputMode="decimal"
      aria-label={`${of.heading}: ${says} end of the scale`}
      value={String(scale[side])}
      onChange={(event) => {
        const value = readNumber(event.currentTarget.value);
        if (value === null) event.currentTarget.value = String(scale[side]);
        else change({ as: 'attribute', scale: side === 0 ? [value, scale[1]] : [scale[0], value] });
      }}
    />
  );
  return (
    <span class="ends">
      {end(0, 'lower')} to {end(1, 'upper')}
    </span>
  );
}
