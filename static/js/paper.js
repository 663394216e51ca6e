// In the paper log, Enter goes to the next field as Tab does; on the last field it saves.
"use strict";

document.querySelector("[data-paper]")?.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.target.matches("button")) return;
  const fields = [...event.currentTarget.querySelectorAll("input:not([type=hidden]), select")];
  const next = fields[fields.indexOf(event.target) + 1];
  if (!next) return;
  event.preventDefault();
  next.focus();
  next.select?.();
});
