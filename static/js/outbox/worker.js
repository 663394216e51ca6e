// The service worker's part: pages that were seen open without a signal, and what waits is sent when it returns.
"use strict";

const { version, kept, noSignal } = self.rinklog;
const STATIC = `kept-${version}`, PAGES = "pages";
const SIGNAL_PATIENCE_MS = 5_000;
const SIGN_OUT = /^\/(sign-out|me\/sign-out-everywhere)\/$/;

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(STATIC);
    await cache.addAll(kept);
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    // The last version's files stay: pages kept from then still ask for them.
    const old = (await caches.keys()).filter((name) => name.startsWith("kept-") && name !== STATIC);
    await Promise.all(old.slice(0, -1).map((name) => caches.delete(name)));
    await self.clients.claim();
  })());
});

async function withPatience(request) {
  const stop = new AbortController(), timer = setTimeout(() => stop.abort(), SIGNAL_PATIENCE_MS);
  try { return await fetch(request, { signal: stop.signal }); } finally { clearTimeout(timer); }
}

// A page under its own address, without what was only said once in it.
function keyOf(address) {
  const url = new URL(address);
  for (const name of ["kept", "waiting", "done"]) url.searchParams.delete(name);
  return url.href;
}
const without = (address) => { const url = new URL(address); url.search = ""; url.hash = ""; return url.href; };

// Says in the page itself that it is not fresh, and from when it is.
async function asKept(reply) {
  const when = reply.headers.get("Date") ?? "";
  const text = (await reply.text()).replace("<html ", `<html data-kept="${when.replace(/[^\w ,:]/g, "")}" `);
  const headers = new Headers(reply.headers);
  headers.delete("Content-Length");
  headers.delete("Content-Encoding");
  return new Response(text, { status: 200, headers });
}

// A scanned sign: where its code led when the signs were last asked for.
async function signed(cache, address) {
  const code = address.match(/\/s\/(\w+)\/$/)?.[1].toUpperCase();
  for (const key of code ? await cache.keys() : []) {
    const to = key.url.endsWith("/signs.json") && (await (await cache.match(key)).json())[code];
    if (to) return Response.redirect(to);
  }
}

async function page(request) {
  const cache = await caches.open(PAGES);
  try {
    const fresh = await withPatience(request);
    const html = fresh.headers.get("Content-Type")?.startsWith("text/html");
    if (fresh.status === 200 && html && !fresh.redirected) await cache.put(keyOf(request.url), fresh.clone());
    return fresh;
  } catch {
    const found = await cache.match(keyOf(request.url)) ?? await cache.match(without(request.url)) ?? await cache.match(request.url, { ignoreSearch: true });
    return found ? asKept(found) : await signed(cache, request.url) ?? (await cache.match(noSignal)) ?? (await caches.match(noSignal)) ?? Response.error();
  }
}

async function file(request) {
  return (await caches.match(request)) ?? fetch(request);
}

self.addEventListener("fetch", (event) => {
  const { request } = event, url = new URL(request.url);
  if (url.origin !== self.location.origin) return;
  if (request.method === "POST" && SIGN_OUT.test(url.pathname)) {
    // What this person saw is not for the next one who holds the phone. What waits stays.
    event.waitUntil(caches.delete(PAGES));
    return;
  }
  if (request.method !== "GET") return;
  if (request.mode === "navigate") event.respondWith(page(request));
  else if (url.pathname.startsWith("/static/")) event.respondWith(file(request));
});

// Forms are fetched before they are needed: a page that was never opened must open too.
self.addEventListener("message", (event) => {
  if (event.data?.keep) event.waitUntil(keepPages(event.data.keep));
});

async function keepPages(addresses) {
  const cache = await caches.open(PAGES);
  for (const address of [...addresses, noSignal]) { // that one too in the language of now
    try {
      const reply = await fetch(address, { credentials: "same-origin" });
      if (reply.status === 200 && !reply.redirected) await cache.put(new URL(address, self.location.origin).href, reply);
    } catch { return; /* the signal is gone: next time */ }
  }
}

self.addEventListener("sync", (event) => {
  if (event.tag === "outbox") event.waitUntil(self.outboxSend.drain());
});
