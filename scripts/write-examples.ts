/** `node --import tsx scripts/write-examples.ts`: writes examples/demo from the demo's simulator. */
import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { demoMixesCsv, demoScoresCsv } from '../trials/demo/demo-files.ts';
import { demoBrief, demoRoundOne } from '../trials/demo/demo-round-one.ts';

const folder = new URL('../examples/demo/', import.meta.url);
const brief = demoBrief();
const round = demoRoundOne();
mkdirSync(folder, { recursive: true });
copyFileSync(new URL('../trials/demo/brief.json', import.meta.url), new URL('brief.json', folder));
writeFileSync(new URL('mixes.csv', folder), demoMixesCsv(brief, round));
writeFileSync(new URL('scores.csv', folder), demoScoresCsv(brief, round));
