import { useEffect, useRef } from 'preact/hooks';
import { KEYS, letterKeys, listenForKeys, setLetterKeys } from '../keys.ts';
import { Check } from './field.tsx';

/** The list of keys, and the button that shows it. */
export function KeyHelp() {
  const dialog = useRef<HTMLDialogElement>(null);
  const show = () => dialog.current?.showModal();
  useEffect(() => listenForKeys(show), []);
  return (
    <>
      <button type="button" class="quiet small" onClick={show}>
        Keyboard
      </button>
      <dialog ref={dialog} aria-labelledby="keys-title">
        <h2 id="keys-title">What the keyboard does</h2>
        <table>
          <tbody>
            {KEYS.map(([keys, says]) => (
              <tr key={keys}>
                <th scope="row">
                  <kbd>{keys}</kbd>
                </th>
                <td>{says}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <Check checked={letterKeys.value} change={setLetterKeys}>
          Letter keys on
        </Check>
        <form method="dialog">
          <button type="submit">Close</button>
        </form>
      </dialog>
    </>
  );
}
