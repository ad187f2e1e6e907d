import type { Command } from 'commander';
import { addDilute } from './bench-dilute.ts';
import { addDose } from './bench-dose.ts';
import { addScale } from './bench-scale.ts';
import { addStrength } from './bench-strength.ts';
import { addWeigh } from './bench-weigh.ts';
import { examples } from './examples.ts';
import type { Io } from './io.ts';

export function addBench(program: Command, io: Io): void {
  const bench = program
    .command('bench')
    .description('spirit, strength, weighing, dose and size of a formula')
    .addHelpText(
      'after',
      [
        '',
        'materials.json (--materials) holds what the starter shelf lacks or has wrong; what is not known is left out:',
        '  {"format": "materials/1",',
        '   "materials": [{"id": "yuzu-oil", "name": "Yuzu oil", "kind": "essential oil", "density": 0.86, "pricePerGram": 2,',
        '     "allergens": "citrus", "hazards": "irritates skin", "source": "supplier\'s sheet of May",',
        '     "constituents": [{"substance": "Limonene", "cas": "5989-27-5", "mostPercent": 80}],',
        '     "clearIn": {"percentVol": 90, "parts": 4}}],',
        '   "limits": [{"substance": "Limonene", "cas": "5989-27-5", "limit": 20, "only": "cola", "jurisdiction": "customer", "source": "letter"}]}',
        'kind: aroma chemical, essential oil, extract or carrier. clearIn: mixes clear with 4 parts and more of 90 % vol alcohol.',
      ].join('\n') + examples('bench dilute --from 96 --to 40 --make 500'),
    );
  for (const add of [addDilute, addStrength, addWeigh, addDose, addScale]) add(bench, io);
}
