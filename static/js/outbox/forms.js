// A form marked data-outbox is kept on this phone first and sent from there. Without this file it is posted as ever.
"use strict";

(function () {
  const store = self.outboxStore, send = self.outboxSend;
  const words = document.querySelector("[data-outbox-words]")?.dataset;
  if (!words) return;
  if (!("indexedDB" in window)) return nothingIsKept();
  const keptFrom = document.documentElement.dataset.kept; // set by the service worker in a page that is not fresh
  const WAIT_MS = 8_000;

  // A private window, perhaps: said before anybody types. What is sent at once still goes.
  function nothingIsKept() {
    if (document.querySelector("form[data-outbox]")) sign(words.noStore, true);
  }

  // Room for a photo or two, or it is said before anybody types.
  const LITTLE_ROOM_BYTES = 40_000_000;
  async function lookForRoom() {
    const { quota, usage } = await navigator.storage?.estimate?.() ?? {};
    if (quota - usage < LITTLE_ROOM_BYTES && document.querySelector("form[data-outbox]")) sign(words.littleRoom, true);
  }

  // The rink's local time in the way that a time field wants it.
  function localTime(ms, zone) {
    const parts = new Intl.DateTimeFormat("sv-SE", { timeZone: zone, dateStyle: "short", timeStyle: "short" }).format(ms);
    return parts.replace(" ", "T");
  }

  // A kept page was made for another moment: its id may be used already, its time is past.
  function renew(form) {
    const id = form.elements.id, old = id?.value;
    if (!id) return;
    id.value = store.newId();
    for (const box of form.querySelectorAll("[data-subject-id]")) if (box.dataset.subjectId === old) box.dataset.subjectId = id.value;
    for (const name of ["started", "found", "said_at", "at"]) {
      const field = form.elements[name];
      // What was typed before this script came stays.
      if (field?.type === "datetime-local" && field.value && field.value === field.defaultValue) { field.value = localTime(Date.now(), words.timeZone); form.dataset.filledHere = "1"; }
    }
    form.addEventListener("input", (event) => { if (event.target.type === "datetime-local") delete form.dataset.filledHere; });
  }

  const plain = (text) => text.replace(/\s+/g, " ").trim();

  function fieldsOf(form, button) {
    const fields = [];
    for (const [name, value] of new FormData(form, button)) {
      if (name === "csrfmiddlewaretoken") continue; // a fresh one is fetched when it is sent
      if (value instanceof File) { if (value.size) fields.push([name, value, value.name]); } else fields.push([name, value]);
    }
    return fields;
  }

  function itemOf(form, button) {
    const fields = fieldsOf(form, button), value = (name) => fields.find(([key]) => key === name)?.[1];
    const zones = [...form.querySelectorAll("input[name=zones]:checked")];
    const when = value("started") ?? value("found") ?? "";
    // "Frozen through now" means now, also when it is sent tomorrow.
    const saidAt = "outboxAt" in form.dataset && !value("at") ? localTime(Date.now(), words.timeZone) : undefined;
    const where = zones.map((box) => plain(box.nextElementSibling?.textContent ?? "")).join(" ");
    return {
      id: value("id") ?? store.newId(),
      url: new URL(form.getAttribute("action") || location.pathname, location.href).pathname,
      fields,
      who: words.person,
      rink: words.rink,
      title: form.dataset.outbox || plain(document.querySelector("h1")?.textContent ?? ""),
      page: location.pathname,
      saidAt,
      summary: [(when || saidAt || "").replace("T", " "), where].filter(Boolean).join(" · "),
      zones: zones.map((box) => box.value),
      madeAt: Date.now(),
      filledHere: form.dataset.filledHere === "1" || Boolean(saidAt),
      state: "waiting",
    };
  }

  const typedIn = (item) => JSON.stringify(item.fields.filter(([name, value]) => name !== "sent" && !(value instanceof Blob)));

  // The same id waits already: the item that this form changes, or a second tap. Anything else that comes under it (the
  // form of a doubled tab, or gone back to) is another piece of work and must not take the first one's place.
  async function keep(item, changes) {
    const there = await store.byId(item.id);
    if (!there) await store.keep(item);
    else if (changes === item.id) await store.change({ ...item, turn: there.turn, madeAt: there.madeAt });
    else if (typedIn(there) !== typedIn(item)) {
      item.id = store.newId();
      for (const field of item.fields) if (field[0] === "id") field[1] = item.id;
      await store.keep(item);
    }
  }

  const soon = (promise) => Promise.race([promise.catch(() => null), new Promise((resolve) => setTimeout(resolve, WAIT_MS, null))]);

  async function askForSync() {
    try { await (await navigator.serviceWorker.getRegistration()).sync.register("outbox"); } catch { /* sent on the next page instead */ }
  }

  function sign(text, bad) {
    const box = document.createElement("p");
    box.className = bad ? "sign sign-error" : "sign sign-success";
    box.setAttribute("role", "status");
    box.textContent = text;
    document.querySelector("main").prepend(box);
    box.scrollIntoView({ block: "nearest" });
  }

  // Posted as without this file, with the button that was pressed. In a moment: while a form is still being submitted,
  // browsers do not hear that it should be submitted again.
  function directly(form, button) {
    form.dataset.direct = "1";
    setTimeout(() => form.requestSubmit(button));
  }

  async function submitted(event) {
    const form = event.target;
    if (!form.matches?.("form[data-outbox]") || form.dataset.direct || event.defaultPrevented) return;
    if (["pick", "mark", "more"].includes(event.submitter?.name)) return; // changes the form, saves nothing
    event.preventDefault();
    if (form.dataset.busy) return;
    form.dataset.busy = "1";
    const item = itemOf(form, event.submitter);
    try {
      await keep(item, form.dataset.changes);
      await soon(Promise.resolve(form.photosKept));
    } catch {
      // No room, or a private window: the network is the only way left.
      delete form.dataset.busy;
      if (navigator.onLine) return directly(form, event.submitter);
      return sign(words.noRoom, true);
    }
    navigator.vibrate?.(80);
    navigator.storage?.persist?.().catch(() => null); // what waits must not be thrown away to make room for other sites
    await soon(send.drain());
    const [left, sent] = [await store.byId(item.id), await store.sentAs(item.id)];
    if (sent) return location.assign(sent.at || location.pathname);
    if (left && ["refused", "conflict"].includes(left.state) && !left.why) {
      // The server has something to say: it shows the form again, with the sentence at its field.
      await store.drop(left.turn);
      return directly(form, event.submitter);
    }
    await askForSync();
    location.assign(`${words.waitingPage}?kept=${item.id}`);
  }

  document.addEventListener("submit", submitted);
  if (keptFrom !== undefined) { document.querySelectorAll("form[data-outbox]").forEach(renew); takePlace(); }
  self.outboxForms = { keep, soon, words, askForSync, calmly };

  // What was held elsewhere goes into a form; what is `emptied` first keeps no tick of its own.
  function fill(form, fields, emptied) {
    for (const field of form.elements) if (["checkbox", "radio"].includes(field.type) && emptied(field.name)) field.checked = false;
    for (const [name, value] of fields) {
      if (value instanceof Blob) continue;
      const found = form.elements[name], all = found instanceof RadioNodeList ? [...found] : [found];
      for (const field of all.filter(Boolean)) {
        if (["checkbox", "radio"].includes(field.type)) { if (field.value === value) field.checked = true; } else if (field.type !== "file") field.value = value;
      }
    }
  }

  // What a waiting item holds goes back into its form, to be changed.
  async function refill() {
    const id = new URLSearchParams(location.search).get("waiting");
    const form = id && document.querySelector("form[data-outbox]");
    const item = form && await store.byId(id);
    if (!item) return;
    fill(form, item.fields, () => true);
    delete form.dataset.filledHere;
    form.dataset.changes = id;
  }

  // A sign scanned without a signal: its place, which a kept page could not know, stands after the # of the address.
  function takePlace() {
    const place = new URLSearchParams(location.hash.slice(1)), title = document.querySelector("[data-place]");
    if (!location.hash.includes("=")) return;
    document.querySelectorAll("form[data-outbox]").forEach((form) => fill(form, place, (name) => place.has(name)));
    if (!title || !place.has("sign")) return;
    title.textContent = place.get("sign");
    for (const link of document.querySelectorAll("a.kind")) link.href += location.search + location.hash;
  }

  async function countWaiting() {
    const count = await store.count().catch(() => 0);
    const badge = document.querySelector("[data-outbox-count]");
    if (!badge) return;
    badge.hidden = !count;
    badge.querySelector("[data-outbox-number]").textContent = count;
  }

  // Hundreds may leave in a row: what shows them looks again at most three times a second.
  function calmly(show) {
    let due = null;
    return () => { due ??= setTimeout(() => { due = null; show(); }, 300); };
  }

  // The forms are fetched when the page is done, and not again within the hour unless the language or the person is another one.
  const QUIET_MS = 3_000, HOUR_MS = 3_600_000;
  function keptLately() {
    try {
      const own = document.documentElement.lang + words.person, [language, at] = (localStorage.getItem("rinklog-kept") ?? "").split(" ");
      if (language === own && Date.now() - Number(at) < HOUR_MS) return true;
      localStorage.setItem("rinklog-kept", `${own} ${Date.now()}`);
    } catch { /* no storage: fetch again */ }
    return false;
  }

  async function start() {
    try { await store.all(); } catch { return nothingIsKept(); }
    lookForRoom().catch(() => null);
    await refill();
    const items = await store.all();
    countWaiting();
    document.dispatchEvent(new CustomEvent("outbox:items", { detail: items }));
    if (!items.length) return;
    await send.drain().catch(() => null);
    await countWaiting();
  }
  start();
  // A weak signal never says that it is back: while anything waits and somebody looks, it is tried again.
  const AGAIN_MS = 30_000;
  let trying = false;
  setInterval(async () => {
    if (trying || document.visibilityState !== "visible") return;
    trying = true;
    if (await store.count().catch(() => 0)) await send.drain().then(countWaiting, () => null);
    trying = false;
  }, AGAIN_MS);
  window.addEventListener("online", () => { send.drain().then(countWaiting, () => null); });
  try { new BroadcastChannel("rinklog-outbox").onmessage = calmly(countWaiting); } catch { /* an old browser */ }

  if ("serviceWorker" in navigator && window.isSecureContext) {
    navigator.serviceWorker.register("/sw.js").then(() => navigator.serviceWorker.ready).then((ready) => {
      // It has kept all style sheets: from now on pages need not carry them.
      document.cookie = `rinklog-sheets=${words.sheets}; path=/; max-age=31536000; samesite=lax`;
      const forms = words.forms.split(" ").filter(Boolean);
      if (keptFrom === undefined && forms.length && !keptLately()) setTimeout(() => ready.active?.postMessage({ keep: forms }), QUIET_MS);
    }).catch(() => null);
  }
})();
