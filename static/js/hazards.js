// A tap on the map sets the point of a hazard; without this file the zone under it is picked, and that is enough.
"use strict";

const SVG = "http://www.w3.org/2000/svg";

function pointForm(form) {
  const sheet = form.querySelector(".sheet");
  const cells = sheet.querySelector(".sheet-grid");
  const x = form.elements.x_m, y = form.elements.y_m;
  const length = Number(form.dataset.length), width = Number(form.dataset.width);

  const layer = document.createElementNS(SVG, "svg");
  layer.setAttribute("class", "point-layer");
  layer.setAttribute("viewBox", `0 0 ${width * 10} ${length * 10}`);
  layer.setAttribute("aria-hidden", "true");
  sheet.append(layer);

  function show() {
    layer.replaceChildren();
    if (x.value === "" || y.value === "") return;
    const arm = Math.max(width, length / 2) / 2.2;
    const at = `translate(${y.value * 10} ${(length - x.value) * 10})`;
    for (const look of ["point point-halo", "point"]) {
      const cross = document.createElementNS(SVG, "path");
      cross.setAttribute("class", look);
      cross.setAttribute("transform", at);
      cross.setAttribute("d", `M${-arm} 0H${arm}M0 ${-arm}V${arm}M${-arm / 2} 0a${arm / 2} ${arm / 2} 0 1 0 ${arm} 0a${arm / 2} ${arm / 2} 0 1 0 ${-arm} 0`);
      layer.append(cross);
    }
  }

  function set(along, across) {
    x.value = along;
    y.value = across;
    show();
  }

  const within = (share) => Math.min(1, Math.max(0, share));

  cells.addEventListener("click", (event) => {
    if (event.target.type !== "checkbox") return;
    // From the keyboard, or after a drag over several zones: the zones say where it is.
    if (event.detail === 0 || event.defaultPrevented) return set("", "");
    const box = cells.getBoundingClientRect();
    const along = (1 - within((event.clientY - box.top) / box.height)) * length;
    const across = within((event.clientX - box.left) / box.width) * width;
    for (const other of cells.querySelectorAll("input")) other.checked = other === event.target;
    set(along.toFixed(2), across.toFixed(2));
  });
  show();
}

document.querySelectorAll("[data-point-form]").forEach(pointForm);
