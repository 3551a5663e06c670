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

  function stem(word, { steps, left, whole, doubled }) {
    if (hasDigit(word) || whole.includes(word)) return word;
    for (const endings of steps) {
      const ending = endings.find((one) => word.endsWith(one) && word.length - one.length >= left);
      if (ending === undefined) continue;
      word = word.slice(0, -ending.length);
      if (doubled && /([b-df-hj-km-np-rtv-y])\1$/.test(word)) word = word.slice(0, -1);
    }
    return word;
  }

  const fuzzy = (word) => hasDigit(word) || word.length < 4 ? false : word.length < 8 ? 1 : 2;
  const boost = { title: 8, aka: 5, heads: 2, text: 1, near: 0.6 };
  const STRONG = ["title", "aka", "heads"];
  const IN_TEXT = 0.5; // how much a word counts that stands in the text alone
  const NAMED = 4; // how much more counts what is called by the very words that were typed

  window.upstandFold = fold;
  window.upstandStem = stem;
  window.upstandFinder = (MiniSearch, held) => {
    const index = MiniSearch.loadJS(held.index, {
      fields: held.fields, storeFields: ["u", "t", "p", "s", "h", "a", "w"],
      tokenize: (text) => fold(text, held.units), processTerm: (word) => word,
    });
    const stop = new Set(held.stop);
    const rows = new Map(held.index.index), total = held.index.documentCount;
    const stemmed = (words) => words.map((word) => stem(word, held.endings));
    // a word that stands on few pages tells more than one that stands on all
    const telling = (word) => {
      const there = new Set(Object.values(rows.get(word) || {}).flatMap((field) => Object.keys(field))).size;
      return Math.log(1 + total / Math.max(1, there));
    };
    const known = (word) => {
      const parts = /^[0-9.]+([a-z]+2?)$/.exec(word);
      return rows.has(word) || !parts || !held.unheld[parts[1]] ? word : stem(held.unheld[parts[1]], held.endings);
    };
    const prefix = (word, at, all) => !hasDigit(word) && word.length > (at === all.length - 1 ? 2 : 3);
    const passes = [{ fuzzy: false }, { fuzzy }];
    const find = (text) => {
      const all = fold(text, held.units);
      const told = all.filter((word) => !stop.has(word));
      const words = [...new Set(stemmed(told.length ? told : all).map(known))];
      const weights = new Map(words.map((word) => [word, telling(word)]));
      const sum = (some) => some.reduce((so, word) => so + (weights.get(word) || 0), 0);
      const whole = sum(words);
      const pages = new Map();
      for (const pass of passes) {
        const hits = index.search(words.join(" "), {
          ...pass, combineWith: "OR", prefix, boost, boostDocument: (id, word, kept) => kept.w, tokenize: (line) => line.split(" "),
        });
        const rank = (hit) => {
          const names = Object.keys(hit.match).filter((term) => hit.match[term].some((field) => STRONG.includes(field)));
          const share = [...new Set(hit.queryTerms)].reduce((so, word) => so + (weights.get(word) || 0) * (names.some((term) => term.startsWith(word)) ? 1 : IN_TEXT), 0) / whole;
          const named = Math.max(0, ...hit.a.map((phrase) => phrase.split(" "))
            .filter((phrase) => phrase.every((word) => weights.has(word))).map(sum)) / whole;
          return hit.score * (share ** 2 + NAMED * named ** 2);
        };
        const ranked = hits.map((hit) => [rank(hit), hit]).sort((a, b) => b[0] - a[0]);
        for (const [, hit] of ranked) {
          const page = hit.u.split("#")[0];
          if (pages.has(page)) continue;
          const holding = (title) => stemmed(fold(title, held.units)).filter((word) => hit.terms.includes(word)).length;
          const head = hit.h.map(([id, title]) => [id, holding(title), title]).reduce((best, next) => (next[1] > best[1] ? next : best), ["", 0, ""]);
          const inside = head[1] > holding(hit.t);
          pages.set(page, { url: inside ? page + "#" + head[0] : hit.u, title: hit.t, place: inside ? head[2] : hit.p, line: hit.s });
        }
        if (pages.size >= 5) break;
      }
      return [...pages.values()];
    };
    find.answers = window.upstandAnswers ? window.upstandAnswers(held.answers, { fold: (text) => fold(text, held.units), stemmed, stop }) : () => [];
    return find;
  };
})();
