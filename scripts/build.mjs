/** `npm run build`: the command and the server in dist/, the pages in dist/pages/. */
import { build } from './house.mjs';

build();
