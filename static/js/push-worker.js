// Shows what is pushed while the site is closed, and opens it where it points.
"use strict";

self.addEventListener("push", (event) => {
  const note = event.data ? event.data.json() : {};
  event.waitUntil(self.registration.showNotification(note.title || "rinklog", {
    body: note.text || "",
    tag: note.tag, // the same message again replaces itself
    data: { url: note.url || "/" },
  }));
});

self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  const target = new URL(event.notification.data.url, self.location.origin);
  if (target.origin !== self.location.origin) return;
  event.waitUntil((async () => {
    const open = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
    const there = open.find((client) => client.url === target.href);
    return there ? there.focus() : self.clients.openWindow(target.href);
  })());
});
