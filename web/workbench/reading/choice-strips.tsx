interface Row {
  mix: string;
  counts: readonly number[];
  /** A sentence under the strip; none where empty. */
  says: string;
}

/** One strip a mix, parted by how many chose what; the numbers stand in it, the words above. */
export function ChoiceStrips({ parts, rows }: { parts: readonly string[]; rows: readonly Row[] }) {
  return (
    <ul class="strips" style={{ '--parts': parts.length }}>
      {rows.map(({ mix, counts, says }) => (
        <li key={mix}>
          <span class="who">{mix}</span>
          <div>
            <div class="strip" role="img" aria-label={inWords(parts, counts)}>
              {counts.map((count, at) =>
                count === 0 ? null : (
                  <span
                    key={at}
                    title={`${parts[at]}: ${count}`}
                    style={{ flexGrow: count, '--depth': depthOf(at, parts.length) }}
                  >
                    {count}
                  </span>
                ),
              )}
            </div>
            {says !== '' && <p>{says}</p>}
          </div>
        </li>
      ))}
      <li class="key soft small" aria-hidden="true">
        <span />
        <span>
          {parts.map((part, at) => (
            <span key={at} class="part">
              <span class="swatch" style={{ '--depth': depthOf(at, parts.length) }} /> {part}
            </span>
          ))}
        </span>
      </li>
    </ul>
  );
}

/** From pale for the least to full for the most. */
function depthOf(at: number, parts: number): string {
  return `${Math.round(10 + (35 * at) / Math.max(1, parts - 1))}%`;
}

function inWords(parts: readonly string[], counts: readonly number[]): string {
  const said = parts.flatMap((part, at) => (counts[at]! > 0 ? [`${counts[at]} ${part}`] : []));
  return said.length > 0 ? said.join(', ') : 'no answer';
}
