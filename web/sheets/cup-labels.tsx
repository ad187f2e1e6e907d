import type { PouringSheet } from '../../trials/schema/api.ts';

/** A label a cup: its number for the taster, tray and place for whoever sets it down. No mix. */
export function CupLabels({ pouring }: { pouring: PouringSheet }) {
  return (
    <section class="paper labels" aria-label="Cup labels">
      {pouring.trays.flatMap(({ assessor, cups }) =>
        cups.map(({ position, code }) => (
          <div class="label" key={`${assessor} ${position}`}>
            <span class="label-code">{code}</span>
            <span class="label-place">
              {assessor}, cup {position}
            </span>
          </div>
        )),
      )}
    </section>
  );
}
