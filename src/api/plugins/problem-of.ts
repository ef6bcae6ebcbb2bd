import type { FastifyError, FastifyRequest } from 'fastify';
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod';
import { NothingFits, SlotGone, Stale } from '../../shop/problems/problems.ts';
import { ShopProblem, type ProblemKind as ShopProblemKind } from '../../shop/problems/shop-problem.ts';
import { storeTroubleOf } from '../../shop/problems/store-refusals.ts';
import {
  ApiProblem,
  type FieldError,
  type ProblemDetails,
  type ProblemKind,
  pointer,
  problemKinds,
} from '../wire/problem.ts';

const kindOfShopProblem: Record<ShopProblemKind, ProblemKind> = {
  notFound: 'not-found',
  stale: 'stale',
  refused: 'refused',
  nothingFits: 'nothing-fits',
  slotGone: 'slot-gone',
  gateShut: 'gate-shut',
  wrongState: 'wrong-state',
  invalid: 'invalid-request',
  planRejected: 'internal',
  busy: 'busy',
  storeTrouble: 'store-trouble',
  notSignedIn: 'not-signed-in',
  tooManyAttempts: 'too-many',
};

const kindOfFastifyCode: Record<string, ProblemKind> = {
  FST_ERR_CTP_INVALID_JSON_BODY: 'malformed-json',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'malformed-json',
  FST_ERR_CTP_BODY_TOO_LARGE: 'too-large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'unsupported-media-type',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'invalid-request',
};

const partOfRequest: Record<string, FieldError['in']> = {
  body: 'body',
  querystring: 'query',
  params: 'path',
  headers: 'header',
};

/** Problem details (RFC 9457) for whatever was thrown. An error nobody foresaw tells nothing of itself. */
export function problemOf(error: unknown, request: FastifyRequest): ProblemDetails {
  if (error instanceof ApiProblem) return details(error.kind, error.message, request, error.errors);
  if (error instanceof ShopProblem) return ofShop(error, request);
  if (hasZodFastifySchemaValidationErrors(error)) return ofValidation(error, request);
  const { code, statusCode } = error as Partial<FastifyError>;
  const kind = code === undefined ? undefined : kindOfFastifyCode[code];
  if (kind) return details(kind, `${problemKinds[kind].title}.`, request);
  if (statusCode !== undefined && statusCode >= 400 && statusCode < 500) {
    return details('invalid-request', 'The request could not be read.', request);
  }
  const trouble = storeTroubleOf(error);
  if (trouble !== null) return ofShop(trouble, request);
  return details(
    'internal',
    'The request could not be answered; the log has the reason under its request id.',
    request,
  );
}

function details(
  kind: ProblemKind,
  detail: string,
  request: FastifyRequest,
  errors: readonly FieldError[] = [],
): ProblemDetails {
  return {
    type: `/problems/${kind}`,
    title: problemKinds[kind].title,
    status: problemKinds[kind].status,
    detail,
    instance: request.url.split('?')[0],
    requestId: request.id,
    ...(errors.length > 0 ? { errors: [...errors] } : {}),
  };
}

function ofShop(error: ShopProblem, request: FastifyRequest): ProblemDetails {
  if (error.kind === 'planRejected') {
    return details('internal', 'The plan broke a rule and was not stored.', request);
  }
  const part = error.kind === 'notFound' ? 'path' : request.method === 'GET' ? 'query' : 'body';
  const errors: FieldError[] = error.objections.map((objection) => ({
    in: part,
    field: ofDotted(objection.field, request.body),
    message: objection.text,
    rule: objection.rule,
  }));
  if (errors.length === 0 && error.field !== '' && error.kind !== 'stale') {
    errors.push({ in: part, field: ofDotted(error.field, request.body), message: error.message });
  }
  return {
    ...details(kindOfShopProblem[error.kind], error.message, request, errors),
    ...(error instanceof NothingFits || error instanceof SlotGone ? { nearest: error.nearest } : {}),
    ...(error instanceof Stale ? { currentVersion: error.currentVersion } : {}),
  };
}

/**
 * Use cases name the fields of what they are given; a body may carry that under a name (`request`) or be that itself
 * (`inspection`). The pointer is the one that leads somewhere in the body.
 */
function ofDotted(field: string, body: unknown): string {
  if (field === '') return '';
  const path = field.split('.');
  const candidates = [path, ['request', ...path], path.slice(1)];
  const leading = candidates.find((keys) => keys.length > 0 && leadsSomewhere(keys, body));
  return pointer(leading ?? path);
}

function leadsSomewhere([first = '', second]: readonly string[], body: unknown): boolean {
  if (typeof body !== 'object' || body === null || !(first in body)) return false;
  const inner = (body as Record<string, unknown>)[first];
  return second === undefined || (typeof inner === 'object' && inner !== null && second in inner);
}

function ofValidation(
  error: {
    validation: readonly { instancePath: string; message?: string; keyword: string; params: object }[];
  } & object,
  request: FastifyRequest,
): ProblemDetails {
  const part = partOfRequest[(error as FastifyError).validationContext ?? 'body'] ?? 'body';
  const errors = error.validation.flatMap((issue): FieldError[] => {
    const path = issue.instancePath === '/' ? '' : issue.instancePath;
    const { keys } = issue.params as { keys?: readonly string[] };
    if (issue.keyword === 'unrecognized_keys' && keys) {
      return keys.map((key) => ({ in: part, field: `${path}${pointer([key])}`, message: 'is not a field known here' }));
    }
    return [{ in: part, field: path, message: issue.message ?? 'is not valid' }];
  });
  const fields = errors.map((each) => each.field || 'the whole').join(', ');
  return details('invalid-request', `Not valid in the ${part}: ${fields}.`, request, errors);
}
