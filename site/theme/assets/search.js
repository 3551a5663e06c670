// Finds pages, one hit a page. First by the words as typed or begun; what holds more of them comes
// first by far. Where that finds little, also by words one or two letters off. Words are taken apart
// here as search.py takes them apart for the list; a test holds the two together.
"use strict";
(() => {
  const singular = (word) => word.length > 3 && word.endsWith("s") && !word.endsWith("ss") ? word.slice(0, -1) : word;

  function fraction(all, whole, over, under) {
    if (Number(under) === 0) return all;
    const thousandths = Number(whole || 0) * 1000 + Math.floor((Number(over) * 2000 + Number(under)) / (2 * Number(under)));
    const rest = String(thousandths % 1000).padStart(3, "0").replace(/0+$/, "");
    return Math.floor(thousandths / 1000) + (rest ? "." + rest : "");
  }

  function flatten(text) {
    return text.replace(/(?<=[0-9])(?=[¼½¾⅓⅔⅛⅜⅝⅞])/g, " ").normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase()
      .replaceAll("\u2044", "/")
      .replace(/(?<=[0-9])\s*(?:["″”]|'')/g, " in ")
      .replace(/(?<=[0-9])\s*['′’]/g, " ft ")
      .replace(/(?<=[0-9])\s*(?:°|º|deg(?:rees?)?|grados?)\s*([fc])?(?![a-z])/g, (_, sign) => " " + (sign || "f") + " ")
      .replace(/\bsq(?:uare)?\.?\s*(?:ft|feet|foot)\b|\bpies? cuadrados?\b/g, "ft2")
      .replaceAll("%", " pct ")
      .replace(/(?<=[0-9]),(?=[0-9]{3}(?![0-9]))/g, "")
      .replace(/(?:(?<![0-9./])([0-9]{1,4})[\s-]+)?(?<![0-9./])([0-9]{1,4})\/([0-9]{1,4})(?![0-9./])/g, fraction)
      .replace(/([0-9])\s*[-–]\s*(?=[0-9.]+\s*([a-z]+))/g, (_, digit, unit) => digit + " " + unit + " ");
  }

  function fold(text, units) {
    const words = [];
    let number = "";
    for (let word of flatten(text).match(/[a-z0-9]+(?:\.[0-9]+)?/g) || []) {
      const glued = /^([0-9]+(?:\.[0-9]+)?)([a-z]+2?)$/.exec(word);
      if (glued && Object.hasOwn(units, singular(glued[2]))) {
        if (number) words.push(number);
        number = glued[1];
        word = glued[2];
      }
      const name = singular(word);
      if (number && Object.hasOwn(units, name)) {
        words.push(number + units[name]);
        number = "";
        continue;
      }
      if (number) { words.push(number); number = ""; }
      if (/^[0-9]+(?:\.[0-9]+)?$/.test(word)) number = word; else words.push(name);
    }
    if (number) words.push(number);
    return words;
  }

  const hasDigit = (word) => /[0-9]/.test(word);
  const fuzzy = (word) => hasDigit(word) || word.length < 4 ? false : word.length < 8 ? 1 : 2;
  const boost = { title: 8, aka: 5, heads: 2, text: 1, near: 0.6 };

  window.upstandFold = fold;
  window.upstandFinder = (MiniSearch, held) => {
    const index = MiniSearch.loadJS(held.index, {
      fields: held.fields, storeFields: ["u", "t", "p", "h", "w"],
      tokenize: (text) => fold(text, held.units), processTerm: (word) => word,
    });
    const stop = new Set(held.stop);
    const prefix = (word) => !hasDigit(word) && word.length > 2;
    const passes = [{ fuzzy: false }, { fuzzy }];
    return (text) => {
      const all = fold(text, held.units);
      const told = all.filter((word) => !stop.has(word));
      const words = told.length ? told : all;
      const pages = new Map();
      for (const pass of passes) {
        const hits = index.search(words.join(" "), {
          ...pass, combineWith: "OR", prefix, boost, boostDocument: (id, word, kept) => kept.w, tokenize: (line) => line.split(" "),
        });
        const share = (hit) => new Set(hit.queryTerms).size / new Set(words).size;
        const ranked = hits.map((hit) => [hit.score * share(hit) ** 2, hit]).sort((a, b) => b[0] - a[0]);
        for (const [, hit] of ranked) {
          const page = hit.u.split("#")[0];
          if (pages.has(page)) continue;
          const head = hit.h.map(([id, title]) => [id, fold(title, held.units).filter((word) => hit.terms.includes(word)).length])
            .reduce((best, next) => (next[1] > best[1] ? next : best), ["", 0]);
          const titled = fold(hit.t, held.units).filter((word) => hit.terms.includes(word)).length;
          pages.set(page, { url: head[1] > titled ? page + "#" + head[0] : hit.u, title: hit.t, place: hit.p });
        }
        if (pages.size >= 5) break;
      }
      return [...pages.values()];
    };
  };
})();
