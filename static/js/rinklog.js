// Makes the forms quicker; every one of them works without this file.
"use strict";

// Minus and plus beside a number, by a typical amount: gloves need no keypad for it.
function steppers(box) {
  const input = box.querySelector("input"), step = Number(box.dataset.step), low = Number(box.dataset.low);
  const digits = (box.dataset.step.split(".")[1] ?? "").length;
  const button = (sign, words, way) => {
    const made = document.createElement("button");
    Object.assign(made, { type: "button", className: "step", textContent: sign });
    made.setAttribute("aria-label", words);
    made.addEventListener("click", () => {
      const now = input.value.trim() === "" ? 0 : Number(input.value.trim().replace(",", "."));
      if (Number.isNaN(now)) return input.focus(); // "1/2 in": typed by hand, changed by hand
      input.value = Math.max(low, now + way * step).toFixed(digits).replace(/\.0+$/, "");
      for (const what of ["input", "change"]) input.dispatchEvent(new Event(what, { bubbles: true }));
      navigator.vibrate?.(15);
    });
    return made;
  };
  const name = document.querySelector(`label[for="${input.id}"]`)?.firstChild?.textContent?.trim() ?? "";
  input.before(button("−", `${name} −${box.dataset.step}`, -1));
  input.after(button("+", `${name} +${box.dataset.step}`, 1));
}

// Tap or drag over zones. Dragging gives every zone the state the first one got.
function dragZones(sheet) {
  let paint = null;
  const cell = (event) => document.elementFromPoint(event.clientX, event.clientY)?.closest(".cell");
  const set = (label) => {
    const box = label?.querySelector("input");
    if (!box || box.checked === paint) return;
    box.checked = paint;
    box.dispatchEvent(new Event("input", { bubbles: true }));
  };
  let first = null;
  sheet.addEventListener("pointerdown", (event) => { first = cell(event); paint = null; });
  sheet.addEventListener("pointermove", (event) => {
    if (!first || !event.buttons) return;
    const here = cell(event);
    if (paint === null && here && here !== first) { paint = !first.querySelector("input").checked; set(first); }
    if (paint !== null) set(here);
  });
  sheet.addEventListener("click", (event) => { if (paint !== null) event.preventDefault(); paint = null; first = null; }, true);
}

// Quick picks: the whole rink, an end, along the boards, last used.
function quickPick(button) {
  const pick = () => {
    const wanted = new Set(button.dataset.zones.split(",").filter(Boolean));
    let last = null;
    for (const box of button.form.querySelectorAll("input[name=zones]")) {
      box.checked = wanted.has(box.value);
      last = box;
    }
    last?.dispatchEvent(new Event("input", { bubbles: true }));
  };
  button.addEventListener("click", (event) => {
    event.preventDefault();
    requestAnimationFrame(() => setTimeout(pick)); // the tap shows first, then hundreds of zones
  });
}

// The device's own clock at the moment of sending.
function stampSending(form) {
  form.addEventListener("submit", () => {
    const sent = form.querySelector("input[name=sent]");
    if (sent) sent.value = new Date().toISOString();
  });
}

function enhance(root) {
  root.querySelectorAll(".sheet").forEach(dragZones);
  root.querySelectorAll(".pick[data-zones]").forEach(quickPick);
  root.querySelectorAll("[data-work-form] .stepper[data-step]").forEach(steppers);
  if (root.matches?.("[data-work-form]")) stampSending(root);
  root.querySelectorAll("[data-work-form]").forEach(stampSending);
}
enhance(document);
document.addEventListener("htmx:load", (event) => { if (event.detail.elt !== document.body) enhance(event.detail.elt); });

// Without a signal nobody works the coat out: better none than that of the water before.
document.addEventListener("htmx:sendError", ({ detail }) => { if (detail.target?.id === "coat") detail.target.textContent = ""; });
