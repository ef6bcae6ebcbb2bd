/** The part of autocannon that is used here; it brings no types. */
declare module 'autocannon' {
  interface Request {
    method: 'GET' | 'POST';
    path: string;
    headers?: Record<string, string>;
    body?: string;
    /** Called before each sending, to change what is sent. */
    setupRequest?: (request: Request) => Request;
  }
  interface Result {
    readonly latency: { readonly p50: number; readonly p97_5: number; readonly p99: number; readonly max: number };
    readonly requests: { readonly total: number; readonly average: number };
    readonly errors: number;
    readonly timeouts: number;
    readonly non2xx: number;
    readonly statusCodeStats: Readonly<Record<string, { readonly count: number }>>;
  }
  function autocannon(options: {
    url: string;
    connections: number;
    duration: number;
    overallRate?: number;
    requests: Request[];
  }): Promise<Result>;
  export default autocannon;
  export type { Request, Result };
}
