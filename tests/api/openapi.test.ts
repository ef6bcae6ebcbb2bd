import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Api } from '../../src/api/api.ts';
import { buildApp } from '../../src/api/app.ts';
import type { ShopDeps } from '../../src/shop/deps.ts';
import { everybodyAdministers } from './a-shop.ts';

interface Operation {
  operationId?: string;
  summary?: string;
  tags?: string[];
  parameters?: { name: string; in: string; required?: boolean }[];
  requestBody?: unknown;
  responses: Record<string, { description?: string; content?: Record<string, { schema?: unknown }> }>;
}
type Document = {
  openapi: string;
  paths: Record<string, Record<string, Operation>>;
  components: { schemas: Record<string, Record<string, unknown>> };
};

/** The document asks nothing of the use cases, so that none need to be there. */
const nobody = { clock: () => 0 } as unknown as ShopDeps;

/** POSTs that keep nothing: they may be sent again without harm. */
const computing = new Set(['quote', 'askWhatIf']);
/** What is made and withdrawn, and never changed in between. */
const unversioned = new Set(['signOut', 'changeOwnPassword', 'removeTablet', 'removeApiToken']);
/** POSTs whose reply holds a secret, which is told once and never kept. */
const secretive = new Set(['signIn', 'signInByPin', 'signInToDemo', 'claimServer', 'addTablet', 'addApiToken']);

let app: Api;
let document: Document;
let operations: { method: string; path: string; operation: Operation }[];

beforeAll(async () => {
  app = await buildApp({ shop: nobody, version: '0.0.0-test', whoAsks: everybodyAdministers });
  document = (await app.inject({ url: '/v1/openapi.json' })).json();
  operations = Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ method, path, operation })),
  );
});
afterAll(() => app.close());

function headers(operation: Operation) {
  return (operation.parameters ?? []).filter((each) => each.in === 'header').map((each) => each.name);
}

describe('the OpenAPI document', () => {
  test('is valid OpenAPI 3.1 to a validator of its own', async () => {
    // Source: the OpenAPI Initiative's JSON Schema of 3.1, as shipped with @seriousme/openapi-schema-validator.
    const validator = new Validator();
    const result = await validator.validate(structuredClone(document));
    expect(result.errors).toBeUndefined();
    expect(result.valid).toBe(true);
    expect(validator.version).toBe('3.1');
  });

  test('a document with a broken part is told to be invalid, so that the check can fail', async () => {
    const broken = structuredClone(document) as unknown as { info: { title?: string } };
    delete broken.info.title;
    const result = await new Validator().validate(broken as unknown as Record<string, unknown>);
    expect(result.valid).toBe(false);
  });

  test('every reference leads to a schema that is there, and every schema there is referred to', () => {
    const text = JSON.stringify(document);
    const referred = new Set([...text.matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g)].map((match) => match[1]));
    expect([...referred].sort()).toEqual(Object.keys(document.components.schemas).sort());
  });

  test('operation ids are there and unique', () => {
    const ids = operations.map(({ operation }) => operation.operationId);
    expect(ids).not.toContain(undefined);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.length).toBeGreaterThan(50);
  });

  test('every operation has a summary, a tag and problem replies as application/problem+json', () => {
    for (const { method, path, operation } of operations) {
      const at = `${method} ${path}`;
      expect(operation.summary, at).toBeTruthy();
      expect(operation.tags, at).toHaveLength(1);
      const faults = Object.entries(operation.responses).filter(([status]) => Number(status) >= 400);
      expect(
        faults.map(([status]) => status),
        at,
      ).toEqual(expect.arrayContaining(['400', '500']));
      for (const [status, reply] of faults) {
        expect(Object.keys(reply.content ?? {}), `${at} ${status}`).toEqual(['application/problem+json']);
      }
    }
  });

  test('every address with a parameter can answer 404', () => {
    for (const { method, path, operation } of operations.filter((each) => each.path.includes('{'))) {
      if (method === 'put' && path === '/v1/shops/{shopId}') continue;
      expect(Object.keys(operation.responses), `${method} ${path}`).toContain('404');
    }
  });

  test('every POST that creates takes an Idempotency-Key, and answers 409 and 422 for one used wrongly', () => {
    const posts = operations.filter(({ method, operation }) => method === 'post' && !isComputing(operation));
    expect(posts.length).toBeGreaterThan(10);
    for (const { path, operation } of posts) {
      const key = operation.parameters?.find((each) => each.name.toLowerCase() === 'idempotency-key');
      expect(key, path).toMatchObject({ in: 'header', required: true });
      expect(Object.keys(operation.responses), path).toEqual(expect.arrayContaining(['409', '422']));
    }
  });

  test('every PUT, PATCH and DELETE of something with versions takes If-Match and answers 412 and 428', () => {
    const writes = operations.filter(
      ({ method, operation }) =>
        ['put', 'patch', 'delete'].includes(method) && !unversioned.has(String(operation.operationId)),
    );
    expect(writes.length).toBeGreaterThan(10);
    for (const { method, path, operation } of writes) {
      expect(headers(operation), `${method} ${path}`).toContain('if-match');
      expect(Object.keys(operation.responses), path).toEqual(expect.arrayContaining(['412', '428']));
    }
  });

  test('every operation with a JSON body answers malformed JSON with 400 and another media type with 415', () => {
    for (const { path, operation } of operations.filter((each) => each.operation.requestBody !== undefined)) {
      expect(Object.keys(operation.responses), path).toEqual(expect.arrayContaining(['400', '415']));
    }
  });

  test('instants are date-time text in requests and in replies', () => {
    const job = document.components.schemas.Job as { properties: Record<string, unknown> };
    expect(job.properties.createdAt).toEqual({ type: 'string', format: 'date-time' });
    const body = document.paths['/v1/shops/{shopId}/jobs/{jobId}/inspection']?.post?.requestBody;
    expect(JSON.stringify(body)).toContain('InspectionInput');
    const inspection = document.components.schemas.InspectionInput as { properties: Record<string, unknown> };
    expect(inspection.properties.at).toMatchObject({ type: 'string', format: 'date-time' });
  });

  test('there is a page to read it, served from here', async () => {
    const page = await app.inject({ url: '/docs/' });
    expect(page.statusCode).toBe(200);
    expect(page.headers['content-type']).toContain('text/html');
    expect(page.body).not.toMatch(/(src|href)="https?:/);
  });
});

function isComputing(operation: Operation): boolean {
  const id = operation.operationId ?? '';
  return computing.has(id) || secretive.has(id) || /^preview\w+$/.test(id);
}
