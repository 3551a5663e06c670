// The day clock. Each mix is the moment its parts met, kept on this device; what is left is always worked out from the
// wall clock, so a screen that slept or a page that was closed costs nothing. The times are the engine's, from times.js.
"use strict";
(() => {
  const form = document.getElementById("clock"), list = document.getElementById("clock-mixes"), told = document.getElementById("clock-told");
  const times = window.upstandTimes, say = form.dataset, NBSP = "\u00a0", KEY = "upstand:clock", MINUTE = 60000;
  const SOON = 5, DAY = 24 * 60 * MINUTE;
  const byId = (id) => document.getElementById("clock-" + id);
  const fill = (text, slots) => text.replace(/\{([a-z_]+)\}/g, (all, name) => slots[name] ?? all);
  // a sentence does not end twice behind "a.m."
  const said = (name, slots = {}) => fill(form.getAttribute("data-" + name), slots).replace(/\.\.(?=\s|$)/g, ".");

  let keeps = true;
  const read = () => { try { return JSON.parse(localStorage.getItem(KEY)) || {}; } catch { keeps = false; return {}; } };
  const write = () => { try { localStorage.setItem(KEY, JSON.stringify(kept)); } catch { keeps = false; } };
  const kept = { mixes: [], sound: false, shake: false, wake: false, ...read() };
  kept.mixes = (Array.isArray(kept.mixes) ? kept.mixes : []).filter((mix) => mix && Number.isFinite(mix.at) && times.products[mix.product]);

  const hour = (at) => new Date(at).toLocaleTimeString(document.documentElement.lang === "es" ? "es-US" : "en-US", { hour: "numeric", minute: "2-digit" })
    + (new Date(at).toDateString() === new Date().toDateString() ? "" : " " + new Date(at).toLocaleDateString(document.documentElement.lang === "es" ? "es-US" : "en-US", { weekday: "short" }));
  const up = (at) => Math.ceil(at / MINUTE) * MINUTE;
  const lasting = (span) => {
    const minutes = Math.max(0, Math.floor(span / MINUTE));
    return minutes < 120 ? minutes + NBSP + "min" : Math.floor(minutes / 60) + NBSP + "h" + (minutes % 60 ? NBSP + (minutes % 60) + NBSP + "min" : "");
  };
  // between two degrees the safe one: pot life and windows at the warmer, waits at the colder
  const at = (table, first, degrees, way) => (table && degrees !== null ? table[way(degrees) - first] ?? null : null);

  function ends(mix) {
    const product = times.products[mix.product], life = at(product.life, times.material, mix.material, Math.ceil);
    return { product, place: life && mix.at + life[1] * MINUTE, life: life && mix.at + life[0] * MINUTE };
  }
  const state = (mix, now) => {
    const { place, life } = ends(mix);
    if (!life) return "none";
    return now >= life ? "life-over" : now >= place ? "place-over" : now >= place - SOON * MINUTE ? "soon" : "left";
  };

  function lines(mix, now) {
    const { product, place, life } = ends(mix), [low, high] = product.used, found = [];
    const degrees = Math.round(mix.material * 10) / 10 + NBSP + "°F";
    if (mix.material < low) found.push(["hold", said("cold", { found: degrees, low: low + NBSP + "°F" })]);
    if (mix.material > high) found.push(["hold", said("hot", { found: degrees, high: high + NBSP + "°F" })]);
    found.push(["", said(mix.taken ? "planned" : "started", { at: hour(mix.at), found: degrees })]);
    if (!life) found.push(["hold", said("none")]);
    else found.push(["", said("place-by", { at: hour(place), end: hour(life) })]);
    for (const name of ["skin_time", "watertight", "cure"]) {
      const wait = at(product[name], times.surface, mix.surface, Math.floor);
      const from = place || mix.at;
      if (wait) found.push(["", said(name, { from: hour(up(mix.at + wait[0] * MINUTE)), to: hour(up(from + wait[1] * MINUTE)) })]);
    }
    // the surface asked for is the coldest: a window goes by the warmest that is known
    const warmest = mix.surface === null ? null : Math.max(mix.surface, mix.material);
    const cover = at(product.cover_within, times.surface, warmest, Math.ceil);
    if (cover) found.push(["", said("cover_within", { at: hour(mix.at + cover[1] * MINUTE), found: warmest + NBSP + "°F" })]);
    if (mix.surface !== null) found.push(["", said("if-colder", { found: Math.round(mix.surface * 10) / 10 + NBSP + "°F" })]);
    return found;
  }

  const make = (tag, text, kind) => { const made = document.createElement(tag); made.textContent = text; if (kind) made.className = kind; return made; };
  const drawn = new Map();
  function draw() {
    drawn.clear();
    list.replaceChildren(...kept.mixes.map((mix, number) => {
      const card = make("section", "", "mix"), title = make("h2", mix.name || said("mix", { number: number + 1 })), big = make("p", "", "mix-left");
      title.id = "mix-" + number;
      card.setAttribute("aria-labelledby", title.id);
      card.append(title, make("p", [...byId("product").options].find((one) => one.value === mix.product)?.text || ""), big);
      for (const [kind, text] of lines(mix, Date.now())) card.append(make("p", text, kind));
      const remove = make("button", said("remove"), "mix-remove");
      remove.type = "button";
      remove.setAttribute("aria-label", said("remove") + ": " + title.textContent);
      remove.addEventListener("click", () => {
        if (state(mix, Date.now()) !== "life-over" && !confirm(said("sure"))) return;
        kept.mixes.splice(kept.mixes.indexOf(mix), 1);
        write(); draw(); form.querySelector("button").focus();
      });
      card.append(remove);
      drawn.set(mix, { card, big });
      return card;
    }));
    tick();
    awake();
  }
  function tick() {
    const now = Date.now();
    for (const [mix, { card, big }] of drawn) {
      const { place, life } = ends(mix), here = state(mix, now);
      const slots = { left: lasting((place || now) - now + MINUTE - 1), end: lasting((life || now) - now + MINUTE - 1), over: lasting(now - (life || now)), up: lasting(now - mix.at) };
      big.textContent = said({ none: "up", left: "left", soon: "left", "place-over": "place-over", "life-over": "life-over" }[here], slots);
      card.className = "mix " + here;
      if (mix.told !== here && here !== "left" && here !== "none") {
        mix.told = here;
        write();
        told.textContent = card.querySelector("h2").textContent + ": " + (here === "soon" ? said("soon", slots) : big.textContent);
        alarm(here);
      }
    }
  }

  // sound and vibration by choice; a browser lets sound out only after the page was touched
  let voice = null;
  const wakeVoice = () => { const Audio = window.AudioContext || window.webkitAudioContext; if (kept.sound && Audio) { voice = voice || new Audio(); voice.resume(); } };
  function alarm(here) {
    const beeps = here === "soon" ? 2 : 5;
    window.upstandAlarms = (window.upstandAlarms || 0) + 1;
    if (kept.shake && navigator.vibrate) navigator.vibrate(Array(beeps * 2 - 1).fill(300));
    if (!kept.sound || !voice) return;
    for (let beep = 0; beep < beeps; beep += 1) {
      const tone = voice.createOscillator(), loud = voice.createGain(), from = voice.currentTime + beep * 0.5;
      tone.type = "square";
      tone.frequency.value = 880;
      loud.gain.value = 0.4;
      tone.connect(loud).connect(voice.destination);
      tone.start(from);
      tone.stop(from + 0.3);
    }
  }

  // the screen stays on while a mix runs, where the browser can do that
  let lock = null;
  async function awake() {
    const running = kept.mixes.some((mix) => !["life-over", "none"].includes(state(mix, Date.now())));
    const note = byId("wake-note");
    if (!kept.wake || !running) { if (lock) lock.release(); lock = null; note.textContent = kept.wake ? "" : said("asleep"); return; }
    if (!("wakeLock" in navigator)) { note.textContent = said("cant-wake"); return; }
    if (lock && !lock.released) return;
    try { lock = await navigator.wakeLock.request("screen"); note.textContent = said("awake"); } catch { note.textContent = said("cant-wake"); }
  }

  function number(id, low, high) {
    const field = byId(id), fault = byId(id + "-fault"), typed = field.value.trim().replace(",", ".");
    const value = typed === "" ? null : /^-?\d{1,3}(\.\d+)?$/.test(typed) ? Number(typed) : NaN;
    const wrong = Number.isNaN(value) || (value !== null && (value < low || value > high));
    fault.textContent = wrong ? said("number", { low, high }) : "";
    field.setAttribute("aria-invalid", String(wrong));
    return wrong ? NaN : value;
  }
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const now = Date.now(), material = number("material", -20, 150), surface = number("surface", -20, 200);
    if (Number.isNaN(material) || Number.isNaN(surface)) { form.querySelector("[aria-invalid=true]").focus(); return; }
    wakeVoice();
    // not measured: planned on the warmest of what is known
    const taken = material === null, planned = Math.max(times.planned, surface ?? times.planned);
    kept.mixes.unshift({ product: byId("product").value, material: taken ? planned : material, taken, surface, name: byId("name").value.trim(), at: now });
    byId("name").value = "";
    write();
    draw();
    if (!keeps) told.textContent = said("kept-not");
    list.querySelector("h2").scrollIntoView({ block: "nearest" });
  });
  const note = make("p", "", "hint");
  note.id = "clock-wake-note";
  form.append(note);
  for (const name of ["sound", "shake", "wake"]) {
    byId(name).checked = Boolean(kept[name]);
    byId(name).addEventListener("change", () => { kept[name] = byId(name).checked; write(); wakeVoice(); awake(); if (name === "shake" && kept.shake && navigator.vibrate) navigator.vibrate(200); });
  }
  document.addEventListener("pointerdown", wakeVoice);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { tick(); awake(); } });
  addEventListener("storage", (event) => { if (event.key === KEY) location.reload(); });
  setInterval(tick, 1000);
  kept.mixes = kept.mixes.filter((mix) => Date.now() - mix.at < 2 * DAY);
  draw();
})();
