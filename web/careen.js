/* What the pages need besides htmx. Each listener was found necessary by a test in a browser. */
"use strict";

const on = (name, f) => document.addEventListener(name, f);

/* An answer overtaken by a later one is thrown away. */
on("htmx:before:swap", e => {
  const { response } = e.detail.ctx, main = document.getElementById("main");
  if (!main || !main.dataset.revision) return;
  const [boot, rev] = ((response && response.headers.get("Careen-Revision")) || "").split("-");
  const [here, now] = main.dataset.revision.split("-");
  if (boot === here && Number(rev) < Number(now)) e.preventDefault();
});

/* The server marks a form in error data-keep: the edits of others leave it alone. */
on("htmx:before:request", e => {
  if (e.target.matches?.("form.field")) {
    e.target.removeAttribute("data-keep");
    e.target.classList.remove("unsent");
  }
});

/* An edit that found no server is kept, marked, and sent again. */
on("htmx:error", e => {
  const form = e.target.closest?.("form.field");
  if (form) {
    form.classList.add("unsent");
    form.setAttribute("data-keep", "");
  }
});
on("htmx:sse:error", () => document.documentElement.classList.add("alone"));
on("htmx:sse:after:connection", () => {
  document.documentElement.classList.remove("alone");
  document.querySelectorAll("form.unsent").forEach(f => f.requestSubmit());
});

/* Morphing sets attributes; a box once touched no longer follows them. */
on("htmx:after:swap", () => {
  for (const c of document.querySelectorAll("main input[type=checkbox]")) c.checked = c.defaultChecked;
  for (const o of document.querySelectorAll("main option")) o.selected = o.defaultSelected;
});
