// Wakes the page: its scripts come after the first paint, so that reading waits for none of them.
"use strict";

{
  const page = document.documentElement, early = new Map();
  const scripts = document.currentScript.dataset.scripts.split(/\s+/).filter(Boolean);

  // What a phone keeps before it sends waits for them: without a signal only they hold it. Other forms go as ever.
  const hold = (event) => {
    if (!event.target.matches("form[data-outbox]")) return;
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

  const letGo = () => {
    removeEventListener("submit", hold, true);
    early.forEach((button, form) => button ? button.click() : form.requestSubmit());
    early.clear();
  };

  const HIDDEN_MS = 500; // a page in the background is never painted
  const PATIENCE_MS = 8_000; // scripts that hang on a weak signal must not hold up a form that might get through
  const painted = new Promise((done) => {
    requestAnimationFrame(() => setTimeout(done));
    setTimeout(done, HIDDEN_MS);
  });
  setTimeout(letGo, PATIENCE_MS);
  painted.then(() => Promise.all(scripts.map(brought))).then(() => {
    document.dispatchEvent(new Event("DOMContentLoaded")); // what htmx starts on has been before it came
    delete page.dataset.asleep;
    letGo();
  });
}
