// Makes the forms quicker; every one of them works without this file.
"use strict";

// Tap or drag over zones. Dragging gives every zone the state the first one got.
function dragZones(sheet) {
  let paint = null;
  const cell = (event) => document.elementFromPoint(event.clientX, event.clientY)?.closest(".cell");
  const set = (label) => {
    const box = label?.querySelector("input");
    if (!box || box.checked === paint) return;
    box.checked = paint;
    box.dispatchEvent(new Event("change", { bubbles: true }));
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
  button.addEventListener("click", (event) => {
    event.preventDefault();
    const wanted = new Set(button.dataset.zones.split(",").filter(Boolean));
    let last = null;
    for (const box of button.form.querySelectorAll("input[name=zones]")) {
      box.checked = wanted.has(box.value);
      last = box;
    }
    last?.dispatchEvent(new Event("change", { bubbles: true }));
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
  if (root.matches?.("[data-work-form]")) stampSending(root);
  root.querySelectorAll("[data-work-form]").forEach(stampSending);
}
enhance(document);
document.addEventListener("htmx:load", (event) => { if (event.detail.elt !== document.body) enhance(event.detail.elt); });
