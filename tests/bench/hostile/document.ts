/** What of an OpenAPI 3.1 document requests are made from. */
export interface JsonSchema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly anyOf?: readonly JsonSchema[];
  readonly oneOf?: readonly JsonSchema[];
  readonly allOf?: readonly JsonSchema[];
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: boolean | JsonSchema;
  readonly propertyNames?: JsonSchema;
  readonly items?: JsonSchema;
  readonly prefixItems?: readonly JsonSchema[];
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly pattern?: string;
  readonly format?: string;
  readonly default?: unknown;
}

export interface Parameter {
  readonly name: string;
  readonly in: 'path' | 'query' | 'header' | 'cookie';
  readonly required?: boolean;
  readonly schema?: JsonSchema;
}

interface DescribedOperation {
  readonly operationId: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { readonly schema?: JsonSchema }>> };
  readonly responses: Readonly<Record<string, { readonly content?: Readonly<Record<string, unknown>> }>>;
}

export interface OpenApiDocument {
  readonly paths: Readonly<Record<string, Readonly<Record<string, DescribedOperation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, JsonSchema>> };
}

export interface Operation {
  readonly id: string;
  readonly method: string;
  readonly path: string;
  readonly parameters: readonly Parameter[];
  /** By media type; absent where no body is taken. */
  readonly body?: { readonly type: string; readonly schema: JsonSchema };
  /** Whether the reply goes on until the caller has had enough. */
  readonly endless: boolean;
}

/** Every operation of a document, in the document's order. */
export function operationsOf(document: OpenApiDocument): Operation[] {
  return Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, described]): Operation => {
      const [type, content] = Object.entries(described.requestBody?.content ?? {})[0] ?? [];
      return {
        id: described.operationId,
        method: method.toUpperCase(),
        path,
        parameters: described.parameters ?? [],
        ...(type === undefined ? {} : { body: { type, schema: content?.schema ?? {} } }),
        endless: Object.values(described.responses).some(
          ({ content: sent }) => sent?.['text/event-stream'] !== undefined,
        ),
      };
    }),
  );
}
