// The record sheet: every empty cell becomes a field, kept on this device, printed, or saved as a table.
"use strict";
(() => {
  const place = "upstand:record:";
  const keep = {
    get(name) { try { return localStorage.getItem(place + name) || ""; } catch { return ""; } },
    set(name, value) { try { if (value) localStorage.setItem(place + name, value); else localStorage.removeItem(place + name); } catch { /* a private window keeps nothing */ } },
  };
  const said = (element) => element.textContent.replace(/\u00a0/g, " ").trim();
  const fields = [];
  const rows = [];
  for (const [t, table] of [...document.querySelectorAll(".record table")].entries()) {
    const heads = [...table.querySelectorAll("th")].map(said);
    rows.push(heads.map((text) => () => text));
    for (const [r, row] of [...table.querySelectorAll("tbody tr")].entries()) {
      const name = said(row.cells[0]);
      rows.push([...row.cells].map((cell, c) => {
        if (c === 0) return () => name;
        const words = heads.length > 2 ? name + ": " + heads[c] : name;
        const field = document.createElement("textarea");
        field.rows = 1;
        field.setAttribute("aria-label", words);
        field.autocomplete = "off";
        if (/°F|%|mil\b/.test(name)) field.inputMode = "decimal";
        const key = t + "." + r + "." + c;
        field.value = keep.get(key);
        const grow = () => { field.style.height = "auto"; field.style.height = Math.max(44, field.scrollHeight + 4) + "px"; };
        field.addEventListener("input", () => { keep.set(key, field.value); grow(); });
        fields.push(() => { field.value = ""; keep.set(key, ""); grow(); });
        cell.replaceChildren(field);
        if (field.value) grow();
        return () => field.value;
      }));
    }
    rows.push([]);
  }
  document.querySelector(".record").classList.add("filled");

  const quoted = (text) => '"' + (/^[=+\-@\t]/.test(text) ? "'" + text : text).replace(/"/g, '""') + '"'; // no cell is read as a formula
  document.getElementById("record-save").addEventListener("click", (event) => {
    const text = "\ufeff" + rows.map((row) => row.map((cell) => quoted(cell())).join(",")).join("\r\n");
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "text/csv" }));
    link.download = event.target.dataset.file;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  });
  document.getElementById("record-print").addEventListener("click", () => print());
  const clear = document.getElementById("record-clear"), first = clear.textContent;
  let sure = null;
  clear.addEventListener("click", () => {
    if (sure === null) {
      clear.textContent = clear.dataset.sure;
      sure = setTimeout(() => { sure = null; clear.textContent = first; }, 6000);
      return;
    }
    clearTimeout(sure);
    sure = null;
    clear.textContent = first;
    for (const empty of fields) empty();
  });
})();
