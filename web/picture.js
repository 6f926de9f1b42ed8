/* Pictures on the page: enlarging them. */
"use strict";

document.addEventListener("click", e => {
  const button = e.target.closest?.("[data-zoom]");
  const svg = button && document.getElementById(button.dataset.for);
  if (!svg) return;
  const now = parseFloat(svg.style.width) || 100;
  svg.style.width = Math.min(800, Math.max(100, now * Number(button.dataset.zoom))) + "%";
});
