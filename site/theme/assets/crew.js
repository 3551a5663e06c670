// A detail's page: the size that was picked, and the ticks, both kept on this device alone.
"use strict";
(() => {
  const place = "upstand:" + location.pathname.split("/").slice(-2).join("/") + ":";
  const keep = {
    get(name) { try { return localStorage.getItem(place + name); } catch { return null; } },
    set(name, value) { try { if (value === null) localStorage.removeItem(place + name); else localStorage.setItem(place + name, value); } catch { /* a private window keeps nothing */ } },
  };
  const pick = document.getElementById("size");
  function show(number) {
    for (const one of document.querySelectorAll(".v")) one.classList.toggle("on", one.dataset.v === number);
  }
  if (pick) {
    const kept = [...pick.options].find((option) => option.text === keep.get("size"));
    if (kept) pick.value = kept.value;
    if (pick.selectedIndex > 0) show(pick.value); // also where the browser itself put the choice back
    pick.addEventListener("change", () => { show(pick.value); keep.set("size", pick.selectedOptions[0].text); });
  }
  const ticks = [...document.querySelectorAll("input[data-tick]")];
  function set(tick, done) {
    tick.checked = done;
    const part = tick.closest("li, .line");
    if (part) part.classList.toggle("done", done);
  }
  for (const tick of ticks) {
    if (keep.get(tick.dataset.tick) === "1") set(tick, true);
    tick.addEventListener("change", () => { set(tick, tick.checked); keep.set(tick.dataset.tick, tick.checked ? "1" : null); });
  }
  const clear = document.getElementById("clear-ticks");
  if (clear) clear.addEventListener("click", () => { for (const tick of ticks) { set(tick, false); keep.set(tick.dataset.tick, null); } });
})();
