import type { MaterialView } from '../../../trials/schema/api.ts';
import { figure } from '../numbers.ts';

interface Fact {
  what: string;
  says: string;
  /** Field of the shelf's sources. */
  field: string | null;
}

/** One material: what is known of it, from where, and whether that was verified. */
export function MaterialCard({ material }: { material: MaterialView }) {
  const facts = factsOf(material);
  return (
    <li>
      <details>
        <summary>
          {material.name}
          {material.own && <span class="soft small"> your own</span>}
        </summary>
        <p class="sentence">{material.madeOf}.</p>
        <dl class="facts">
          {facts.map(({ what, says, field }) => (
            <div key={what}>
              <dt>{what}</dt>
              <dd>
                {says} <Source of={field === null ? undefined : material.sources[field]} />
              </dd>
            </div>
          ))}
        </dl>
        {material.constituents.length > 0 && (
          <p class="small">
            Holds at the most:{' '}
            {material.constituents
              .map(({ substance, mostPercent }) => `${substance} ${figure(mostPercent)} %`)
              .join(', ')}
            .
          </p>
        )}
        {material.note && <p class="small">{material.note}</p>}
      </details>
    </li>
  );
}

function Source({ of }: { of: MaterialView['sources'][string] | undefined }) {
  if (of === undefined) return null;
  return (
    <span class="soft small">
      {of.source}
      {of.verified ? '' : of.source === 'from memory' ? ', not verified' : '; not verified'}
    </span>
  );
}

function factsOf(one: MaterialView): Fact[] {
  const facts: (Fact | null)[] = [
    fact('CAS number', one.cas, 'cas'),
    fact('FEMA number', one.fema, 'fema'),
    fact('Density at 20 °C', one.density === null ? null : `${figure(one.density, 4)} g/mL`, 'density'),
    fact('Flash point', one.flashPoint === null ? null : `${one.flashPoint} °C`, 'flash_point'),
    fact('Price', one.pricePerGram === null ? null : `${one.pricePerGram} a gram`, null),
    fact('In a clear drink', range(one.useLevel.clear), 'use_level'),
    fact('In a cloudy drink', range(one.useLevel.cloudy), 'use_level'),
    fact(
      'Mixes clear',
      one.clearIn === null
        ? null
        : `1 part with ${one.clearIn.parts} and more of ${one.clearIn.percentVol} % vol alcohol`,
      'clearIn',
    ),
    fact('Natural', one.natural, 'natural_isolate' in one.sources ? 'natural_isolate' : 'natural'),
    fact('Allergens', one.allergens, 'allergens'),
    fact('Hazards', one.hazards, 'hazards'),
  ];
  return facts.filter((one) => one !== null);
}

function fact(what: string, says: string | number | null, field: string | null): Fact | null {
  return says === null || says === '' ? null : { what, says: String(says), field };
}

function range(of: readonly [number, number] | null): string | null {
  return of === null ? null : `${of[0]} to ${of[1]} mg/kg to begin with, no permission`;
}
