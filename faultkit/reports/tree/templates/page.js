"use strict";
// The same placing as faultkit/reports/tree/tidy.py (Buchheim, Jünger, Leipert 2002); a test compares the two.
function tidy(parents, widths, gap) {
  const n = parents.length;
  if (!n) return [];
  const kids = parents.map(() => []), number = Array(n).fill(0);
  for (let v = 1; v < n; v++) { number[v] = kids[parents[v]].length; kids[parents[v]].push(v); }
  const prelim = Array(n).fill(0), mod = Array(n).fill(0), change = Array(n).fill(0), shift = Array(n).fill(0);
  const thread = Array(n).fill(-1), ancestor = parents.map((_, i) => i);
  const apart = (a, b) => (widths[a] + widths[b]) / 2 + gap;
  const left = v => kids[v].length ? kids[v][0] : thread[v];
  const right = v => kids[v].length ? kids[v][kids[v].length - 1] : thread[v];
  const middle = v => (prelim[kids[v][0]] + prelim[kids[v][kids[v].length - 1]]) / 2;
  function move(a, b, push) {
    const between = number[b] - number[a];
    change[b] -= push / between; shift[b] += push; change[a] += push / between; prelim[b] += push; mod[b] += push;
  }
  function apportion(v, i, siblings, fallback) {
    if (!i) return fallback;
    let ir = v, or = v, il = siblings[i - 1], ol = siblings[0];
    let sir = mod[ir], sor = mod[or], sil = mod[il], sol = mod[ol];
    while (right(il) >= 0 && left(ir) >= 0) {
      il = right(il); ir = left(ir); ol = left(ol); or = right(or);
      ancestor[or] = v;
      const push = prelim[il] + sil - (prelim[ir] + sir) + apart(il, ir);
      if (push > 0) {
        const a = ancestor[il];
        move(parents[a] === parents[v] ? a : fallback, v, push);
        sir += push; sor += push;
      }
      sil += mod[il]; sir += mod[ir]; sol += mod[ol]; sor += mod[or];
    }
    if (right(il) >= 0 && right(or) < 0) { thread[or] = right(il); mod[or] += sil - sor; }
    if (left(ir) >= 0 && left(ol) < 0) { thread[ol] = left(ir); mod[ol] += sir - sol; fallback = v; }
    return fallback;
  }
  for (let v = n - 1; v >= 0; v--) {
    const siblings = kids[v];
    if (!siblings.length) continue;
    let fallback = siblings[0];
    siblings.forEach((w, i) => {
      if (i) {
        prelim[w] = prelim[siblings[i - 1]] + apart(siblings[i - 1], w);
        if (kids[w].length) mod[w] = prelim[w] - middle(w);
      } else if (kids[w].length) prelim[w] = middle(w);
      fallback = apportion(w, i, siblings, fallback);
    });
    let s = 0, c = 0;
    for (const w of [...siblings].reverse()) { prelim[w] += s; mod[w] += s; c += change[w]; s += shift[w] + c; }
    if (v === 0) prelim[0] = middle(0);
  }
  const x = Array(n).fill(0), sum = Array(n).fill(0);
  x[0] = prelim[0]; sum[0] = mod[0];
  for (let v = 1; v < n; v++) { x[v] = prelim[v] + sum[parents[v]]; sum[v] = sum[parents[v]] + mod[v]; }
  const least = Math.min(...x.map((c, i) => c - widths[i] / 2));
  return x.map(c => c - least);
}

class Picture {
  constructor(svg) {
    this.svg = svg;
    this.view = svg.closest(".view");
    this.zoom = 1;
    this.at = Object.fromEntries(["gap", "level", "bottom", "margin", "top"].map(k => [k, +svg.dataset[k]]));
    this.spots = [...svg.querySelectorAll("g.spot")].map(el => ({
      el, link: el.querySelector("a"), knob: el.querySelector(".knob"), i: +el.dataset.i, p: +el.dataset.p,
      w: +el.dataset.w, d: +el.dataset.d, h: +el.dataset.h, e: el.dataset.e, kids: [], x: 0, y: 0,
    }));
    this.by = new Map(this.spots.map(s => [s.i, s]));
    const edges = new Map([...svg.querySelectorAll(".edge")].map(e => [+e.dataset.to, e]));
    for (const s of this.spots) {
      s.parent = this.by.get(s.p) || null;
      if (s.parent) s.parent.kids.push(s);
      s.edge = edges.get(s.i);
      s.open = !!s.knob && s.knob.getAttribute("aria-expanded") === "true";
      s.link.setAttribute("tabindex", s.parent ? -1 : 0);
      if (s.knob) {
        s.knob.setAttribute("tabindex", -1);
        s.knob.addEventListener("click", () => this.toggle(s));
        s.knob.addEventListener("keydown", k => { if (k.key === "Enter" || k.key === " ") { k.preventDefault(); this.toggle(s); } });
      }
      s.link.addEventListener("keydown", k => this.key(s, k));
      s.link.addEventListener("focus", () => this.rove(s));
    }
    this.layout();
  }
  shown(s) { for (let p = s.parent; p; p = p.parent) if (!p.open) return false; return true; }
  layout() {
    const seen = this.spots.filter(s => this.shown(s)), at = new Map(seen.map((s, n) => [s, n]));
    const { gap, level, bottom, margin, top } = this.at;
    const x = tidy(seen.map(s => s.parent ? at.get(s.parent) : -1), seen.map(s => s.w), gap);
    let wide = 0, high = 0;
    seen.forEach((s, n) => {
      s.x = x[n] + margin; s.y = top + s.d * level;
      wide = Math.max(wide, s.x + s.w / 2 + margin); high = Math.max(high, s.y + level - 8);
    });
    for (const s of this.spots) {
      const on = at.has(s);
      s.el.classList.toggle("hidden", !on);
      if (on) s.el.setAttribute("transform", `translate(${s.x},${s.y})`);
      if (s.edge) {
        s.edge.classList.toggle("hidden", !on);
        if (on) s.edge.setAttribute("d", `M${s.parent.x},${s.parent.y + bottom} V${s.y} H${s.x} V${s.y + s.h}`);
      }
      if (s.knob) {
        s.knob.setAttribute("aria-expanded", s.open);
        s.knob.querySelector("text").textContent = s.open ? "−" : "+" + s.kids.length;
      }
    }
    this.wide = wide; this.high = high;
    this.scale(this.zoom);
  }
  scale(zoom) {
    this.zoom = Math.min(2, Math.max(0.2, zoom));
    this.svg.setAttribute("viewBox", `0 0 ${this.wide} ${this.high}`);
    this.svg.setAttribute("width", this.wide * this.zoom);
    this.svg.setAttribute("height", this.high * this.zoom);
  }
  fit() { this.scale(Math.min(1, (this.view.clientWidth - 2) / this.wide)); }
  center(s) {
    this.view.scrollLeft = s.x * this.zoom - this.view.clientWidth / 2;
    this.view.scrollTop = (s.y + 90) * this.zoom - this.view.clientHeight / 2;
  }
  // The knob stays under the finger.
  toggle(s) {
    const before = s.el.getBoundingClientRect();
    s.open = !s.open;
    this.layout();
    const after = s.el.getBoundingClientRect();
    this.view.scrollLeft += after.left + after.width / 2 - before.left - before.width / 2;
    this.view.scrollTop += after.top - before.top;
    keep();
  }
  reveal(s) {
    for (let p = s.parent; p; p = p.parent) p.open = true;
    this.layout();
    this.center(s);
  }
  all(open) {
    for (const s of this.spots) if (s.knob) s.open = open || !s.parent;
    this.layout();
    this.center(this.spots[0]);
    keep();
  }
  rove(s) {
    for (const other of this.spots) other.link.setAttribute("tabindex", other === s ? 0 : -1);
  }
  key(s, k) {
    const level = this.spots.filter(o => o.d === s.d && this.shown(o)), n = level.indexOf(s);
    let to = null;
    if (k.key === " " || k.key === "+" || k.key === "-") { if (s.knob) this.toggle(s); }
    else if (k.key === "ArrowDown") { if (s.knob && !s.open) this.toggle(s); to = s.kids[0]; }
    else if (k.key === "ArrowUp") to = s.parent;
    else if (k.key === "ArrowLeft") to = level[n - 1];
    else if (k.key === "ArrowRight") to = level[n + 1];
    else if (k.key === "Home") to = this.spots[0];
    else return;
    k.preventDefault();
    if (to) { to.link.focus({ preventScroll: true }); this.center(to); }
  }
}

let pictures = [];

// What is unfolded outlives a reload while an author writes.
function keep() {
  if (!document.body.dataset.version) return;
  try {
    const open = pictures.map(p => p.spots.filter(s => s.open).map(s => s.e));
    sessionStorage.setItem("open " + location.pathname, JSON.stringify(open));
  } catch { /* no storage: folds are not kept */ }
}
function recall() {
  if (!document.body.dataset.version) return;
  try {
    const open = JSON.parse(sessionStorage.getItem("open " + location.pathname) || "null");
    if (!open || open.length !== pictures.length) return;
    pictures.forEach((p, n) => { for (const s of p.spots) if (s.knob) s.open = open[n].includes(s.e); p.layout(); });
  } catch { /* as above */ }
}

function choose() {
  const id = decodeURIComponent(location.hash.slice(1)), card = id && document.getElementById(id);
  let event = card && card.dataset ? card.dataset.e : undefined;
  if (id.startsWith("spot-")) {
    for (const p of pictures) {
      const s = p.by.get(+id.slice(5));
      if (s) { event = s.e; p.reveal(s); p.view.scrollIntoView({ block: "nearest" }); s.link.focus({ preventScroll: true }); }
    }
  }
  for (const p of pictures) for (const s of p.spots) s.el.classList.toggle("chosen", !!event && s.e === event);
}

function search(box, found) {
  const words = box.value.toLowerCase().split(/\s+/).filter(Boolean);
  const fits = text => words.every(w => text.includes(w));
  let cards = 0, spots = 0, first = null;
  for (const card of document.querySelectorAll(".card")) {
    card.text ??= card.textContent.toLowerCase();
    card.hidden = !fits(card.text);
    cards += !card.hidden;
  }
  for (const p of pictures) for (const s of p.spots) {
    const hit = words.length > 0 && fits(s.link.getAttribute("aria-label").toLowerCase() + " " + s.e);
    s.el.classList.toggle("hit", hit);
    if (hit) { spots++; first ??= [p, s]; for (let q = s.parent; q; q = q.parent) q.open = true; }
  }
  if (spots) for (const p of pictures) p.layout();
  if (first) first[0].center(first[1]);
  found.textContent = words.length ? `${cards} cards, ${spots} places in the pictures` : "";
}

// Paper cannot be unfolded: legend and outline are opened for it, and closed again.
let opened = [];
function forPaper() {
  opened = [...document.querySelectorAll(".legend:not([open]), .outline:not([open]), .outline details:not([open])")];
  for (const d of opened) d.open = true;
}

async function watch() {
  const have = document.body.dataset.version;
  try {
    const now = await (await fetch("/version", { cache: "no-store" })).text();
    if (now !== have) return location.reload();
  } catch { /* the watcher has stopped; the page stays */ }
  setTimeout(watch, 500);
}

function start() {
  document.documentElement.classList.add("js");
  pictures = [...document.querySelectorAll("svg.tree")].map(svg => new Picture(svg));
  recall();
  for (const p of pictures) {
    p.view.scrollLeft = p.spots[0].x * p.zoom - p.view.clientWidth / 2;
    const does = { open: () => p.all(true), close: () => p.all(false), in: () => p.scale(p.zoom * 1.25), out: () => p.scale(p.zoom / 1.25), fit: () => p.fit() };
    for (const b of p.view.parentElement.querySelectorAll("[data-do]")) b.addEventListener("click", does[b.dataset.do]);
  }
  const box = document.getElementById("find");
  if (box) {
    box.form.addEventListener("submit", e => e.preventDefault());
    box.addEventListener("input", () => search(box, document.getElementById("found")));
  }
  addEventListener("hashchange", choose);
  addEventListener("beforeprint", forPaper);
  addEventListener("afterprint", () => { for (const d of opened) d.open = false; });
  choose();
  if (document.body.dataset.version) watch();
}

if (typeof document !== "undefined") start();
else if (typeof module !== "undefined") module.exports = { tidy };
