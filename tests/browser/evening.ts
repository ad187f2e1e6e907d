import { changeBrief } from '../../trials/rounds/create-trial.ts';
import { drawSitting } from '../../trials/rounds/draw-sitting.ts';
import { openSitting } from '../../trials/rounds/sitting-life.ts';
import type { SittingRequest } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';
import { openStore } from '../../trials/store/store.ts';
import { sittingRequest, weighedTrial } from '../support/small-trial.ts';
import { contextOf } from '../support/trial-folder.ts';
import type { Program } from './program.ts';

/** Open sittings laid out in a program's data before it starts. */
export interface Laid {
  trial: string;
  sitting: string;
  /** What stands after the address of the workbench, by taster. */
  links: Record<string, string>;
}

/** Lays out one open sitting for each request; the program must not be running. */
export function layOut(
  program: Program,
  requests: readonly Partial<SittingRequest>[],
  brief?: Brief,
): Laid[] {
  const store = openStore(program.folder);
  const context = contextOf(store);
  const trial = weighedTrial(context);
  if (brief) changeBrief(context, trial, brief);
  const laid = requests.map((given, i) => {
    const request = sittingRequest({ label: `Sitting ${i}`, ...given });
    const { sitting, tokens } = drawSitting(context, { trial, round: 1 }, request);
    openSitting(context, { trial, sitting });
    const links = tokens.map(({ assessor, token }) => [assessor, `/ballot.html#${token}`]);
    return { trial, sitting, links: Object.fromEntries(links) as Record<string, string> };
  });
  store.close();
  return laid;
}

/** What the data hold of a sitting once the program has ended. */
export function answersIn(program: Program, { trial, sitting }: Laid) {
  const store = openStore(program.folder);
  const counted = store.answers.counted(trial, sitting, true);
  const messages = (assessor: string) => store.answers.messages({ trial, sitting, assessor });
  const all = store.sittings
    .seats(trial, sitting)
    .map(({ assessor }) => [assessor, messages(assessor)] as const);
  const cups = store.sittings.cups(trial, sitting);
  store.close();
  return { counted, messages: Object.fromEntries(all), cups };
}
