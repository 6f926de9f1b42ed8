/* What the page needs beside htmx: edits are never lost, an old answer never covers a newer one, a lost connection is said. */
"use strict";
(() => {
  const on = (name, f, how) => document.addEventListener(name, f, how);
  const main = () => document.getElementById("main");

  /* An answer overtaken by a later one is thrown away; so is a refresh that brings what is shown, which the answer to an edit
   * had brought already, with what it said. */
  on("htmx:before:swap", e => {
    const response = e.detail.ctx && e.detail.ctx.response, here = main();
    const revision = (response && response.headers.get("Careen-Revision")) || "";
    if (!here || !here.dataset.revision)
      return;
    const [boot, number] = revision.split("-"), [boot_here, now] = here.dataset.revision.split("-");
    const newer = Number(number) - Number(now);
    if (boot === boot_here && (newer < 0 || (newer === 0 && e.target === here)))
      e.preventDefault();
  });

  /* A form in which somebody types, or that is in error, is left alone by others' edits: what it was drawn with goes with what
   * is typed, so that a clash is seen. Sending it frees it. */
  on("input", e => {
    const form = e.target.closest("form.field");
    if (form)
      form.setAttribute("data-keep", "");
  });
  on("htmx:before:request", e => {
    if (e.target.matches && e.target.matches("form")) {
      /* what waited behind an earlier edit was put together before that one was answered, and before what was typed since */
      const form = e.target, body = e.detail.ctx.request.body, was = form.elements.was, field = form.elements.value;
      const waited = body instanceof URLSearchParams && body.has("value");
      form.sent = waited ? body.get("value") : field ? field.value : "";
      form.classList.remove("unsent");
      if (!field || field.value === form.sent)
        form.removeAttribute("data-keep");
      if (was && body instanceof URLSearchParams)
        body.set("was", was.value);
    }
  });
  /* Typed on while it was being saved: what comes next was typed over what was just sent. */
  on("htmx:before:swap", e => {
    const form = e.target, ctx = e.detail.ctx;
    if (form.matches && form.matches("form.field[data-keep]") && ctx.response && ctx.response.status === 200)
      form.elements.was.value = form.sent.trim();
  });
  on("focusout", e => {
    const form = e.target.closest && e.target.closest("form.field[data-keep]"), field = e.target;
    if (!form || form.matches(".bad, .unsent"))
      return;
    if (field.value === field.defaultValue) {
      form.removeAttribute("data-keep");
      return;
    }
    /* A browser knows of no change where the field was drawn anew between typing and leaving it: then it is sent all the same. */
    setTimeout(() => {
      if (form.isConnected && form.hasAttribute("data-keep") && form.sent !== field.value && !form.matches(".bad, .unsent") &&
          !form.contains(document.activeElement))
        form.requestSubmit();
    }, 100);
  });

  /* What the server refuses before any page answers (no key, too much at once) swaps nothing: it is said here. */
  on("htmx:response:error", e => {
    const ctx = e.detail.ctx, refused = document.getElementById("refused");
    if (!refused || !ctx || ctx.response.headers.get("Careen-Revision"))
      return;
    refused.textContent = ctx.text || "careen refused this (" + ctx.response.status + ").";
    refused.hidden = false;
  });
  on("htmx:after:swap", () => {
    const refused = document.getElementById("refused");
    if (refused)
      refused.hidden = true;
  });

  /* An edit that found no server is kept, marked, and sent again. */
  on("htmx:error", e => {
    const form = e.target.closest && e.target.closest("form.field");
    if (form) {
      form.classList.add("unsent");
      form.setAttribute("data-keep", "");
    }
  });
  on("htmx:sse:after:connection", () => {
    document.documentElement.classList.remove("lost");
    document.querySelectorAll("form.unsent").forEach(form => form.requestSubmit());
  });
  on("htmx:sse:error", () => document.documentElement.classList.add("lost"));

  /* A browser grants one host six connections: a tab opened behind another asks for its stream when it is looked at, as a tab
   * that is left gives its own up. */
  on("htmx:before:request", e => {
    if (!document.hidden || !e.target.hasAttribute || !e.target.hasAttribute("hx-sse:connect"))
      return;
    e.preventDefault();
    const stream = e.target;
    on("visibilitychange", () => {
      const fresh = stream.cloneNode();
      fresh.removeAttribute("data-htmx-powered");
      stream.replaceWith(fresh);
      htmx.process(fresh);
    }, { once: true });
  });

  /* Morphing sets attributes; a box once touched no longer follows them. */
  on("htmx:after:swap", () => {
    for (const box of document.querySelectorAll("main input[type=checkbox]"))
      box.checked = box.defaultChecked;
    for (const option of document.querySelectorAll("main select option"))
      option.selected = option.defaultSelected;
  });

  /* A chooser goes where it points as soon as it is changed. */
  on("change", e => {
    const form = e.target.closest("form.choose");
    if (form && e.target.tagName === "SELECT")
      form.requestSubmit();
  });

  /* Escape in a field brings back what stands in the file. */
  on("keydown", e => {
    const form = e.key === "Escape" && e.target.closest && e.target.closest("form.field");
    if (!form)
      return;
    form.removeAttribute("data-keep");
    form.reset();
  });

  /* A scan goes as one stream, so that a large one fits. */
  on("submit", e => {
    const form = e.target.closest("form#scan"), file = form && form.elements.scan.files[0];
    if (!form)
      return;
    e.preventDefault();
    if (file)
      send_scan(form, file);
  });

  function send_scan(form, file) {
    const bar = form.querySelector("progress"), told = form.querySelector("output");
    const name = file.name.replace(/[^A-Za-z0-9._-]+/g, "-").replace(/^[.-]+/, "");
    const request = new XMLHttpRequest();
    request.open("POST", form.dataset.to + "?name=" + encodeURIComponent(name));
    request.setRequestHeader("Content-Type", "application/octet-stream");
    request.setRequestHeader("Careen-Token", form.dataset.token);
    request.upload.onprogress = e => { bar.max = e.total; bar.value = e.loaded; };
    request.onload = () => {
      if (request.status === 201)
        location.assign(form.dataset.to.replace(/scan$/, "hull-scan") + "?name=" + encodeURIComponent(name));
      else
        told.textContent = request.responseText || "The scan was refused (" + request.status + ").";
    };
    request.onerror = () => { told.textContent = "The scan did not arrive; send it again."; };
    bar.hidden = false;
    request.send(file);
  }
})();
