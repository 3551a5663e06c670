// Menu, search, print, and the offline badge. Everything here is an addition: pages work without it.
"use strict";
(() => {
  const script = document.currentScript;
  const root = script.dataset.root;
  const lang = script.dataset.lang;
  const byId = (id) => document.getElementById(id);
  const load = (src) => new Promise((done, failed) => {
    const tag = document.createElement("script");
    tag.src = src;
    tag.onload = done;
    tag.onerror = () => failed(new Error(src));
    document.head.append(tag);
  });
  document.documentElement.classList.replace("no-js", "js");

  // menu: on a phone it covers the page, and what is behind it can't be reached
  const menu = byId("menu"), opener = byId("menu-open"), closer = byId("menu-close");
  const wide = matchMedia("(min-width: 64rem)");
  const behind = [document.querySelector(".top"), byId("page"), document.querySelector(".foot"), document.querySelector(".toc")];
  function showMenu(open) {
    menu.classList.toggle("open", open);
    closer.hidden = !open;
    opener.setAttribute("aria-expanded", String(open));
    for (const part of behind) if (part) part.inert = open;
    if (open) closer.focus(); else if (!wide.matches) opener.focus();
  }
  opener.setAttribute("role", "button");
  opener.setAttribute("aria-expanded", "false");
  opener.addEventListener("click", (event) => { event.preventDefault(); showMenu(true); });
  opener.addEventListener("keydown", (event) => { if (event.key === " ") { event.preventDefault(); showMenu(true); } });
  closer.addEventListener("click", () => showMenu(false));
  document.addEventListener("keydown", (event) => { if (event.key === "Escape" && menu.classList.contains("open")) showMenu(false); });
  wide.addEventListener("change", () => { if (wide.matches && menu.classList.contains("open")) showMenu(false); });

  const contents = document.querySelector(".toc details");
  if (contents && wide.matches) contents.open = true;
  if (contents) contents.addEventListener("click", (event) => { if (event.target.closest("a") && !wide.matches) contents.open = false; });

  // units: pages that carry both systems show the one that was chosen on this device
  const units = byId("units");
  if (units && document.querySelector(".si")) {
    const keep = "upstand:units";
    const kept = () => { try { return localStorage.getItem(keep); } catch { return null; } };
    const showUnits = (si) => { document.documentElement.classList.toggle("in-si", si); units.textContent = si ? units.dataset.us : units.dataset.si; };
    units.hidden = false;
    showUnits(kept() === "si");
    units.addEventListener("click", () => {
      const si = !document.documentElement.classList.contains("in-si");
      showUnits(si);
      try { localStorage.setItem(keep, si ? "si" : "us"); } catch { /* a private window keeps nothing */ }
    });
  }

  byId("print").addEventListener("click", () => print());

  // search: the list is read when it is first asked for
  const dialog = byId("search"), words = byId("search-words"), count = byId("search-count"), found = byId("search-found"), cards = byId("search-cards");
  let finder = null;
  async function ready() {
    if (!finder) {
      count.textContent = count.dataset.wait;
      finder = (async () => {
        await Promise.all([load(root + "/vendor/minisearch/minisearch.js"), load(root + "/assets/search-" + lang + ".js"), load(root + "/assets/answers.js")]);
        await load(root + "/assets/search.js");
        return window.upstandFinder(window.MiniSearch, window.upstandSearch);
      })();
      finder.then(show, () => { finder = null; });
    }
    return finder;
  }
  const place = (url) => root + "/" + (lang === "en" ? "" : lang + "/") + url;
  const make = (tag, text, kind) => {
    const made = document.createElement(tag);
    made.textContent = text;
    if (kind) made.className = kind;
    return made;
  };
  const shape = ([outline, marks]) => {
    const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    svg.setAttribute("viewBox", "0 0 24 24");
    svg.setAttribute("class", "shape");
    svg.setAttribute("aria-hidden", "true");
    for (const [kind, d] of [["outline", outline], ["marks", marks]]) {
      const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
      path.setAttribute("class", kind);
      path.setAttribute("d", d);
      svg.append(path);
    }
    return svg;
  };
  const listed = (lines) => {
    const list = make("ul", "");
    list.append(...lines.map((line) => make("li", line)));
    return list;
  };
  let shown = "";
  function answer(given) {
    // the same answer stays where it is while more is typed: it is not read out again
    const now = JSON.stringify(given);
    if (now === shown) return;
    shown = now;
    cards.replaceChildren(...given.map((one) => {
      const box = make("section", "", "admonition " + one.kind), title = make("h2", one.title, "admonition-title"), ways = make("p", "", "ways");
      title.id = "answer-" + given.indexOf(one);
      box.setAttribute("aria-labelledby", title.id);
      for (const [name, url] of one.links) {
        const link = make("a", name);
        link.href = place(url);
        ways.append(link);
      }
      title.prepend(shape(one.shape));
      box.append(title, ...one.lines.map((line) => (typeof line === "string" ? make("p", line) : listed(line))), make("p", one.grade + " " + one.governs, "grade"), ways);
      return box;
    }));
  }
  async function show() {
    const find = await ready();
    const asked = words.value.trim();
    const hits = asked ? find(asked) : [];
    answer(asked ? find.answers(asked) : []);
    count.textContent = !asked ? "" : (cards.childElementCount ? count.dataset.answers + " · " : "") + (hits.length ? count.dataset.count.replace("{n}", hits.length) : count.dataset.none);
    found.replaceChildren(...hits.slice(0, 30).map((hit) => {
      const item = document.createElement("li"), link = document.createElement("a");
      const part = document.createElement("span"), line = document.createElement("span");
      link.href = place(hit.url);
      link.textContent = hit.title;
      part.textContent = hit.place;
      line.textContent = hit.line;
      link.append(part, line);
      item.append(link);
      return item;
    }));
  }
  function openSearch() {
    if (!dialog.open) dialog.showModal();
    words.focus();
    words.select();
    ready();
  }
  byId("search-open").addEventListener("click", openSearch);
  document.addEventListener("keydown", (event) => {
    const typing = event.target.closest && event.target.closest("input, textarea, select");
    if (event.key === "/" && !typing && !event.ctrlKey && !event.metaKey) { event.preventDefault(); openSearch(); }
  });
  words.addEventListener("input", () => { show(); });
  byId("search-form").addEventListener("submit", (event) => {
    event.preventDefault();
    const first = dialog.querySelector("#search-cards a, #search-found a");
    if (first) first.focus();
  });
  byId("search-close").addEventListener("click", () => dialog.close());
  for (const list of [cards, found]) list.addEventListener("click", (event) => { if (event.target.closest("a")) dialog.close(); });
  dialog.addEventListener("close", () => byId("search-open").focus());

  // old data
  const old = byId("notice-old");
  const checked = Date.parse(old.dataset.checked);
  if (checked && Date.now() - checked > 366 * 86400000) old.hidden = false;

  // offline: stored means that every file of this edition is there
  const badge = byId("offline");
  const say = (state) => { badge.textContent = badge.dataset[state]; badge.classList.toggle("ready", state === "ready" || state === "file"); };
  if (location.protocol === "file:") { say("file"); return; }
  if (!isSecureContext) { say("https"); return; }
  if (!("serviceWorker" in navigator)) { say("no"); return; }
  const update = byId("notice-update");
  let reloading = false;
  async function watch() {
    const hadOne = Boolean(navigator.serviceWorker.controller);
    const registration = await navigator.serviceWorker.register(root + "/sw.js", { scope: root + "/" });
    const offer = () => { if (registration.waiting && registration.active) update.hidden = false; };
    const follow = (worker) => worker && worker.addEventListener("statechange", () => {
      if (worker.state === "activated") stored();
      if (worker.state === "redundant" && !registration.active) say("no");
      offer();
    });
    const stored = () => { say("ready"); if (navigator.storage && navigator.storage.persist) navigator.storage.persist(); };
    if (registration.active) stored(); else say("wait");
    follow(registration.installing);
    registration.addEventListener("updatefound", () => follow(registration.installing));
    offer();
    byId("update-now").addEventListener("click", () => { if (registration.waiting) registration.waiting.postMessage("take over"); });
    navigator.serviceWorker.addEventListener("controllerchange", () => { if (hadOne && !reloading) { reloading = true; location.reload(); } });
  }
  const begin = () => watch().catch(() => say("no"));
  if (document.readyState === "complete") begin(); else addEventListener("load", begin);
})();
