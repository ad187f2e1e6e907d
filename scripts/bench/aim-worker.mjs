/** A worker thread does not take over the loader of its parent: it asks for it itself, then plays worlds. */
import { parentPort } from 'node:worker_threads';
import { register } from 'tsx/esm/api';

register();
const { playWorld } = await import('./aim-world.ts');

parentPort.on('message', (task) => {
  playWorld(task).then(
    (result) => parentPort.postMessage({ result }),
    (error) => parentPort.postMessage({ failed: `world ${task.seed}: ${error?.stack ?? error}` }),
  );
});
