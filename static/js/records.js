// Counting skaters: every tap is a count of its own, at the moment of the tap.
"use strict";

document.querySelectorAll("[data-tap]").forEach((form) => {
  form.addEventListener("htmx:configRequest", (event) => {
    const values = event.detail.parameters;
    values.id = outboxStore.newId();
    values.when = new Date().toISOString();
  });
});
