// Waiting items beside what is recorded: on the map by zone, in the log at its head; and the question before signing out.
"use strict";

(function () {
  const store = self.outboxStore;
  document.addEventListener("outbox:items", ({ detail: items }) => {
    const { words } = self.outboxForms;
    const mine = items.filter((item) => item.rink === words.rink && item.state !== "withdrawn");
    const zones = new Map();
    for (const item of mine) for (const zone of item.zones ?? []) zones.set(zone, (zones.get(zone) ?? 0) + 1);
    for (const cell of document.querySelectorAll("[data-zone]")) {
      if (zones.has(cell.dataset.zone)) { cell.classList.add("zone-waiting"); cell.setAttribute("aria-description", words.waitsHere); }
    }
    const log = document.querySelector("#log");
    if (!log || !mine.length) return;
    const box = document.createElement("section");
    box.className = "card waiting-in-log";
    const link = document.createElement("a");
    link.href = words.waitingPage;
    link.textContent = words.waitsHere;
    box.append(link, ...mine.map((item) => {
      const line = document.createElement("p");
      line.textContent = [item.title, item.summary].filter(Boolean).join(" · ");
      return line;
    }));
    log.before(box);
  });

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!form.matches?.("form[data-sign-out]")) return;
    try { localStorage.removeItem("rinklog-kept"); } catch { /* no storage */ } // the worker throws the pages away
    if (form.dataset.asked) return;
    event.preventDefault();
    form.dataset.asked = "1"; // asked once a form: the second tap signs out
    store.all().catch(() => []).then((items) => {
      if (!items.length) return form.submit();
      const sign = document.createElement("p");
      sign.className = "error";
      sign.setAttribute("role", "alert");
      sign.textContent = form.dataset.signOut.replace("{count}", items.length);
      form.prepend(sign);
    });
  });
})();
