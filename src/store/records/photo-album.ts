import type { JobId, PhotoId, ShopId } from '../../trade/model/ids.ts';
import { Photo } from '../../trade/model/photo.ts';
import { AlreadyExists, NotFound } from '../contract/errors.ts';
import type { Photos } from '../contract/photos.ts';
import type { PhotoModel } from '../generated/sqlite/models.ts';
import { checkDocument, readDocument } from './document.ts';
import { checkReferences } from './reference.ts';
import type { Session } from './session.ts';

/** Photographs, their bytes in a table of their own. */
export class PhotoAlbum implements Photos {
  readonly #session: Session;

  constructor(session: Session) {
    this.#session = session;
  }

  async list(shopId: ShopId, jobId: JobId): Promise<Photo[]> {
    const rows = await this.#session.reader.photo.findMany({
      where: { shopId, jobId },
      orderBy: [{ takenAt: 'asc' }, { id: 'asc' }],
    });
    return rows.map(read);
  }

  async get(shopId: ShopId, jobId: JobId, id: PhotoId): Promise<Photo | null> {
    const row = await this.#session.reader.photo.findFirst({ where: { shopId, jobId, id } });
    return row === null ? null : read(row);
  }

  async byClientId(shopId: ShopId, clientId: string): Promise<Photo | null> {
    const row = await this.#session.reader.photo.findUnique({ where: { shopId_clientId: { shopId, clientId } } });
    return row === null ? null : read(row);
  }

  async bytes(shopId: ShopId, id: PhotoId): Promise<Uint8Array | null> {
    const row = await this.#session.reader.photoBytes.findUnique({ where: { shopId_id: { shopId, id } } });
    return row === null ? null : new Uint8Array(row.bytes);
  }

  async add(shopId: ShopId, photo: Photo, bytes: Uint8Array): Promise<void> {
    const checked = checkDocument(Photo, photo, `photograph ${shopId}/${photo.id}`);
    const { id, jobId, clientId, takenAt } = checked;
    await this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      await checkReferences(transaction, shopId, [{ field: 'jobId', table: 'job', id: jobId }]);
      const there = await transaction.photo.findFirst({ where: { shopId, OR: [{ id }, { clientId }] } });
      if (there !== null) throw new AlreadyExists('photograph', there.id);
      await transaction.photo.create({
        data: { shopId, id, jobId, clientId, takenAt: BigInt(takenAt), document: JSON.stringify(checked) },
      });
      await transaction.photoBytes.create({ data: { shopId, id, bytes: new Uint8Array(bytes) } });
    });
  }

  async delete(shopId: ShopId, jobId: JobId, id: PhotoId): Promise<void> {
    await this.#session.write(shopId, { what: 'aside' }, async (transaction) => {
      const { count } = await transaction.photo.deleteMany({ where: { shopId, jobId, id } });
      if (count === 0) throw new NotFound('photograph', id);
    });
  }
}

function read(row: PhotoModel): Photo {
  return readDocument(Photo, row.document, `photograph ${row.shopId}/${row.id}`);
}
