import { existsSync } from 'node:fs';
import { join, sep } from 'node:path';
import express, { type RequestHandler } from 'express';

/** Serves the built pages. Files with a digest in their name never change; pages are asked for anew. */
export function servePages(folder: string): RequestHandler[] {
  const files = express.static(folder, {
    index: 'index.html',
    setHeaders: (response, path) => {
      const isAsset = path.includes(`${sep}assets${sep}`);
      response.set('cache-control', isAsset ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  return [files, nothingThere(folder)];
}

function nothingThere(folder: string): RequestHandler {
  return (_request, response) => {
    const built = existsSync(join(folder, 'index.html'));
    const words = built
      ? 'There is nothing at this address.'
      : 'The pages have not been built: run npm run build.';
    response.status(404).type('text/plain').send(`${words}\n`);
  };
}
