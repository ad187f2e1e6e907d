import { z } from 'zod';

/** Figures of components, settings or attributes under their ids. */
export const NumberById = z.record(z.string(), z.number());
