import type { z } from 'zod';
import type { Written } from '../contract/written.ts';
import type { Reference } from './reference.ts';
import type { TableName } from './table.ts';

/** How one kind of document is kept: its columns beside the document, what it points to, and what points to it. */
export interface DocumentKind<T> {
  readonly table: TableName;
  readonly model: z.ZodType<T>;
  /** Puts the stored version into a document that carries one. */
  readonly withVersion?: (value: T, version: number) => T;
  columns(value: T): Record<string, unknown>;
  references(value: T): Reference[];
  /** Rows of a table of its own for references that are many. */
  readonly links?: {
    readonly table: TableName;
    readonly ownerColumn: string;
    rows(value: T): Record<string, string>[];
  };
  /** What a write of such a document is to readings that are kept; left out, anything. */
  readonly written?: (id: string) => Written;
  /** What may forbid its deletion, in the words of the error. */
  readonly referencedBy: readonly { readonly by: string; readonly table: TableName; where(id: string): object }[];
}
