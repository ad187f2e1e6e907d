import manifest from '../../package.json' with { type: 'json' };

/** The version that stored results carry. */
export const VERSION: string = manifest.version;
