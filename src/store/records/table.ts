import type { Queries } from '../connection/connection.ts';

export type TableName =
  | 'airZone'
  | 'place'
  | 'technician'
  | 'equipment'
  | 'coating'
  | 'recipe'
  | 'job'
  | 'placeBlock'
  | 'technicianCertificate'
  | 'recipeCoating'
  | 'floorEvent'
  | 'reading'
  | 'plannedJob'
  | 'plannedOperation'
  | 'plannedPerson'
  | 'plannedStay'
  | 'occupancy'
  | 'outboxEvent'
  | 'planVersion'
  | 'deskException'
  | 'auditEntry'
  | 'requestReply'
  | 'photo';

type Row = Readonly<Record<string, unknown>>;

/** What the tables of documents have in common, so that one class serves them all. */
export interface Table {
  findMany(query: object): Promise<Row[]>;
  findUnique(query: object): Promise<Row | null>;
  findFirst(query: object): Promise<Row | null>;
  create(query: object): Promise<Row>;
  createMany(query: object): Promise<{ count: number }>;
  updateMany(query: object): Promise<{ count: number }>;
  deleteMany(query: object): Promise<{ count: number }>;
}

export function tableOf(queries: Queries, name: TableName): Table {
  return queries[name] as unknown as Table;
}
