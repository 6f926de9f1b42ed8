/* Pictures in a page: a thing aboard is dragged or moved with the arrow keys, a curve is read off, a picture is enlarged.
 * Everything listens on the document, so that what a refresh brings in works at once. A move is sent through the page's own
 * hidden form (form#move: path, x, y, z, was); a page without that form has plain links. */
"use strict";
(() => {
  const CLICK_PX = 4, SNAP_M = 0.05, KEY_M = 0.05, SHIFT_KEY_M = 0.5, SETTLE_MS = 600, FORGET_MS = 3000;
  const PLACE = { along: 0, across: 1, height: 2 };   /* in data-place: x forward, y to port, z up; metres */
  const on = (name, does, how) => document.addEventListener(name, does, how);
  const numbers = text => (text || "").trim().split(/\s+/).map(Number);
  const form = () => document.querySelector("form#move");
  const make = (name, attributes) => {
    const element = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const key in attributes) element.setAttribute(key, attributes[key]);
    return element;
  };
  const closest = (target, selector) => (target instanceof Element ? target.closest(selector) : null);

  function say(svg, text) {
    const figure = svg.closest("figure");
    const out = document.getElementById(svg.id + "-read") || (figure && figure.querySelector("output"));
    if (out && out.textContent !== text) out.textContent = text;
  }

  function svgPoint(svg, x, y) {
    const matrix = svg.getScreenCTM();
    return matrix ? new DOMPoint(x, y).matrixTransform(matrix.inverse()) : new DOMPoint(NaN, NaN);
  }

  /* ---- a view of the boat and the things in it ---- */

  function viewOf(link) {
    const group = link.closest(".view[data-frame]");
    if (!group) return null;
    const [x0, xk, y0, yk] = numbers(group.dataset.frame);
    const axes = group.dataset.axes.split(" ").map(word => PLACE[word]);
    return { group, svg: group.ownerSVGElement, axes, origin: [x0, y0], scale: [xk, yk],
             unit: group.dataset.unit, metre: Number(group.dataset.unitM) };
  }

  const placeOf = link => numbers(link.dataset.place);
  const inPicture = (view, place) => view.axes.map((axis, i) => view.origin[i] + view.scale[i] * place[axis]);

  /* Marks stand closer than a thumb is wide: the nearest one is meant, not the one drawn last. */
  function nearest(link, x, y) {
    const view = viewOf(link);
    if (!view) return link;
    const at = svgPoint(view.svg, x, y);
    let best = link, least = Infinity;
    for (const other of view.group.querySelectorAll("a.movable")) {
      const [px, py] = inPicture(view, placeOf(other)), away = Math.hypot(px - at.x, py - at.y);
      if (away < least) [best, least] = [other, away];
    }
    return best;
  }

  function spoken(view, link, place) {
    const long = metres => (Math.abs(metres) / view.metre).toFixed(2) + " " + view.unit;
    const [x, y, z] = place;
    const along = long(x) + (x < 0 ? " aft of the stern" : " from the stern");
    const across = Math.abs(y) < 0.005 ? "on the centreline" : long(y) + (y > 0 ? " to port" : " to starboard");
    const height = long(z) + (z < 0 ? " below" : " above") + " the base line";
    return link.dataset.name + ": " + along + ", " + (view.axes[1] === PLACE.across ? across : height);
  }

  /* ---- the ghost: where the thing would stand ---- */

  let ghost = null;

  function showGhost(view, link, place) {
    if (!ghost) {
      ghost = make("g", { class: "ghost", "aria-hidden": "true" });
      ghost.append(make("line", {}), make("circle", { r: 7 }), make("circle", { r: 1.5 }));
    }
    if (ghost.parentNode !== view.svg) view.svg.append(ghost);
    const [x1, y1] = inPicture(view, placeOf(link)), [x2, y2] = inPicture(view, place);
    const [line, ...rings] = ghost.children, set = (e, a) => { for (const k in a) e.setAttribute(k, a[k]); };
    set(line, { x1, y1, x2, y2 });
    for (const ring of rings) set(ring, { cx: x2, cy: y2 });
    say(view.svg, spoken(view, link, place));
  }

  function dropGhost() {
    if (ghost) ghost.remove();
    ghost = null;
  }

  /* ---- sending ---- */

  let busy = null;   /* what was sent and is not yet answered: {link, place} */

  function settled() {
    if (!busy) return;
    clearTimeout(busy.timer);
    busy = null;
    if (!taken && !keyed) dropGhost();
  }

  function send(link, place) {
    const sheet = form(), was = placeOf(link);
    if (!sheet || !link.isConnected || place.every((v, i) => v === was[i])) return dropGhost();
    const fill = (name, value) => { const input = sheet.elements.namedItem(name); if (input) input.value = value; };
    fill("path", link.dataset.path);
    ["x", "y", "z"].forEach((name, i) => fill(name, place[i] === was[i] ? "" : String(place[i])));
    fill("was", link.dataset.place);
    busy = { link, place, timer: setTimeout(settled, FORGET_MS) };
    sheet.requestSubmit();
  }

  const tidy = metres => Math.round(metres * 1000) / 1000;

  /* ---- with the pointer ---- */

  let taken = null, swallow = false;

  function draggedTo(e) {
    const { view, start, link } = taken, here = svgPoint(view.svg, e.clientX, e.clientY), place = placeOf(link);
    [here.x - start.x, here.y - start.y].forEach((units, i) => {
      const moved = units / view.scale[i], axis = view.axes[i];
      if (Math.abs(moved) >= SNAP_M / 2) place[axis] = tidy(Math.round((place[axis] + moved) / SNAP_M) * SNAP_M);
    });
    return place;
  }

  function letGo() {
    taken = null;
    dropGhost();
  }

  on("pointerdown", e => {
    swallow = false;
    const touched = closest(e.target, "a.movable");
    if (!touched || e.button !== 0 || !e.isPrimary || !form()) return;
    flushKeys();
    const link = nearest(touched, e.clientX, e.clientY), view = viewOf(link);
    if (view) taken = { link, view, id: e.pointerId, x: e.clientX, y: e.clientY,
                        start: svgPoint(view.svg, e.clientX, e.clientY), moved: false };
  });
  on("pointermove", e => {
    if (!taken || e.pointerId !== taken.id) return;
    if (!taken.link.isConnected) return letGo();
    if (!taken.moved && Math.hypot(e.clientX - taken.x, e.clientY - taken.y) < CLICK_PX) return;
    if (!taken.moved) {
      taken.moved = true;
      taken.link.setPointerCapture(e.pointerId);
      taken.link.focus({ preventScroll: true });
    }
    showGhost(taken.view, taken.link, draggedTo(e));
  });
  on("pointerup", e => {
    if (!taken || e.pointerId !== taken.id) return;
    const { link, moved } = taken;
    const place = moved ? draggedTo(e) : null;
    taken = null;
    swallow = moved;
    if (moved) send(link, place);
  });
  on("touchmove", e => { if (taken) e.preventDefault(); }, { passive: false });   /* touch-action inside a picture is not heeded everywhere */
  on("pointercancel", e => { if (taken && e.pointerId === taken.id) letGo(); });
  on("dragstart", e => { if (closest(e.target, "a.movable") && form()) e.preventDefault(); });
  on("selectstart", e => { if (taken) e.preventDefault(); });
  on("click", e => {
    if (!e.isTrusted) return;
    const link = closest(e.target, "a.movable"), meant = link && e.detail > 0 ? nearest(link, e.clientX, e.clientY) : link;
    if (!swallow && meant === link) return;
    e.preventDefault();
    e.stopImmediatePropagation();
    if (!swallow) meant.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true, view: window, ctrlKey: e.ctrlKey,
                                                                metaKey: e.metaKey, shiftKey: e.shiftKey }));
    swallow = false;
  }, true);

  /* ---- with the keys ---- */

  const ARROWS = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [1, 1], ArrowDown: [1, -1] };
  let keyed = null;   /* {link, by: metres along x, y, z; timer} */

  function keyedPlace() {
    const from = busy && busy.link === keyed.link ? busy.place : placeOf(keyed.link);
    return from.map((value, i) => (keyed.by[i] === 0 ? value : tidy(value + keyed.by[i])));
  }

  function flushKeys() {
    if (!keyed) return;
    clearTimeout(keyed.timer);
    if (busy) {   /* the answer tells where the thing stands now */
      keyed.timer = setTimeout(flushKeys, SETTLE_MS / 4);
      return;
    }
    const { link } = keyed, place = keyedPlace();
    keyed = null;
    send(link, place);
  }

  function dropKeys() {
    clearTimeout(keyed.timer);
    keyed = null;
    dropGhost();
  }

  function moveByKey(e, link) {
    const view = viewOf(link), [i, sign] = ARROWS[e.key];
    if (!view) return;
    e.preventDefault();
    if (keyed && keyed.link !== link) flushKeys();
    if (keyed && keyed.link !== link) dropKeys();
    if (!keyed) keyed = { link, by: [0, 0, 0], timer: 0 };
    keyed.by[view.axes[i]] += sign * (e.shiftKey ? SHIFT_KEY_M : KEY_M);
    clearTimeout(keyed.timer);
    keyed.timer = setTimeout(flushKeys, SETTLE_MS);
    showGhost(view, link, keyedPlace());
  }

  on("keydown", e => {
    if (e.key === "Escape") {
      const was = (taken && taken.moved && taken) || keyed;
      if (!was) return;
      const svg = was.link.ownerSVGElement;
      swallow = taken !== null;
      if (keyed) dropKeys();
      if (taken) letGo();
      if (svg) say(svg, was.link.dataset.name + ": left where it stood");
      return;
    }
    if (e.altKey || e.ctrlKey || e.metaKey) return;
    const link = closest(e.target, "a.movable");
    if (link && ARROWS[e.key] && form()) moveByKey(e, link);
    else if (e.target instanceof SVGSVGElement && e.target.dataset.frame) readByKey(e, e.target);
  });

  /* ---- reading along curves ---- */

  function curvesOf(svg) {
    const [x0, xk, y0, yk] = numbers(svg.dataset.frame);
    return Array.from(svg.querySelectorAll("path[data-x]"), path => {
      const x = numbers(path.dataset.x), y = numbers(path.dataset.y);
      return { name: path.dataset.name, x, y, px: x.map(v => x0 + xk * v), py: y.map(v => y0 + yk * v) };
    });
  }

  function showReading(svg) {
    const cursor = svg.querySelector(".cursor"), [which, i] = numbers(svg.dataset.at), curve = curvesOf(svg)[which];
    if (!cursor || !curve || !(i < curve.x.length)) return;
    const [line, dot] = cursor.children;
    line.setAttribute("x1", curve.px[i]);
    line.setAttribute("x2", curve.px[i]);
    dot.setAttribute("cx", curve.px[i]);
    dot.setAttribute("cy", curve.py[i]);
    cursor.classList.add("shown");
    const [ux, uy] = [svg.dataset.ux, svg.dataset.uy].map(unit => (unit ? " " + unit : ""));
    say(svg, (curve.name ? curve.name + ": " : "") + curve.y[i] + uy + " at " + curve.x[i] + ux);
  }

  function nearestOf(values, value) {
    let best = 0;
    values.forEach((v, i) => { if (Math.abs(v - value) < Math.abs(values[best] - value)) best = i; });
    return best;
  }

  function readAt(e) {
    const svg = closest(e.target, "svg[data-frame]");
    if (!svg) return;
    const here = svgPoint(svg, e.clientX, e.clientY);
    let best = null, least = Infinity;
    curvesOf(svg).forEach((curve, which) => {
      const i = nearestOf(curve.px, here.x), away = Math.abs(curve.py[i] - here.y);
      if (away < least) [best, least] = [which + " " + i, away];
    });
    if (best === null || best === svg.dataset.at) return;
    svg.dataset.at = best;
    showReading(svg);
  }

  function readByKey(e, svg) {
    const curves = curvesOf(svg), step = { ArrowLeft: -1, ArrowRight: 1 }[e.key], next = { ArrowUp: 1, ArrowDown: -1 }[e.key];
    if (curves.length === 0 || (!step && !(next && curves.length > 1))) return;
    e.preventDefault();
    let [which, i] = svg.dataset.at ? numbers(svg.dataset.at) : [0, step === 1 ? -1 : curves[0].x.length];
    which = Math.min(which, curves.length - 1);
    const within = (value, n) => Math.max(0, Math.min(n - 1, value));
    if (step) i = within(i + step * (e.shiftKey ? 10 : 1), curves[which].x.length);
    else {
      const x = curves[which].px[within(i, curves[which].px.length)];
      which = (which + next + curves.length) % curves.length;
      i = nearestOf(curves[which].px, x);
    }
    svg.dataset.at = which + " " + i;
    showReading(svg);
  }

  on("pointermove", readAt);
  on("pointerdown", readAt);

  /* ---- after a refresh ---- */

  on("htmx:after:swap", () => {
    settled();
    for (const svg of document.querySelectorAll("svg[data-frame][data-at]")) showReading(svg);
  });
  on("htmx:error", settled);

  /* ---- larger and smaller ---- */

  on("click", e => {
    const button = closest(e.target, "button[data-zoom][data-for]"), svg = button && document.getElementById(button.dataset.for);
    if (!svg) return;
    const box = svg.parentElement, middle = [(box.scrollLeft + box.clientWidth / 2) / box.scrollWidth,
                                             (box.scrollTop + box.clientHeight / 2) / box.scrollHeight];
    const wide = (parseFloat(svg.style.width) || 100) * (Number(button.dataset.zoom) || 0);
    svg.style.width = Math.max(100, Math.min(800, Math.round(wide))) + "%";
    box.scrollLeft = middle[0] * box.scrollWidth - box.clientWidth / 2;
    box.scrollTop = middle[1] * box.scrollHeight - box.clientHeight / 2;
  });
})();
