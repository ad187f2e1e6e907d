import { signal } from '@preact/signals';
import { type Loaded, troubleOf } from './loaded.ts';
import { type Answer, ask } from './server.ts';

/** Who the workbench takes the caller for. */
export const me = signal<Loaded<Answer<'me'>>>({ state: 'loading' });

/** Asks anew who is asking, as after a passcode was given. */
export async function lookWhoIsAsking(): Promise<void> {
  try {
    me.value = { state: 'here', value: await ask('me') };
  } catch (thrown) {
    me.value = troubleOf(thrown);
  }
}
