// The page of what waits on this phone: see it, change it, withdraw it, send it now, take it out as a file.
"use strict";

(function () {
  const store = self.outboxStore, send = self.outboxSend;
  const room = document.querySelector("[data-waiting]");
  if (!room || !self.outboxForms) return;
  const { words } = self.outboxForms, say = room.dataset, list = room.querySelector("[data-waiting-list]");
  const make = (tag, text, look) => {
    const element = document.createElement(tag);
    if (text) element.textContent = text;
    if (look) element.className = look;
    return element;
  };

  function button(text, act) {
    const made = make("button", text, "side-action");
    made.type = "button";
    made.addEventListener("click", async () => { made.disabled = true; await act(); await show(); });
    return made;
  }

  function stateOf(item) {
    if (item.who && item.who !== words.person) return say.others;
    if (item.state === "refused") return item.why === "gone" ? say.gone : item.why === "large" ? say.large : item.why === "unreadable" ? say.unreadable : (item.sentences ?? []).join(" ") || say.refused;
    if (item.state === "conflict") return say.conflict;
    if (item.state === "clock") return say.clock.replace("{hours}", (item.skewMs / 3_600_000).toFixed(1));
    if (item.state === "withdrawn") return say.withdrawn;
    return say.waits;
  }

  const moved = (local, ms) => new Date(Date.parse(`${local}Z`) - ms).toISOString().slice(0, 16);

  // The times of the form moved by how far this phone's clock was off.
  function corrected(item) {
    const fields = item.fields.map(([name, value, ...more]) => {
      if (!["started", "ended", "found", "said_at", "at"].includes(name) || !/^\d{4}-\d\d-\d\dT\d\d:\d\d/.test(value)) return [name, value, ...more];
      return [name, moved(value, item.skewMs)];
    });
    const saidAt = item.saidAt && moved(item.saidAt, item.skewMs);
    return { ...item, fields, saidAt, state: "waiting", clockSeen: true };
  }

  function actions(item) {
    const made = [];
    if (item.who && item.who !== words.person) return made;
    if (item.state === "withdrawn") return [button(say.putBack, () => store.change({ ...item, state: "waiting" })), button(say.forget, () => store.drop(item.turn))];
    if (item.state === "clock") made.push(button(say.correct, () => store.change(corrected(item))), button(say.asTyped, () => store.change({ ...item, state: "waiting", clockSeen: true })));
    if (item.state === "conflict") made.push(button(say.asNew, () => store.change(renewed(item))));
    if (item.page) {
      const seen = item.state === "conflict", link = make("a", seen ? say.see : say.change, "side-action");
      link.href = seen ? item.page : `${item.page}?waiting=${item.id}`;
      made.push(link);
    }
    if (item.state === "refused") made.push(button(say.again, () => store.change({ ...item, state: "waiting", why: undefined, sentences: undefined })), ...photos(item));
    made.push(button(say.withdraw, () => store.change({ ...item, state: "withdrawn" })));
    return made;
  }

  function renewed(item) {
    const id = store.newId();
    return { ...item, id, fields: item.fields.map(([name, ...value]) => name === "id" ? ["id", id] : [name, ...value]), state: "waiting", sentences: undefined };
  }

  function card(item) {
    const box = make("li", "", `card waiting-card waiting-${item.state}`);
    box.append(make("h2", item.title || say.unnamed), make("p", item.summary), make("p", stateOf(item), item.state === "waiting" ? "hint" : "error"));
    const row = make("p", "", "actions");
    row.append(...actions(item));
    box.append(row);
    return box;
  }

  function takeOut(file, name) {
    const link = make("a", `${say.takeOut} (${name})`, "side-action");
    link.href = URL.createObjectURL(file);
    link.download = name;
    return link;
  }

  // The photos of an item, however little of it can be read.
  const photos = (item) => [item?.fields].flat(2).filter((value) => value instanceof Blob).map((file) => takeOut(file, file.name || "photo"));

  function asideCard(kept) {
    const box = make("li", "", "card waiting-card");
    box.append(make("h2", say.corrupt));
    const written = new Blob([JSON.stringify(kept, null, 1)], { type: "application/json" });
    const row = make("p", "", "actions");
    row.append(takeOut(written, `rinklog-${kept.turn}.json`), ...photos(kept.item), button(say.forget, () => store.dropAside(kept.turn)));
    box.append(row);
    return box;
  }

  async function show() {
    let items, aside;
    try { [items, aside] = [await store.all(), await store.aside()]; } catch { room.querySelector("[data-waiting-none]").textContent = say.noStore; return; }
    list.replaceChildren(...items.map(card), ...aside.map(asideCard));
    room.querySelector("[data-waiting-none]").hidden = items.length + aside.length > 0;
    room.querySelector("[data-waiting-send]").hidden = !items.some((item) => item.state === "waiting");
  }

  room.querySelector("[data-waiting-send]").addEventListener("click", async (event) => {
    const status = room.querySelector("[data-waiting-status]");
    event.target.disabled = true;
    status.textContent = say.sending;
    try {
      const { left, halt } = await send.drain();
      status.textContent = halt === "sign-in" ? say.signIn : left ? say.someLeft : say.allSent;
      room.querySelector("[data-waiting-sign-in]").hidden = halt !== "sign-in";
    } catch { status.textContent = say.noSignal; }
    event.target.disabled = false;
    await show();
  });
  try { new BroadcastChannel("rinklog-outbox").addEventListener("message", self.outboxForms.calmly(show)); } catch { /* an old browser */ }
  const kept = new URLSearchParams(location.search).get("kept");
  room.querySelector("[data-waiting-kept]").hidden = !kept;
  show();
})();
