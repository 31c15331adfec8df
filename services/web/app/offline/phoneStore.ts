/** What a phone keeps in its browser (Indexed Database API 3.0), so that it is there without a network and after the battery has died. */
export interface PhoneStore {
  read<Value>(table: Table, key: IDBValidKey): Promise<Value | undefined>;
  /** In order of their keys. */
  all<Value>(table: Table): Promise<Value[]>;
  /** Changes made together: all of them are on the disk when it ends, or none. */
  change(tables: readonly Table[], make: (of: (table: Table) => IDBObjectStore) => void): Promise<void>;
  close(): void;
}

/** outbox: reports in the order in which they were made; kept: what was read of the crew's days. */
const tables = ["outbox", "kept"] as const;
export type Table = (typeof tables)[number];

export async function openPhoneStore(factory: IDBFactory = indexedDB): Promise<PhoneStore> {
  const request = factory.open("calmhour-phone", 1);
  request.onupgradeneeded = () => {
    const outbox = request.result.createObjectStore("outbox", { keyPath: "place", autoIncrement: true });
    outbox.createIndex("id", "id", { unique: true });
    request.result.createObjectStore("kept", { keyPath: "key" });
  };
  const db = await answered(request);
  // Another tab with a newer build must not wait for this one.
  db.onversionchange = () => db.close();
  return {
    read: (table, key) => answered(db.transaction(table).objectStore(table).get(key)),
    all: (table) => answered(db.transaction(table).objectStore(table).getAll()),
    change(names, make) {
      const transaction = db.transaction(names, "readwrite", { durability: "strict" });
      const ended = new Promise<void>((resolve, reject) => {
        transaction.oncomplete = () => resolve();
        transaction.onabort = () => reject(transaction.error ?? new Error("nothing was written"));
      });
      make((table) => transaction.objectStore(table));
      return ended;
    },
    close: () => db.close(),
  };
}

let opened: Promise<PhoneStore> | null = null;

/** The one of this page. What failed to open is tried again. */
export function phoneStore(): Promise<PhoneStore> {
  opened ??= openPhoneStore().catch((error: unknown) => {
    opened = null;
    throw error;
  });
  return opened;
}

function answered<Value>(request: IDBRequest<Value>): Promise<Value> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}
