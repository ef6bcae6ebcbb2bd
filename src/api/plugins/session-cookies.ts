import cookie from '@fastify/cookie';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { SESSION_MS } from '../../shop/access/begin-session.ts';
import type { Credentials } from '../../shop/access/who-asks.ts';

const SESSION = 'panelday-session';
const TABLET = 'panelday-tablet';
/** RFC 6265bis lets a cookie live no longer. */
const LONGEST_S = 400 * 24 * 60 * 60;

/** Reads and writes the two cookies. */
export async function sessionCookies(app: FastifyInstance): Promise<void> {
  await app.register(cookie);
}

/** The session's secret and a program's token, as a request brings them. */
export function credentialsOf(request: FastifyRequest): Credentials {
  return { session: cookieOf(request, SESSION), token: tokenOf(request) };
}

function tokenOf(request: FastifyRequest): string | null {
  const [scheme, token = null] = (request.headers.authorization ?? '').split(' ', 2);
  if (scheme?.toLowerCase() === 'bearer') return token;
  const { token: inAddress } = (request.query ?? {}) as { token?: unknown };
  return request.routeOptions.config.tokenInAddress && typeof inAddress === 'string' ? inAddress : null;
}

export function tabletSecretOf(request: FastifyRequest): string | null {
  return cookieOf(request, TABLET);
}

export function keepSession(request: FastifyRequest, reply: FastifyReply, secret: string): void {
  write(request, reply, SESSION, secret, SESSION_MS / 1_000);
}

export function keepTablet(request: FastifyRequest, reply: FastifyReply, secret: string): void {
  write(request, reply, TABLET, secret, LONGEST_S);
}

export function dropSession(request: FastifyRequest, reply: FastifyReply): void {
  write(request, reply, SESSION, '', 0);
}

function write(request: FastifyRequest, reply: FastifyReply, name: string, value: string, maxAge: number): void {
  const secure = mustBeSecure(request);
  reply.setCookie(nameOf(name, secure), value, {
    maxAge,
    path: '/',
    httpOnly: true,
    sameSite: 'strict',
    secure,
  });
}

function cookieOf(request: FastifyRequest, name: string): string | null {
  return request.cookies[nameOf(name, mustBeSecure(request))] ?? null;
}

/** `__Host-`: the browser takes it from a secure page of this very host only. */
function nameOf(name: string, secure: boolean): string {
  return secure ? `__Host-${name}` : name;
}

/** Anything but this machine's own plain connection: not every browser takes a secure cookie from that. */
function mustBeSecure(request: FastifyRequest): boolean {
  return request.protocol === 'https' || !isOfThisMachine(request);
}

/**
 * Whether a request comes from a program on this machine straight to it: from a loopback address (RFC 1122, 3.2.1.3; RFC 4291,
 * 2.5.3), under a name of the machine itself, and not handed on by a proxy, behind which anybody may be.
 */
export function isOfThisMachine(request: FastifyRequest): boolean {
  const { headers, hostname, socket } = request;
  const handedOn = headers['x-forwarded-for'] !== undefined || headers.forwarded !== undefined;
  const name = hostname.replace(/^\[|\]$/g, '');
  return !handedOn && isLoopback(socket.remoteAddress ?? '') && (name === 'localhost' || isLoopback(name));
}

function isLoopback(address: string): boolean {
  return address === '::1' || /^(::ffff:)?127\./.test(address);
}
