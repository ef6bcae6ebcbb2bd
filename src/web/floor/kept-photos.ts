/** Photographs that wait on the device, by the id of the action that sends them: localStorage, which keeps the order, takes no bytes. */
const DATABASE = 'panelday';
const PHOTOS = 'photos';

export const keepPhoto = (id: string, photo: Blob): Promise<unknown> =>
  withPhotos('readwrite', (store) => store.put(photo, id));

/** Null when the device has lost it, for instance when its storage was cleared. */
export const keptPhoto = async (id: string): Promise<Blob | null> =>
  (await withPhotos<Blob | undefined>('readonly', (store) => store.get(id))) ?? null;

export const forgetPhoto = (id: string): Promise<unknown> => withPhotos('readwrite', (store) => store.delete(id));

async function withPhotos<T>(mode: IDBTransactionMode, ask: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const opening = indexedDB.open(DATABASE, 1);
  opening.onupgradeneeded = () => opening.result.createObjectStore(PHOTOS);
  const database = await answer(opening);
  try {
    const transaction = database.transaction(PHOTOS, mode);
    const value = await answer(ask(transaction.objectStore(PHOTOS)));
    if (mode === 'readwrite') await committed(transaction);
    return value;
  } finally {
    database.close();
  }
}

function answer<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

/** What is written is safe only once its transaction is through. */
function committed(transaction: IDBTransaction): Promise<void> {
  return new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error);
  });
}
