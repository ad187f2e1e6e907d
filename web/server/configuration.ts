/** How the workbench is run; everything the server needs to know beside its data. */
export interface Configuration {
  /** 0 = any free port. */
  port: number;
  /** Listens on the network and asks everybody but tasters for the passcode. */
  shared: boolean;
  /** Certificate and key in PEM form: https instead of http. */
  secure: { certificate: string; key: string } | null;
  /** Where the built pages lie. */
  pages: string;
  /** The built worker that long computations run in. */
  worker: string;
  /** Worker threads at once. */
  threads: number;
  /** Least severity that is logged; `silent` in tests. */
  log: 'silent' | 'error' | 'warn' | 'info' | 'debug';
  /** Milliseconds between two messages of a stream. */
  beat: number;
}
