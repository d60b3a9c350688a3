// @ts-check
// What the device keeps, in IndexedDB. A promise is kept only when the browser says that it is written.

const name = 'schooldrills-cockpit';
const stores = ['settings', 'work', 'flights', 'logs', 'sending', 'marks'];

/** @type {Promise<IDBDatabase> | undefined} */
let opened;

/** @returns {Promise<IDBDatabase>} */
function open() {
  opened ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(name, 1);
    request.onupgradeneeded = () => {
      for (const store of stores) request.result.createObjectStore(store, { keyPath: 'id' });
      const positions = request.result.createObjectStore('positions', { autoIncrement: true });
      positions.createIndex('flight', 'flight');
    };
    request.onsuccess = () => {
      // Another tab with a newer page must not wait for this one.
      request.result.onversionchange = () => request.result.close();
      request.result.onclose = () => (opened = undefined);
      resolve(request.result);
    };
    request.onerror = () => {
      opened = undefined;
      reject(request.error);
    };
  });
  return opened;
}

/**
 * @template T
 * @param {string | string[]} names
 * @param {IDBTransactionMode} mode
 * @param {(transaction: IDBTransaction) => IDBRequest<T> | void} work
 * @returns {Promise<T | undefined>}
 */
async function within(names, mode, work) {
  const database = await open();
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(names, mode, { durability: 'strict' });
    const request = work(transaction);
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onabort = transaction.onerror = () => reject(transaction.error ?? new Error('The device did not store this.'));
  });
}

/**
 * @param {string} store
 * @param {string} id
 * @param {string} json
 */
export const put = async (store, id, json) => {
  await within(store, 'readwrite', t => t.objectStore(store).put({ id, json }));
};

/**
 * @param {string} store
 * @param {string} id
 * @returns {Promise<string | null>}
 */
export const get = async (store, id) => (await within(store, 'readonly', t => t.objectStore(store).get(id)))?.json ?? null;

/**
 * @param {string} store
 * @returns {Promise<string[]>}
 */
export const all = async store => ((await within(store, 'readonly', t => t.objectStore(store).getAll())) ?? []).map(row => row.json);

/**
 * @param {string} store
 * @param {string[]} ids
 */
export const remove = async (store, ids) => {
  await within(store, 'readwrite', t => ids.forEach(id => t.objectStore(store).delete(id)));
};

/**
 * One store's rows for others, in one go: all of them or, where the device refuses, those that were there.
 * @param {string} store
 * @param {{ id: string, json: string }[]} rows
 */
export const replace = async (store, rows) => {
  await within(store, 'readwrite', t => {
    const target = t.objectStore(store);
    target.clear();
    for (const row of rows) target.put(row);
  });
};

/**
 * @typedef {object} Position
 * @property {string} flight
 * @property {number} atMs
 * @property {number} lat
 * @property {number} lon
 * @property {number | null} altM
 * @property {number | null} speedMps
 * @property {number | null} courseDeg
 * @property {number} accuracyM
 * @property {number | null} altAccuracyM
 */

/** @param {Position} position */
export const addPosition = position => within('positions', 'readwrite', t => t.objectStore('positions').add(position));

/** @param {string} flight */
export const countPositions = async flight =>
  (await within('positions', 'readonly', t => t.objectStore('positions').index('flight').count(flight))) ?? 0;

/** @param {string} flight */
export const dropPositions = async flight => {
  await within('positions', 'readwrite', t => {
    t.objectStore('positions').index('flight').openKeyCursor(IDBKeyRange.only(flight)).onsuccess = event => {
      const cursor = /** @type {IDBRequest<IDBCursor | null>} */ (event.target).result;
      if (!cursor) return;
      t.objectStore('positions').delete(cursor.primaryKey);
      cursor.continue();
    };
  });
};

const figure = (/** @type {number | null} */ value, /** @type {number} */ digits) =>
  value === null || !Number.isFinite(value) ? '' : value.toFixed(digits);

/**
 * A flight's positions as a CSV, the same bytes each time: one line a position, in the order they came.
 * @param {string} flight
 * @param {number} aheadMs by how much this device's clock is ahead
 */
export async function csv(flight, aheadMs) {
  /** @type {Position[]} */
  const rows = (await within('positions', 'readonly', t => t.objectStore('positions').index('flight').getAll(flight))) ?? [];
  const lines = ['utc time,latitude (deg),longitude (deg),gps altitude (m),ground speed (m/s),true course (deg),accuracy (m)'];
  for (const p of rows) {
    lines.push(
      [
        new Date(Math.round(p.atMs - aheadMs)).toISOString(),
        p.lat.toFixed(7),
        p.lon.toFixed(7),
        figure(p.altM, 1),
        figure(p.speedMps, 2),
        figure(p.courseDeg, 1),
        figure(p.accuracyM, 1),
      ].join(','),
    );
  }
  return new TextEncoder().encode(lines.join('\n') + '\n');
}

/** Asks the browser not to clear what is kept when space runs short. */
export const keep = async () => (await navigator.storage?.persist?.()) ?? false;
