import type { PouringSheet } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';
import { Sheet, WriteIn } from './sheet.tsx';

/** Which number is which mix, on a page of its own, to be folded and kept shut until all have tasted. */
export function KeySheet({ brief, pouring }: { brief: Brief; pouring: PouringSheet }) {
  return (
    <Sheet
      title="Key"
      of={`${brief.name}, ${pouring.label}`}
      says={
        pouring.hidden.length > 0
          ? 'After the last ballot: lift each cup, read the name under it, and write it beside its number.'
          : 'Fold with the print inside and seal. Open it only when every ballot is in.'
      }
      class="sealed"
    >
      <p class="paper-fields">
        <WriteIn what="sealed by" /> <WriteIn what="opened by" /> <WriteIn what="why and when" />
      </p>
      <div class="key-trays">
        {pouring.trays.map(({ assessor, cups }) => (
          <table class="lines whole-block" key={assessor}>
            <caption>{assessor}</caption>
            <tbody>
              {cups.map(({ position, code, mix }) => (
                <tr key={position}>
                  <td class="code">{code}</td>
                  <td>{mix}</td>
                </tr>
              ))}
            </tbody>
          </table>
        ))}
      </div>
      <p class="fold">fold here</p>
    </Sheet>
  );
}
