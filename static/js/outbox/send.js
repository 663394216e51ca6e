// Sends what waits, in the order it was written. Every item carries an id of its own, so sending twice records once.
"use strict";

(function (self) {
  const store = self.outboxStore;
  const PATIENCE_MS = 30_000, PICTURE_PATIENCE_MS = 120_000, DAY_MS = 86_400_000, LATE_MS = 60_000;
  const STUCK = ["refused", "conflict", "clock", "withdrawn"]; // wait for a person, not for a signal
  const FEW = 10; // at once; the site allows twenty
  const hello = self.rinklog?.hello ?? "/hello/", several = self.rinklog?.together ?? "/together/";

  const heavy = (item) => Number(Array.isArray(item.fields) && item.fields.some(([, value]) => value instanceof Blob));

  async function ask(url, options, patience) {
    const stop = new AbortController(), timer = setTimeout(() => stop.abort(), patience);
    try {
      const reply = await fetch(url, { ...options, signal: stop.signal, credentials: "same-origin", cache: "no-store" });
      const text = await reply.text(); // inside the patience: a body may stall too
      return { status: reply.status, text };
    } finally { clearTimeout(timer); }
  }

  // Words travel packed as a plain form does; only files need the wider wrapping.
  function bodyOf(item) {
    const body = heavy(item) ? new FormData() : new URLSearchParams();
    for (const [name, value, file] of item.fields) file === undefined ? body.append(name, value) : body.append(name, value, file);
    if (item.fields.some(([name]) => name === "sent")) body.set("sent", new Date().toISOString());
    if (item.saidAt && Math.abs(Date.now() - item.madeAt) > LATE_MS) body.set("at", item.saidAt);
    return body;
  }

  const parsed = (text) => { try { return JSON.parse(text); } catch { return null; } };

  const headers = (token) => ({ "X-Outbox": "1", "X-CSRFToken": token, Accept: "application/json" });

  // What an answer makes of an item: {done, at}, {state, …}, {skipped} or {halt}; {broken} is no answer to rely on.
  function fate(status, answer) {
    if (status === 200 || status === 201) return answer ? { done: true, at: answer.at ?? "" } : { broken: "that is no answer of this site" };
    if (status === 401) return { halt: "sign-in" };
    if (status === 403) return { halt: "token" };
    if (status === 409) return { state: "conflict", sentences: answer?.sentences ?? [answer?.sentence] };
    if ([404, 405, 410].includes(status)) return { state: "refused", why: "gone" };
    if (status === 413) return { state: "refused", why: "large" };
    if (status === 400 || status === 422) return { state: "refused", sentences: answer?.sentences ?? [answer?.sentence] };
    if (status === 500) return { skipped: true }; // it stumbles over this one: the others need not wait for it
    return { broken: status };
  }

  async function alone(item, token) {
    const reply = await ask(item.url, { method: "POST", body: bodyOf(item), headers: headers(token) }, heavy(item) ? PICTURE_PATIENCE_MS : PATIENCE_MS);
    return fate(reply.status, parsed(reply.text));
  }

  // Words in a row travel in one post and are taken one after the other: there and back is what a weak signal makes dear.
  async function together(items, token) {
    if (items.length === 1) return [await alone(items[0], token)];
    const body = JSON.stringify({ posts: items.map((item) => [item.url, String(bodyOf(item))]) });
    const reply = await ask(several, { method: "POST", body, headers: { ...headers(token), "Content-Type": "application/json" } }, PATIENCE_MS);
    const answers = parsed(reply.text)?.answers;
    if (answers?.length === items.length) return answers.map(({ status, body }) => fate(status, body));
    if ([401, 403].includes(reply.status)) return items.map(() => fate(reply.status));
    if (![400, 404, 413].includes(reply.status)) return [{ broken: reply.status }];
    const fates = []; // a site of another version, or too much at once
    for (const item of items) fates.push(await alone(item, token));
    return fates;
  }

  // The clock at the writing against the server's: a form that the phone filled from a wrong clock asks first.
  const ASK_ABOVE_MS = 10 * 60_000;
  const clockIsOff = (item, skewMs) => item.filledHere && !item.clockSeen && Math.abs(skewMs) > ASK_ABOVE_MS;

  // A picture that the phone has lost can never be sent: said once, instead of failing like a missing signal for ever.
  async function readable(item) {
    try { await Promise.all(item.fields.map(([, value]) => value instanceof Blob ? value.slice(0, 1).arrayBuffer() : null)); return true; } catch { return false; }
  }

  // What is settled without being sent: {} when it now waits for a person, null when it is ready.
  async function heldBack(item, session) {
    if (!store.wellFormed(item)) { await store.setAside(item); return {}; }
    if (item.who && item.who !== session.person) return { skipped: true };
    if (STUCK.includes(item.state)) return { skipped: true };
    if (clockIsOff(item, session.skewMs)) { await store.change({ ...item, state: "clock", skewMs: session.skewMs }); return {}; }
    if (heavy(item) && !await readable(item)) { await store.change({ ...item, state: "refused", why: "unreadable" }); return {}; }
    return null;
  }

  // The next items that are ready: words in a row, or one with a picture. Says how many others were passed over, and where it stopped.
  async function nextFew(items, from, session) {
    const few = [];
    let at = from, kept = 0;
    for (; at < items.length && few.length < FEW; at += 1) {
      // It may have been changed or withdrawn while others went out.
      const item = await store.one(items[at].turn);
      if (!item) continue;
      if (few.length && heavy(item)) break;
      if (await heldBack(item, session)) { kept += 1; continue; }
      few.push(item);
      if (heavy(item)) { at += 1; break; }
    }
    return { few, kept, at };
  }

  async function settle(item, became) {
    if (became?.done) await store.sent(item, became.at);
    else if (became?.state) await store.change({ ...item, ...became });
  }

  async function meet() {
    const started = Date.now();
    const reply = await ask(hello, { headers: { Accept: "application/json" } }, PATIENCE_MS);
    if (reply.status !== 200) throw new Error(`answer ${reply.status}`);
    const session = parsed(reply.text);
    if (!session?.token) throw new Error("no token");
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
    let left = 0, again = 1, at = 0;
    while (at < items.length) {
      const next = await nextFew(items, at, session);
      const fates = next.few.length ? await together(next.few, session.token) : [];
      await Promise.all(next.few.map((item, n) => settle(item, fates[n])));
      const broken = fates.find((one) => one.broken), halt = fates.find((one) => one.halt)?.halt;
      if (broken) throw new Error(`answer ${broken.broken}`);
      if (halt === "token" && again-- > 0) { session = await meet(); continue; }
      if (halt) return { left: items.length - at, halt, session };
      left += next.kept + fates.filter((one) => !one.done).length;
      at = next.at;
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
