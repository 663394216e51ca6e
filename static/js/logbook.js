// Minutes follow from start and end until somebody types them.
"use strict";

function followClock(form) {
  const field = (name) => form.querySelector(`input[name=${name}]`);
  const minutes = form.querySelector("input[name^=minutes-]");
  if (!field("started") || !field("ended") || !minutes) return;
  let typed = minutes.value !== minutes.defaultValue;
  minutes.addEventListener("input", () => { typed = true; });
  form.addEventListener("change", (event) => {
    if (typed || !["started", "ended"].includes(event.target.name)) return;
    const taken = (Date.parse(field("ended").value) - Date.parse(field("started").value)) / 60000;
    if (taken >= 0) minutes.value = Math.round(taken);
  });
}
document.querySelectorAll("[data-work-form]").forEach(followClock);
