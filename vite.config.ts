import { writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { build, defineConfig, type InlineConfig, type Plugin } from 'vite';
import { LEFT_OUT } from './web/charts/left-out.ts';
import { ADDRESSES } from './web/workbench/addresses.ts';

const web = join(import.meta.dirname, 'web');

/** Pages lie at the top of what is served, wherever their source lies: `/index.html`, `/ballot.html`. */
function pagesOnTop(): Plugin {
  return {
    name: 'pages-on-top',
    enforce: 'post',
    generateBundle(_options, bundle) {
      for (const [path, file] of Object.entries(bundle)) {
        if (file.type !== 'asset' || !path.endsWith('.html') || !path.includes('/')) continue;
        this.emitFile({ type: 'asset', fileName: basename(path), source: file.source });
        delete bundle[path];
      }
    },
  };
}

/** Vega without the transforms that no chart asks for. */
function fewerTransforms(): Plugin {
  return {
    name: 'fewer-transforms',
    enforce: 'pre',
    apply: 'build',
    resolveId: (source, importer) =>
      importer?.endsWith('/vega/build/vega.module.js') && LEFT_OUT.some((name) => source === `vega-${name}`)
        ? '\0left-out'
        : undefined,
    load: (id) => (id === '\0left-out' ? '' : undefined),
  };
}

/** Lays compressed copies beside each script and style sheet, so that no request waits for the compressor. */
function compressedBeside(): Plugin {
  return {
    name: 'compressed-beside',
    apply: 'build',
    writeBundle({ dir }, bundle) {
      for (const path of Object.keys(bundle).filter((name) => /^assets\/.*\.(js|css)$/.test(name))) {
        const file = bundle[path]!;
        const content = file.type === 'chunk' ? file.code : file.source;
        writeFileSync(join(dir!, `${path}.gz`), gzipSync(content, { level: 9 }));
        writeFileSync(join(dir!, `${path}.br`), brotliCompressSync(content));
      }
    },
  };
}

/** The ballot is bundled by itself, so that phones load nothing that only the workbench needs. */
function ballotAlone(): Plugin {
  return {
    name: 'ballot-alone',
    apply: 'build',
    async closeBundle() {
      await build({
        ...common,
        configFile: false,
        logLevel: 'warn',
        build: pagesFrom('ballot/ballot.html', false),
      });
      await build({ ...common, configFile: false, logLevel: 'warn', build: keeper() });
    },
  };
}

/** The service worker keeps a name of its own beside the page: browsers look for it there. */
function keeper(): NonNullable<InlineConfig['build']> {
  const page = pagesFrom('ballot/keeper.ts', false);
  return {
    ...page,
    rolldownOptions: { ...page.rolldownOptions, output: { entryFileNames: 'ballot-keeper.js' } },
  };
}

/** Puts the finished list of addresses in place of the file that makes it from the schemas. */
function addressesOnly(): Plugin {
  return {
    name: 'addresses-only',
    load(id) {
      if (id === join(web, 'workbench/addresses.ts'))
        return { code: `export const ADDRESSES = ${JSON.stringify(ADDRESSES)};`, moduleType: 'js' };
    },
  };
}

/**
 * Code that several pages share lies in few files: each file costs a page a request and some milliseconds of its own
 * thread, which a slow computer has not got. Of what pages take from elsewhere only what carries no schema is put
 * together with theirs, so that the first load holds none.
 */
const SHARED = [
  '/web/charts/',
  '/web/workbench/[^/]+$',
  '/web/workbench/parts/',
  '/schema/(usual-cups|csv-text|scale-form|engine-shapes)',
  '/@?preact/',
  'vite/preload-helper',
];

const together: NonNullable<InlineConfig['build']>['rolldownOptions'] = {
  output: {
    chunkFileNames: ({ name }) => `assets/${name.split('~')[0]}-[hash].js`,
    codeSplitting: {
      groups: [
        {
          name: 'shared',
          test: new RegExp(SHARED.join('|').replaceAll('/', '[\\\\/]')),
          minShareCount: 2,
          entriesAware: true,
          entriesAwareMergeThreshold: 60_000,
        },
      ],
    },
  },
};

function pagesFrom(page: string, emptyOutDir: boolean): NonNullable<InlineConfig['build']> {
  return {
    outDir: join(import.meta.dirname, 'dist/pages'),
    emptyOutDir,
    target: 'es2022',
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 1200,
    rolldownOptions: { input: join(web, page), checks: { pluginTimings: false } },
  };
}

const common: InlineConfig = {
  root: web,
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  plugins: [pagesOnTop(), compressedBeside()],
  worker: { format: 'es' },
};

const page = pagesFrom('workbench/index.html', true);
const workbench = { ...page, rolldownOptions: { ...page.rolldownOptions, ...together } };

export default defineConfig({
  ...common,
  plugins: [pagesOnTop(), compressedBeside(), addressesOnly(), fewerTransforms(), ballotAlone()],
  server: { proxy: { '/api': 'http://127.0.0.1:7317' } },
  build: workbench,
});
