// A running flood or snow removal, timed on this phone. It lives in localStorage: closing the app does not stop it,
// and no signal is needed. Stopping opens the form with start, end and minutes filled in.
"use strict";

(function () {
  const bar = document.querySelector("[data-running]"), starts = document.querySelector("[data-starts]");
  if (!bar) return;
  const KEY = "rinklog-running", say = bar.dataset, list = bar.querySelector("[data-running-list]");

  function read() {
    try { const kept = JSON.parse(localStorage.getItem(KEY) ?? "[]"); return Array.isArray(kept) ? kept : []; } catch { return []; }
  }
  function write(runs) {
    try { localStorage.setItem(KEY, JSON.stringify(runs)); return true; } catch { return false; }
  }
  const change = (id, values) => write(read().map((run) => run.id === id ? { ...run, ...values } : run));
  const mine = () => read().filter((run) => run.rink === say.rink && run.who === say.person && Number.isFinite(run.from));

  const two = (n) => String(n).padStart(2, "0");
  function passed(ms) {
    const s = Math.max(0, Math.floor(ms / 1000));
    return `${Math.floor(s / 3600)}:${two(Math.floor(s / 60) % 60)}:${two(s % 60)}`;
  }
  // The rink's local time in the way that a time field wants it.
  function localTime(ms) {
    const parts = new Intl.DateTimeFormat("sv-SE", { timeZone: say.timeZone, dateStyle: "short", timeStyle: "short" }).format(ms);
    return parts.replace(" ", "T");
  }
  const clock = (ms) => localTime(ms).slice(11);

  function button(text, look, act) {
    const made = document.createElement("button");
    Object.assign(made, { type: "button", className: look, textContent: text });
    made.addEventListener("click", act);
    return made;
  }

  function stop(run) {
    change(run.id, { to: Date.now() });
    navigator.vibrate?.([60, 60, 60]);
    location.assign(`${run.form}?run=${run.id}`);
  }

  function row(run) {
    const box = document.createElement("div"), words = document.createElement("p"), deeds = document.createElement("div");
    box.className = "running-row";
    deeds.className = "running-deeds";
    if (run.gone) {
      words.textContent = say.forgotten.replace("{work}", run.title);
      deeds.append(button(say.undo, "side-action", () => { change(run.id, { gone: undefined }); show(); }));
    } else if (run.to) {
      words.textContent = say.stopped.replace("{work}", run.title).replace("{from}", clock(run.from)).replace("{to}", clock(run.to));
      deeds.append(button(say.write, "main-action", () => location.assign(`${run.form}?run=${run.id}`)));
      deeds.append(button(say.forget, "side-action", () => { change(run.id, { gone: true }); show(); }));
    } else {
      const timer = document.createElement("strong");
      timer.setAttribute("role", "timer");
      timer.dataset.from = run.from;
      words.append(say.runs.replace("{work}", run.title).replace("{from}", clock(run.from)), " ", timer);
      deeds.append(button(say.stop, "main-action", () => stop(run)));
      deeds.append(button(say.forget, "side-action", () => { change(run.id, { gone: true }); show(); }));
    }
    box.append(words, deeds);
    return box;
  }

  function tick() {
    for (const timer of list.querySelectorAll("[data-from]")) timer.textContent = passed(Date.now() - Number(timer.dataset.from));
  }

  function show() {
    const runs = mine();
    list.replaceChildren(...runs.map(row));
    bar.hidden = !runs.length;
    tick();
    stayAwake(runs.some((run) => !run.to && !run.gone));
  }

  // The screen stays on while something runs, where the browser can; it forgets when the page is hidden.
  let lock = null;
  async function stayAwake(wanted) {
    if (!wanted) { await lock?.release().catch(() => null); lock = null; return; }
    if (lock && !lock.released || document.visibilityState !== "visible") return;
    try { lock = await navigator.wakeLock?.request("screen") ?? null; } catch { lock = null; /* low battery: the browser refuses */ }
    bar.dataset.awake = lock ? "yes" : "no";
  }
  document.addEventListener("visibilitychange", show);
  window.addEventListener("storage", (event) => { if (event.key === KEY) show(); });
  setInterval(tick, 1000);

  for (const start of starts?.querySelectorAll("[data-start]") ?? []) {
    start.addEventListener("click", () => {
      const at = Date.now(), { start: kind, title, form } = start.dataset;
      const run = { id: `${kind}-${at}`, rink: say.rink, who: say.person, kind, title, form, from: at };
      if (!write([...read(), run])) { bar.hidden = false; list.textContent = say.noRoom; return; }
      navigator.vibrate?.(60);
      show();
      bar.scrollIntoView({ block: "nearest" });
    });
  }
  if (starts) starts.hidden = false;

  // The form of a run that was stopped.
  const asked = new URLSearchParams(location.search).get("run");
  const form = asked && document.querySelector("form[data-work-form]");
  const run = form && mine().find((one) => one.id === asked && one.to);
  if (run && !document.querySelector(".form-error")) {
    const field = (name) => form.querySelector(`[name=${name}]`);
    const minutes = Math.round((run.to - run.from) / 60_000);
    field("started").value = localTime(run.from);
    if (minutes >= 0) { // else the phone's clock was set back while it ran
      field("ended").value = localTime(run.to);
      for (const one of [field("hose_minutes"), form.querySelector("input[name^=minutes-]")]) if (one) one.value = minutes;
    }
    form.dataset.filledHere = "1";
  }
  if (form) form.addEventListener("submit", () => change(asked, { sent: true }));
  // What was sent from its form, or forgotten and not undone, is gone with the page.
  write(read().filter((one) => !one.gone && (!one.sent || one.id === asked)));
  show();
})();
