import { type AimedAttribute, aimInWords, matchingBand } from '../../charts/aims.ts';
import { chance, score } from '../numbers.ts';

/** Predicted scores of one ratio, in the order of the attributes; null where nothing can be said. */
export interface DeskRow {
  name: string;
  points: readonly ({ mean: number; interval: readonly [number, number] | null } | null)[];
}

interface ProfileProps {
  attributes: readonly AimedAttribute[];
  /** The desk first, then the pins; none while nothing is known yet. */
  rows: readonly DeskRow[];
  /** The chance of each attribute by itself, where it is known. */
  each: readonly (number | null)[];
}

/** The predicted profile beside the target, light enough to follow the hand. */
export function DeskProfile({ attributes, rows, each }: ProfileProps) {
  return (
    <ul class="desk-profile">
      {attributes.map((attribute, index) => (
        <ProfileLine
          key={attribute.id}
          attribute={attribute}
          index={index}
          rows={rows}
          own={each[index] ?? null}
        />
      ))}
    </ul>
  );
}

function ProfileLine({
  attribute,
  index,
  rows,
  own,
}: {
  attribute: AimedAttribute;
  index: number;
  rows: readonly DeskRow[];
  own: number | null;
}) {
  const point = rows[0]?.points[index] ?? null;
  const { scale } = attribute;
  const at = (value: number) => (100 * (value - scale[0])) / (scale[1] - scale[0]);
  const band = matchingBand(attribute);
  return (
    <li>
      <span class="name">{attribute.name}</span>
      <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
        <line class="scale" x1="0" x2="100" y1="5" y2="5" />
        {band && <rect class="match" x={at(band[0])} width={at(band[1]) - at(band[0])} y="0.5" height="9" />}
        {point?.interval && (
          <line class="whisker" x1={at(point.interval[0])} x2={at(point.interval[1])} y1="5" y2="5" />
        )}
        {point && <line class="mean" x1={at(point.mean)} x2={at(point.mean)} y1="1.2" y2="8.8" />}
        {rows.slice(1).map(({ name, points }) => {
          const pinned = points[index];
          return pinned ? (
            <line key={name} class="pinned" x1={at(pinned.mean)} x2={at(pinned.mean)} y1="2.5" y2="7.5" />
          ) : null;
        })}
      </svg>
      <span class="number says">
        {rows.length > 0 && (point === null ? 'cannot tell' : score(point.mean, scale))}
        {point?.interval && (
          <span class="soft small">
            {' '}
            {score(point.interval[0], scale)} to {score(point.interval[1], scale)}
          </span>
        )}
      </span>
      <span class="soft small aim">
        {aimInWords(attribute)}
        {own !== null && `: ${chance(own)}`}
      </span>
      {rows.length > 1 && (
        <span class="soft small pins number">
          {rows
            .slice(1)
            .map(
              ({ name, points }) => `${name} ${points[index] ? score(points[index]!.mean, scale) : '–'}  `,
            )}
        </span>
      )}
    </li>
  );
}
