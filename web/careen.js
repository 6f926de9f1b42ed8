/* What the page needs beside htmx: edits are never lost, an old answer never covers a newer one, a lost connection is said. */
"use strict";
(() => {
  const on = (name, f, how) => document.addEventListener(name, f, how);
  const main = () => document.getElementById("main");

  /* An answer overtaken by a later one is thrown away; so is a refresh that brings what is shown, which the answer to an edit
   * had brought already, with what it said. */
  const revisionOf = ctx => (ctx && ctx.response && ctx.response.headers.get("Careen-Revision")) || "";
  function overtaken(ctx, source) {
    const here = main();
    if (!here || !here.dataset.revision)
      return false;
    const [boot, number] = revisionOf(ctx).split("-"), [boot_here, now] = here.dataset.revision.split("-");
    const newer = Number(number) - Number(now);
    return boot === boot_here && (newer < 0 || (newer === 0 && source === here));
  }
  on("htmx:before:swap", e => {
    if (overtaken(e.detail.ctx, e.target))
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
  /* What comes next was typed over what was just taken, whatever becomes of the answer: one overtaken by news is not shown. */
  on("htmx:before:response", e => {
    const form = e.target, ctx = e.detail.ctx;
    if (form.matches && form.matches("form.field") && form.elements.was && ctx.response.status === 200)
      form.elements.was.value = form.sent.trim();
  });

  /* A page says what it shows. While its <main> stands as it was sent (data-kept) it is answered with what changed since, and
   * asks for all of it where that does not fit. */
  on("htmx:before:request", e => {
    const ctx = e.detail.ctx, here = main();
    if (!here || !here.dataset.revision || ctx.target !== here)
      return;
    if (e.target === here)
      ctx.request.headers["If-None-Match"] = '"' + here.dataset.revision + '"';
    if (here.hasAttribute("data-kept") && !here.querySelector("[data-keep]"))
      ctx.request.headers["Careen-Shown"] = here.dataset.kept;
  });
  on("htmx:after:request", e => {
    const ctx = e.detail.ctx, since = ctx.response && ctx.response.headers.get("Careen-Since");
    if (!since)
      return;
    e.preventDefault();
    const here = main();
    if (!overtaken(ctx, e.target) && !(since === here.dataset.kept && take(ctx, here))) {
      here.removeAttribute("data-kept");
      document.body.dispatchEvent(new Event("revision"));
    }
  });

  /* Whether all parts were where they should be; nothing is touched before that is known. */
  function take(ctx, here) {
    const sheet = new DOMParser().parseFromString(ctx.text, "application/xml").documentElement;
    const parts = sheet.tagName === "changes" ? Array.from(sheet.children, part => ({ part, where: find(part) })) : [{}];
    if (parts.some(({ part, where }) => !where || !fits(part, where)))
      return false;
    here.dataset.kept = ctx.response.headers.get("Careen-Kept");
    for (const { part, where } of parts) {
      if (where.closest("[data-keep]") || (part.firstChild.localName === "whole" && where.querySelector("[data-keep]")))
        here.removeAttribute("data-kept");   /* a form in which somebody types is left alone, and is not what was sent any more */
      if (!where.closest("[data-keep]"))
        for (const change of part.children)
          APPLY[change.localName](where, change);
    }
    here.dataset.revision = revisionOf(ctx);
    htmx.trigger(here, "htmx:after:swap", { ctx });
    return true;
  }
  function find(part) {
    const [id, ...way] = part.getAttribute("at").split(" ");
    return way.reduce((at, n) => at && at.children[n], document.getElementById(id));
  }
  const fits = (part, where) => where.localName === part.getAttribute("is") &&
    Array.from(part.children).every(change => change.localName !== "text" || isText(where.childNodes[change.getAttribute("n")]));
  const isText = node => node && node.nodeType === Node.TEXT_NODE;
  const left = name => htmx.config.morphIgnore.some(start => name.startsWith(start));
  const APPLY = {
    set(where, change) {
      const name = change.getAttribute("name"), value = change.textContent;
      if (left(name))
        return;
      where.setAttribute(name, value);
      if (name === "value" && where instanceof HTMLInputElement && where !== document.activeElement)
        where.value = value;   /* what was typed and sent hides the attribute */
    },
    unset(where, change) { if (!left(change.getAttribute("name"))) where.removeAttribute(change.getAttribute("name")); },
    text(where, change) { where.childNodes[change.getAttribute("n")].nodeValue = change.textContent; },
    whole(where, change) { htmx.swap({ text: change.textContent, target: where, swap: "outerMorph", sourceElement: where }); },
  };

  /* All of <main> was brought in round a form that was left alone. */
  on("htmx:after:swap", () => {
    const here = main();
    if (here && here.querySelector("[data-keep]"))
      here.removeAttribute("data-kept");
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

  /* What found no server, or one with too much to do, is asked for again: an edit is kept and marked meanwhile, the stream of
   * news, once it runs, is taken up again by itself. */
  const AGAIN_MS = 1000, lost = document.documentElement.classList;
  const is_stream = e => e.hasAttribute && e.hasAttribute("hx-sse:connect");
  function again(element, ask) {
    clearTimeout(element.again);
    element.again = setTimeout(() => { if (element.isConnected) ask(element); }, AGAIN_MS);
  }
  function send(form) {
    if (form.matches(".unsent"))
      form.requestSubmit();
  }
  function listen(stream) {
    const fresh = stream.cloneNode();
    fresh.removeAttribute("data-htmx-powered");
    stream.replaceWith(fresh);
    htmx.process(fresh);
  }
  function unanswered(element) {
    const form = element.closest && element.closest("form.field");
    if (form) {
      form.classList.add("unsent");
      form.setAttribute("data-keep", "");
      again(form, send);
    } else if (is_stream(element)) {
      lost.add("lost");
      again(element, listen);
    } else if (element === main()) {
      again(element, () => document.body.dispatchEvent(new Event("revision")));
    }
  }
  on("htmx:error", e => {
    if (e.detail.ctx)
      unanswered(e.target);
  });
  on("htmx:response:error", e => {
    if (e.detail.ctx.response.status === 503)
      unanswered(e.target);
  });
  on("htmx:sse:after:connection", () => {
    lost.remove("lost");
    document.querySelectorAll("form.unsent").forEach(send);
  });
  on("htmx:sse:error", () => lost.add("lost"));

  /* A browser grants one host six connections: a tab opened behind another asks for its stream when it is looked at, as a tab
   * that is left gives its own up. */
  on("htmx:before:request", e => {
    if (!document.hidden || !is_stream(e.target))
      return;
    e.preventDefault();
    const stream = e.target;
    on("visibilitychange", () => listen(stream), { once: true });
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
