import { useState } from 'preact/hooks';
import type { SittingSummary, TrialView } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { Trouble } from '../parts/await.tsx';
import { QrCode } from '../parts/qr-code.tsx';
import { ask } from '../server.ts';
import { links, noteLinks } from './links.ts';

/** A link and its QR code for each taster, one large at a time so that two phones do not catch the same. */
export function PhoneLinks({ trial, sitting }: { trial: TrialView; sitting: SittingSummary }) {
  const known = links.value[sitting.sitting] ?? [];
  const [shown, setShown] = useState<string | null>(null);
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const renew = async (assessor: string) => {
    setTrouble(null);
    try {
      noteLinks(await ask('renewLink', { trial: trial.trial, sitting: sitting.sitting }, { assessor }));
      setShown(assessor);
    } catch (thrown) {
      setTrouble(troubleOf(thrown));
    }
  };
  const link = known.find(({ assessor }) => assessor === shown);
  return (
    <section>
      <h2>Links for the phones</h2>
      <p>Each taster scans their own. A link is told once; a new one makes the old one void.</p>
      <ul class="rack">
        {sitting.assessors.map((assessor) => {
          const has = known.some((one) => one.assessor === assessor);
          return (
            <li key={assessor}>
              <button
                type="button"
                aria-pressed={shown === assessor}
                onClick={() => (has ? setShown(assessor) : void renew(assessor))}
              >
                {assessor}
                {!has && <span class="soft small">new link</span>}
              </button>
            </li>
          );
        })}
      </ul>
      <Trouble of={trouble} />
      {link && (
        <div class="phone-link">
          <QrCode of={link.qr} says={`QR code of ${link.assessor}’s link`} />
          <div>
            <h3>{link.assessor}</h3>
            <p>
              <a href={link.address}>{link.address}</a>
            </p>
            <button type="button" class="quiet" onClick={() => void renew(link.assessor)}>
              Renew this link
            </button>
          </div>
        </div>
      )}
    </section>
  );
}
