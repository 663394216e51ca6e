// Wakes the page: its scripts come after the first paint, so that reading waits for none of them.
"use strict";

{
  const page = document.documentElement, early = new Map();
  const scripts = document.currentScript.dataset.scripts.split(/\s+/).filter(Boolean);

  // A form sent before they are there waits for them: without a signal only they keep what it holds.
  const hold = (event) => {
    event.preventDefault();
    event.stopImmediatePropagation();
    early.set(event.target, event.submitter);
  };
  addEventListener("submit", hold, true);

  // A page that was kept on the phone was made before the look was chosen.
  const chosen = document.cookie.match(/(?:^|; )rinklog-look=(\w*)/)?.[1];
  if (chosen !== undefined && document.querySelector("[data-outbox-words]")) page.dataset.look = chosen;

  const brought = (address) => new Promise((done) => {
    const script = document.createElement("script");
    Object.assign(script, { src: address, async: false, onload: done, onerror: done }); // in their order
    document.head.append(script);
  });

  const awake = () => {
    removeEventListener("submit", hold, true);
    document.dispatchEvent(new Event("DOMContentLoaded")); // what htmx starts on has been before it came
    delete page.dataset.asleep;
    early.forEach((button, form) => button ? button.click() : form.requestSubmit());
  };

  const HIDDEN_MS = 500; // a page in the background is never painted
  const painted = new Promise((done) => {
    requestAnimationFrame(() => setTimeout(done));
    setTimeout(done, HIDDEN_MS);
  });
  painted.then(() => Promise.all(scripts.map(brought))).then(awake);
}
