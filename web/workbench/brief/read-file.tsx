import { useState } from 'preact/hooks';
import type { Fault } from '../../../trials/schema/api.ts';
import { checkBrief } from '../../../trials/schema/check-brief.ts';
import { FaultLines } from '../parts/await.tsx';
import { LongText } from '../parts/field.tsx';
import { Care } from '../parts/page.tsx';
import { type BriefDraft, draftOf } from './draft.ts';

/** Takes a brief from a file or from pasted text into the form. */
export function ReadBriefFile({ take }: { take: (draft: BriefDraft) => void }) {
  const [pasted, setPasted] = useState('');
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const [name, setName] = useState('');
  const read = (text: string, from: string) => {
    const found = draftFrom(text);
    setName(from);
    if ('faults' in found) setFaults(found.faults);
    else {
      setFaults([]);
      setPasted('');
      take(found.draft);
    }
  };
  const choose = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (file) read(await file.text(), file.name);
    input.value = '';
  };
  return (
    <details>
      <summary>Take it from a file</summary>
      <div class="field">
        <label for="brief-file">A file brief.json</label>
        <input
          id="brief-file"
          type="file"
          accept=".json,application/json"
          onChange={(event) => void choose(event.currentTarget)}
        />
      </div>
      <LongText label="Or its text, pasted" value={pasted} change={setPasted} />
      <button type="button" disabled={pasted.trim() === ''} onClick={() => read(pasted, 'the pasted text')}>
        Take the pasted brief
      </button>
      {faults.length > 0 && (
        <Care>
          <p role="alert">
            <strong>{name} was not taken.</strong>
          </p>
          <FaultLines faults={faults} />
        </Care>
      )}
    </details>
  );
}

function draftFrom(text: string): { draft: BriefDraft } | { faults: readonly Fault[] } {
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (thrown) {
    return {
      faults: [{ where: '', message: `not JSON: ${thrown instanceof Error ? thrown.message : thrown}` }],
    };
  }
  const checked = checkBrief(value);
  return 'faults' in checked ? { faults: checked.faults } : { draft: draftOf(checked.brief) };
}
