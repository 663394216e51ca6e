// What waits on this phone, in IndexedDB. Shared by pages and the service worker; nothing here touches the network.
"use strict";

(function (self) {
  const NAME = "rinklog", VERSION = 1, ITEMS = "items", ASIDE = "aside", SENT = "sent";
  let opening = null;

  function open() {
    opening ??= new Promise((resolve, reject) => {
      const request = indexedDB.open(NAME, VERSION);
      request.onupgradeneeded = () => {
        // autoIncrement gives the order of writing, whatever the phone's clock does.
        request.result.createObjectStore(ITEMS, { keyPath: "turn", autoIncrement: true }).createIndex("id", "id", { unique: true });
        request.result.createObjectStore(ASIDE, { keyPath: "turn", autoIncrement: true });
        request.result.createObjectStore(SENT, { keyPath: "id" });
      };
      request.onsuccess = () => {
        request.result.onversionchange = () => { request.result.close(); opening = null; };
        request.result.onclose = () => { opening = null; };
        resolve(request.result);
      };
      request.onblocked = () => reject(new Error("another tab holds an older version of the store"));
      request.onerror = () => { opening = null; reject(request.error); };
    });
    return opening;
  }

  // One transaction; what is kept resolves when it is on the disk, not before.
  async function act(stores, mode, work, durability = "strict") {
    const database = await open();
    return new Promise((resolve, reject) => {
      const transaction = database.transaction(stores, mode, { durability });
      let result;
      const wanted = work(...[stores].flat().map((name) => transaction.objectStore(name)));
      if (wanted instanceof IDBRequest) wanted.onsuccess = () => { result = wanted.result; };
      transaction.oncomplete = () => resolve(result);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error ?? new Error("the store is full"));
    });
  }

  let channel = null;
  const tell = () => { try { (channel ??= new BroadcastChannel("rinklog-outbox")).postMessage("changed"); } catch { /* an old browser: the page asks again */ } };
  const told = async (promise) => { const result = await promise; tell(); return result; };

  // A version 4 UUID; crypto.randomUUID is missing on plain HTTP.
  function newId() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 15) | 64;
    bytes[8] = (bytes[8] & 63) | 128;
    const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
  }

  // An item is {id, url, fields: [[name, text or Blob, file name?]], who, rink, title, summary, zones, madeAt, state}.
  const wellFormed = (item) => typeof item?.id === "string" && typeof item.url === "string" && item.url.startsWith("/") && Array.isArray(item.fields);

  self.outboxStore = {
    keep: (item) => told(act(ITEMS, "readwrite", (items) => items.add(item))),
    change: (item) => told(act(ITEMS, "readwrite", (items) => items.put(item))),
    drop: (turn) => told(act(ITEMS, "readwrite", (items) => items.delete(turn))),
    byId: (id) => act(ITEMS, "readonly", (items) => items.index("id").get(id)),
    one: (turn) => act(ITEMS, "readonly", (items) => items.get(turn)),
    count: () => act(ITEMS, "readonly", (items) => items.count()),
    all: () => act(ITEMS, "readonly", (items) => items.getAll()),
    aside: () => act(ASIDE, "readonly", (items) => items.getAll()),
    dropAside: (turn) => told(act(ASIDE, "readwrite", (items) => items.delete(turn))),
    sentAs: (id) => act(SENT, "readonly", (sent) => sent.get(id)),

    // Sent: out of the items and into the short memory of what went where, at once. It need not wait for the disk: after a
    // power cut the item goes out again, and the server knows its id.
    sent: (item, at) => told(act([ITEMS, SENT], "readwrite", (items, sent) => {
      items.delete(item.turn);
      sent.put({ id: item.id, at, when: Date.now() });
    }, "relaxed")),
    // What cannot be read is kept apart, to be seen and taken out as a file: it must not stop the others.
    setAside: (item) => told(act([ITEMS, ASIDE], "readwrite", (items, aside) => {
      items.delete(item.turn);
      aside.add({ item });
    })),
    forgetOld: (before) => act(SENT, "readwrite", (sent) => {
      sent.openCursor().onsuccess = (event) => {
        const cursor = event.target.result;
        if (!cursor) return;
        if (cursor.value.when < before) cursor.delete();
        cursor.continue();
      };
    }),
    wellFormed, newId,
  };
})(self);
