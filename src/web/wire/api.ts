import type { Problem } from '../../api/replies.ts';
import { noteReached } from './connection.ts';
import { noteAnswered, noteAsked } from './when-quiet.ts';

/** What the server said no to, in its own words. */
export class Refusal extends Error {
  readonly problem: Problem;
  constructor(problem: Problem) {
    super(problem.detail ?? problem.title);
    this.problem = problem;
  }
}

/** The server could not be reached; nothing is known of what became of the request. */
export class Unreachable extends Error {}

/** The session is over. What was asked did not happen and may be asked again once somebody has signed in. */
export class SignedOut extends Unreachable {}

interface Call {
  readonly method?: 'GET' | 'POST' | 'PATCH' | 'PUT' | 'DELETE';
  /** Sent as JSON, a blob as what it is. */
  readonly body?: unknown;
  /** The version a change is meant for. */
  readonly etag?: string;
  /** Makes a repeated POST count once. */
  readonly key?: string;
  readonly signal?: AbortSignal;
}

/** Calls the REST API and returns the body with its entity tag. @throws Refusal, Unreachable, SignedOut */
export async function call<T>(path: string, { method = 'GET', body, etag, key, signal }: Call = {}) {
  const headers: Record<string, string> = { accept: 'application/json' };
  if (body !== undefined) headers['content-type'] = body instanceof Blob ? body.type : 'application/json';
  if (etag !== undefined) headers['if-match'] = etag;
  if (method === 'POST') headers['idempotency-key'] = key ?? crypto.randomUUID();
  let response: Response;
  let text: string;
  noteAsked();
  try {
    response = await fetch(path, {
      method,
      headers,
      ...(body === undefined ? {} : { body: body instanceof Blob ? body : JSON.stringify(body) }),
      ...(signal ? { signal } : {}),
    });
    text = await response.text();
  } catch (error) {
    if (signal?.aborted) throw error;
    noteReached(false);
    throw new Unreachable();
  } finally {
    noteAnswered();
  }
  noteReached(true);
  if (response.status === 401 && !path.startsWith('/v1/sign-ins/')) {
    goToSignIn();
    throw new SignedOut();
  }
  if (!response.ok) throw new Refusal(problemIn(text, response));
  return { value: (text === '' ? null : JSON.parse(text)) as T, etag: response.headers.get('etag') };
}

/** The body alone. */
export async function read<T>(path: string, signal?: AbortSignal): Promise<T> {
  return (await call<T>(path, signal ? { signal } : {})).value;
}

function problemIn(text: string, response: Response): Problem {
  try {
    return JSON.parse(text) as Problem;
  } catch {
    return { type: 'about:blank', title: response.statusText, status: response.status };
  }
}

/** Leaves for the sign-in page, which leads back here. */
function goToSignIn(): void {
  location.assign(`/sign-in.html?to=${encodeURIComponent(location.pathname + location.search)}`);
}
