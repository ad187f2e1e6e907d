/** Requests and answers of the routes, a file for each room: faults, rounds, trials, computations, sittings, paper. */
export * from './fault-shapes.ts';
export * from './job-shapes.ts';
export * from './ladder-shapes.ts';
export * from './number-by-id.ts';
export * from './paper-shapes.ts';
export * from './round-shapes.ts';
export * from './sitting-shapes.ts';
export * from './trial-shapes.ts';
