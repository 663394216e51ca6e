// Each photo leaves as soon as it is picked, as a post of its own with its own id: the entry never waits for it.
// Without this file the photos travel with the form.
"use strict";

document.documentElement.classList.add("scripted");
const onTheWay = new WeakMap(); // form → promises of its photos
let turn = Promise.resolve(); // one after the other: a weak signal carries one whole photo sooner than three halves

function line(list, name) {
  const row = document.createElement("li");
  const words = document.createElement("span");
  row.append(name, words);
  list.append(row);
  return (text, bad, again) => {
    words.textContent = text;
    words.className = bad ? "bad" : "";
    row.querySelector("button")?.remove();
    if (!again) return;
    const button = document.createElement("button");
    button.type = "button";
    button.className = "side-action";
    button.textContent = list.dataset.again;
    button.addEventListener("click", again);
    row.append(button);
  };
}

// Read at once: the file can be gone from the phone a moment later.
async function readInto(body, file) {
  body.set("photo", new File([await file.arrayBuffer()], file.name, { type: file.type }), file.name);
}

// Kept on this phone first, where that can be done, and before any other is sent: a closed tab must not lose it.
async function keepOne(box, body, say, list) {
  if (!self.outboxForms) return false;
  const { keep, words } = self.outboxForms;
  const fields = [...body].filter(([name]) => name !== "csrfmiddlewaretoken").map(([name, value]) => value instanceof File ? [name, value, value.name] : [name, value]);
  try {
    await keep({ id: body.get("id"), url: box.dataset.post, fields, who: words.person, rink: words.rink, title: list.dataset.title, summary: body.get("photo").name, madeAt: Date.now(), state: "waiting" });
  } catch { return false; /* nothing can be kept here: send it or say so */ }
  say(list.dataset.waits, false);
  return true;
}

async function sendKept(id, say, list) {
  await self.outboxSend.drain().catch(self.outboxForms.askForSync);
  const left = await self.outboxStore.byId(id);
  if (!left) return say(list.dataset.sent, false);
  if (left.state !== "refused") return say(list.dataset.waits, false);
  await self.outboxStore.drop(left.turn);
  say((left.sentences ?? []).join(" "), true);
}

async function post(box, form, body, say, list) {
  say(list.dataset.sending, false);
  try {
    const reply = await fetch(box.dataset.post, { method: "POST", body, headers: { Accept: "application/json" } });
    if (reply.ok) return say(list.dataset.sent, false);
    if (reply.status === 422 || reply.status === 409) return say((await reply.json()).sentence, true);
  } catch { /* no connection: said below */ }
  say(list.dataset.failed, true, () => track(form, post(box, form, body, say, list)));
}

function track(form, promise) {
  const all = onTheWay.get(form) ?? new Set();
  onTheWay.set(form, all.add(promise));
  promise.finally(() => { all.delete(promise); if (!all.size) afterAll(form); });
}

// The strip shows what was just sent.
function afterAll(form) {
  const strip = form.closest("[data-strip]");
  if (strip && !form.querySelector(".photo-sent .bad")) htmx.ajax("GET", strip.dataset.strip, { target: strip, swap: "outerHTML" });
}

document.addEventListener("change", (event) => {
  if (!event.target.matches("[data-photo-input]")) return;
  const box = event.target.closest("[data-photo-inputs]"), form = box.closest("form");
  const list = box.querySelector("[data-photo-sent]");
  for (const file of event.target.files) {
    const body = new FormData();
    body.set("csrfmiddlewaretoken", form.elements.csrfmiddlewaretoken.value);
    body.set("id", outboxStore.newId());
    body.set("subject", box.dataset.subject);
    body.set("subject_id", box.dataset.subjectId);
    body.set("moment", form.elements.moment?.value ?? "");
    const say = line(list, file.name);
    say(list.dataset.sending, false);
    const kept = readInto(body, file).then(() => keepOne(box, body, say, list));
    form.photosKept = Promise.allSettled([form.photosKept, kept]);
    turn = Promise.allSettled([turn, kept]).then(([, { status, value }]) => {
      if (status === "rejected") return say(list.dataset.unreadable, true);
      return value ? sendKept(body.get("id"), say, list) : post(box, form, body, say, list);
    });
    track(form, turn);
  }
  event.target.value = ""; // it is on its way; the form must not send it again
});

// Saving while photos are on their way: the entry first, then wait for them before the page changes.
document.addEventListener("submit", async (event) => {
  const form = event.target, waiting = onTheWay.get(form);
  if (!waiting?.size || event.defaultPrevented) return;
  event.preventDefault();
  const button = event.submitter;
  if (button) button.disabled = true;
  try {
    const reply = await fetch(form.action, { method: "POST", body: new FormData(form) });
    if (!reply.redirected) return form.submit(); // the server has something to say: let it show the form again
    while (waiting.size) await Promise.allSettled(waiting);
    location.assign(reply.url);
  } catch {
    if (button) button.disabled = false;
  }
});
