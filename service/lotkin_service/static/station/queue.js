// Scans that wait on this device.  Every scan is written down here before it is sent and taken
// out when it was answered, so a reload, a crash or a lost connection loses none of them.

const NAME = "lotkin-station";
const STORE = "scans";

function promised(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

export class Queue {
  static async open() {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore(STORE, { keyPath: "number", autoIncrement: true });
    };
    return new Queue(await promised(request));
  }

  constructor(database) {
    this.database = database;
  }

  // Write a scan down; it is on the disk when this is done.
  add(scan) {
    return new Promise((resolve, reject) => {
      const change = this.database.transaction(STORE, "readwrite", { durability: "strict" });
      change.objectStore(STORE).add(scan);
      change.oncomplete = () => resolve();
      change.onabort = () => reject(change.error);
    });
  }

  // All scans in the order in which they were made.
  all() {
    return promised(this.database.transaction(STORE).objectStore(STORE).getAll());
  }

  async remove(ids) {
    const gone = new Set(ids);
    const waiting = await this.all();
    return new Promise((resolve, reject) => {
      const change = this.database.transaction(STORE, "readwrite");
      for (const scan of waiting) {
        if (gone.has(scan.id)) change.objectStore(STORE).delete(scan.number);
      }
      change.oncomplete = () => resolve();
      change.onabort = () => reject(change.error);
    });
  }

  // Note that these were on their way once: from then on they are late.
  async tried(ids) {
    const sent = new Set(ids);
    const waiting = await this.all();
    return new Promise((resolve, reject) => {
      const change = this.database.transaction(STORE, "readwrite");
      for (const scan of waiting) {
        if (sent.has(scan.id)) change.objectStore(STORE).put({ ...scan, tried: true });
      }
      change.oncomplete = () => resolve();
      change.onabort = () => reject(change.error);
    });
  }
}
