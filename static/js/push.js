// Turns push on for this browser. Without it the page says what is missing, and everything else works.
"use strict";

(async () => {
  const card = document.querySelector("[data-push]");
  if (!card || !("serviceWorker" in navigator) || !("PushManager" in window) || !window.isSecureContext) return;
  const part = (name) => card.querySelector(`[data-push-${name}]`);
  const show = (...names) => {
    for (const name of ["says", "can", "denied", "here", "fault", "on"]) part(name).hidden = !names.includes(name);
  };
  const registration = () => navigator.serviceWorker.register(card.dataset.worker);
  const present = async () => (await (await registration()).pushManager.getSubscription())?.endpoint;
  const known = (endpoint) => Boolean(endpoint) && [...card.querySelectorAll("[data-endpoint]")].some((row) => row.dataset.endpoint === endpoint);

  const name = () => {
    const agent = navigator.userAgent;
    const system = ["Android", "iPhone", "iPad", "Windows", "Mac OS", "Linux"].find((word) => agent.includes(word)) || "";
    const browser = ["Firefox", "Edg", "Chrome", "Safari"].find((word) => agent.includes(word)) || "";
    return `${browser === "Edg" ? "Edge" : browser} ${system}`.trim();
  };

  const send = async (subscription) => {
    const { endpoint, keys } = subscription.toJSON();
    const token = document.querySelector("input[name=csrfmiddlewaretoken]").value;
    const body = new URLSearchParams({ endpoint, p256dh: keys.p256dh, auth: keys.auth, name: name() });
    const answer = await fetch(card.dataset.post, { method: "POST", body, headers: { "X-CSRFToken": token } });
    if (answer.ok) { location.reload(); return; }
    if (answer.status === 422) part("fault").textContent = (await answer.json()).sentence;
    await subscription.unsubscribe();
    show("fault", "on");
  };

  part("on").addEventListener("click", async () => {
    if (await Notification.requestPermission() !== "granted") { show("denied"); return; }
    try {
      const worker = await registration();
      await send(await worker.pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: card.dataset.key }));
    } catch { show("fault", "on"); }
  });

  if (Notification.permission === "denied") { show("denied"); return; }
  try {
    if (known(await present())) show("here"); else show("can", "on");
  } catch { show("can", "on"); }
})();
