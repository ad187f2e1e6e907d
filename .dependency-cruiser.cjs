/** The house's one-way streets: web → trials → engine; inside the engine, room by room. */
const engineOrder = ['numeric', 'region', 'design', 'panel', 'model', 'difference', 'aim', 'bench'];

/** No engine room may import one that stands after it, but bench, which only knows numeric. */
const engineRules = engineOrder.slice(0, -1).map((room, i) => ({
  name: `engine-${room}-looks-back-only`,
  severity: 'error',
  from: { path: `^engine/${room}/` },
  to: { path: `^engine/(${engineOrder.slice(i + 1).join('|')})/` },
}));

module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    { name: 'engine-alone', severity: 'error', from: { path: '^engine/' }, to: { path: '^(trials|web|tests|scripts)/' } },
    {
      name: 'engine-pure',
      comment: 'no file, clock, network, database or page',
      severity: 'error',
      from: { path: '^engine/' },
      to: { dependencyTypes: ['core'] },
    },
    { name: 'stdlib-in-numeric-only', severity: 'error', from: { pathNot: '^(engine/numeric|tests)/' }, to: { path: 'node_modules/@stdlib' } },
    { name: 'trials-below-web', severity: 'error', from: { path: '^trials/' }, to: { path: '^(web|tests|scripts)/' } },
    { name: 'sql-in-store-only', severity: 'error', from: { pathNot: '^(trials/store|tests)/' }, to: { path: 'node_modules/better-sqlite3' } },
    { name: 'ballot-knows-schemas-only', severity: 'error', from: { path: '^web/ballot/' }, to: { path: '^(engine|trials|web)/', pathNot: '^(trials/schema|web/ballot)/' } },
    { name: 'charts-are-pure', severity: 'error', from: { path: '^web/(charts|sheets)/' }, to: { path: '^(web/(server|workbench|ballot)|trials/(store|rounds|command))/' } },
    { name: 'pages-ask-the-server', severity: 'error', from: { path: '^web/workbench/' }, to: { path: '^(web/server|web/ballot|trials/(store|rounds|files|command))/' } },
    { name: 'nothing-imports-tests', severity: 'error', from: { path: '^(engine|trials|web)/' }, to: { path: '^tests/' } },
    ...engineRules,
    { name: 'engine-bench-stands-alone', severity: 'error', from: { path: '^engine/bench/' }, to: { path: '^engine/(region|design|panel|model|difference|aim)/' } },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { extensions: ['.ts', '.tsx', '.js', '.json'] },
  },
};
