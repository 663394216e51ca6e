// Sends what waits, in the order it was written. Every item carries an id of its own, so sending twice records once.
"use strict";

(function (self) {
  const store = self.outboxStore;
  const PATIENCE_MS = 30_000, PICTURE_PATIENCE_MS = 120_000, DAY_MS = 86_400_000, LATE_MS = 60_000;
  const STUCK = ["refused", "conflict", "clock", "withdrawn"]; // wait for a person, not for a signal
  const hello = self.rinklog?.hello ?? "/hello/";

  const heavy = (item) => Number(Array.isArray(item.fields) && item.fields.some(([, value]) => value instanceof Blob));

  async function ask(url, options, patience) {
    const stop = new AbortController(), timer = setTimeout(() => stop.abort(), patience);
    try {
      const reply = await fetch(url, { ...options, signal: stop.signal, credentials: "same-origin", cache: "no-store" });
      const text = await reply.text(); // inside the patience: a body may stall too
      return { status: reply.status, text };
    } finally { clearTimeout(timer); }
  }

  function bodyOf(item) {
    const body = new FormData();
    for (const [name, value, file] of item.fields) file === undefined ? body.append(name, value) : body.append(name, value, file);
    if (item.fields.some(([name]) => name === "sent")) body.set("sent", new Date().toISOString());
    if (item.saidAt && Math.abs(Date.now() - item.madeAt) > LATE_MS) body.set("at", item.saidAt);
    return body;
  }

  const parsed = (text) => { try { return JSON.parse(text); } catch { return {}; } };

  // What became of one post: {done, at} or {state, sentences}. Throws when there was no answer to rely on.
  async function post(item, token) {
    const patience = item.fields.some(([, value]) => value instanceof Blob) ? PICTURE_PATIENCE_MS : PATIENCE_MS;
    const reply = await ask(item.url, { method: "POST", body: bodyOf(item), headers: { "X-Outbox": "1", "X-CSRFToken": token, Accept: "application/json" } }, patience);
    const answer = parsed(reply.text);
    if (reply.status === 200 || reply.status === 201) return { done: true, at: answer.at ?? "" };
    if (reply.status === 401) return { halt: "sign-in" };
    if (reply.status === 403) return { halt: "token" };
    if (reply.status === 409) return { state: "conflict", sentences: answer.sentences ?? [answer.sentence] };
    if ([404, 405, 410].includes(reply.status)) return { state: "refused", why: "gone" };
    if (reply.status === 413) return { state: "refused", why: "large" };
    if (reply.status === 400 || reply.status === 422) return { state: "refused", sentences: answer.sentences ?? [answer.sentence] };
    if (reply.status === 500) return { skipped: true }; // it stumbles over this one: the others need not wait for it
    throw new Error(`answer ${reply.status}`);
  }

  // The clock at the writing against the server's: a form that the phone filled from a wrong clock asks first.
  const ASK_ABOVE_MS = 10 * 60_000;
  const clockIsOff = (item, skewMs) => item.filledHere && !item.clockSeen && Math.abs(skewMs) > ASK_ABOVE_MS;

  // A picture that the phone has lost can never be sent: said once, instead of failing like a missing signal for ever.
  async function readable(item) {
    try { await Promise.all(item.fields.map(([, value]) => value instanceof Blob ? value.slice(0, 1).arrayBuffer() : null)); return true; } catch { return false; }
  }

  async function one(item, session) {
    if (!store.wellFormed(item)) { await store.setAside(item); return {}; }
    if (item.who && item.who !== session.person) return { skipped: true };
    if (STUCK.includes(item.state)) return { skipped: true };
    if (clockIsOff(item, session.skewMs)) { await store.change({ ...item, state: "clock", skewMs: session.skewMs }); return {}; }
    if (heavy(item) && !await readable(item)) { await store.change({ ...item, state: "refused", why: "unreadable" }); return {}; }
    const became = await post(item, session.token);
    if (became.done) await store.sent(item, became.at);
    else if (became.state) await store.change({ ...item, ...became });
    return became;
  }

  async function meet() {
    const started = Date.now();
    const reply = await ask(hello, { headers: { Accept: "application/json" } }, PATIENCE_MS);
    if (reply.status !== 200) throw new Error(`answer ${reply.status}`);
    const session = parsed(reply.text);
    if (!session.token) throw new Error("no token");
    // Half the round trip back: the server's clock was read about then.
    session.skewMs = (started + Date.now()) / 2 - Date.parse(session.now);
    return session;
  }

  async function drainNow() {
    // Words first: a picture on a weak signal must not hold them up, and may arrive before or after.
    const items = (await store.all()).sort((one, other) => heavy(one) - heavy(other) || one.turn - other.turn);
    if (!items.length) return { left: 0 };
    let session = await meet();
    if (!session.person) return { left: items.length, halt: "sign-in", session };
    let left = 0, again = 1;
    for (let at = 0; at < items.length; at += 1) {
      // It may have been changed or withdrawn while others went out.
      const item = await store.one(items[at].turn);
      if (!item) continue;
      const became = await one(item, session);
      if (became.halt === "token" && again-- > 0) { session = await meet(); at -= 1; continue; }
      if (became.halt) return { left: items.length - at, halt: became.halt, session };
      if (!became.done) left += 1;
    }
    await store.forgetOld(Date.now() - DAY_MS);
    return { left, session };
  }

  // One sender at a time, whichever tab or worker it is; who comes second waits and finds the rest.
  async function drain() {
    if (!self.navigator.locks) return drainNow();
    return self.navigator.locks.request("rinklog-outbox", drainNow);
  }

  self.outboxSend = { drain, meet };
})(self);
