/** `npm start`: everything from a fresh clone to the open workbench; options after `--` go to the workbench. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { ensureBuilt, ensureInstalled, root } from './house.mjs';

ensureInstalled();
ensureBuilt();

const server = spawn(process.execPath, [join(root, 'dist/web/server/start.js'), ...process.argv.slice(2)], {
  stdio: 'inherit',
});
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => server.kill(signal));
server.on('exit', (code, signal) => process.exit(code ?? (signal ? 0 : 1)));
