import type { ShopId, TokenId } from '../../trade/model/ids.ts';
import { Instant } from '../../trade/model/time.ts';
import type { ApiToken, ApiTokens } from '../contract/access.ts';
import { NotFound } from '../contract/errors.ts';
import type { ApiTokenModel } from '../generated/sqlite/models.ts';
import { noteChange } from './audit-trail.ts';
import { checkShop } from './reference.ts';
import type { Session } from './session.ts';

/** Tokens of programs. */
export class ApiTokenBook implements ApiTokens {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async list(shopId: ShopId): Promise<ApiToken[]> {
    const rows = await this.#session.reader.apiToken.findMany({
      where: { shopId },
      orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
    });
    return rows.map(read);
  }

  async bySecret(secretHash: string): Promise<ApiToken | null> {
    const row = await this.#session.reader.apiToken.findUnique({ where: { secretHash } });
    return row === null ? null : read(row);
  }

  async add({ scopes, createdAt, expiresAt, ...token }: ApiToken): Promise<void> {
    await this.#session.write(token.shopId, { what: 'aside' }, async (transaction) => {
      await checkShop(transaction, token.shopId);
      const data = { scopes: scopes.join(' '), createdAt: BigInt(createdAt), expiresAt: BigInt(expiresAt ?? 0) };
      await transaction.apiToken.create({ data: { ...token, ...data } });
      const after = JSON.stringify({ name: token.name, scopes: data.scopes });
      const change = { shopId: token.shopId, kind: 'apiToken', subject: token.id, before: null, after };
      noteChange(this.#session, transaction, change);
    });
  }

  async remove(shopId: ShopId, id: TokenId): Promise<void> {
    await this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const old = await transaction.apiToken.findUnique({ where: { shopId_id: { shopId, id } } });
      if (old === null) throw new NotFound('token', id);
      await transaction.apiToken.deleteMany({ where: { shopId, id } });
      const before = JSON.stringify({ name: old.name, scopes: old.scopes });
      const change = { shopId, kind: 'apiToken', subject: id, before, after: null };
      noteChange(this.#session, transaction, change);
    });
  }
}

function read(row: ApiTokenModel): ApiToken {
  return {
    shopId: row.shopId as ShopId,
    id: row.id as TokenId,
    name: row.name,
    secretHash: row.secretHash,
    scopes: row.scopes === '' ? [] : row.scopes.split(' '),
    createdAt: Instant.parse(Number(row.createdAt)),
    createdBy: row.createdBy,
    expiresAt: row.expiresAt === 0n ? null : Instant.parse(Number(row.expiresAt)),
  };
}
