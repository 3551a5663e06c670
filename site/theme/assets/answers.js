// What the search answers by itself: a temperature, wet, rain, wind, dew, a mix gone wrong. Numbers and sentences are the
// edition's, from answers.py. A number that may be an angle or a size gets no answer.
"use strict";
(() => {
  const NBSP = "\u00a0";
  const fill = (text, slots) => text.replace(/\{([a-z_]+)\}/g, (all, name) => slots[name] ?? all);
  const plain = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replaceAll("\u2212", "-");
  const round = (number) => String(Math.round(number * 10) / 10);

  const NUMBER = "(?<![\\w./$#-])(minus |menos |bajo cero |-)?(\\d{1,3}(?:\\.\\d+)?)";
  const WITH_UNIT = new RegExp(NUMBER + "\\s*(?:(?:[°º]|deg(?:rees?)?\\b|grados?\\b)\\s*(fahrenheit|f|celsius|centigrados?|centigrade|c)?(?![\\w/])|(fahrenheit|f|celsius|centigrados?|centigrade|c)(?![\\w/]))", "g");
  // without a unit only beside a word that can mean nothing but a temperature
  const WARMTH = "cold|frio|fria|temp|temperature|temperatura|air|aire|surface|superficie|freezing|helado|outside temperature";
  const BARE = new RegExp("\\b(?:" + WARMTH + ")\\s+(?:is |at |of |a |de |esta a |hoy )?(minus |menos |-)?(\\d{1,3}(?:\\.\\d+)?)(?![\\w./\"'°%-])(?!\\s*(?:[a-z\"'%°/]))", "g");
  const SHAPE = "angles?|angulos?|bends?|elbows?|codos?|corners?|esquinas?|miter|mitre|turn|vuelta|offset|slope|pitch|pendiente|inclinacion|curva|cut|corte|channel|canal|purlin|perfil|section|pipe|tubo|sleeve";
  const SHAPE_AFTER = new RegExp("^\\s*-?\\s*(?:" + SHAPE + ")\\b");
  const SHAPE_BEFORE = new RegExp("\\b(?:" + SHAPE + ")\\s+(?:(?:of|at|de|a|is|con)\\s+)?$");

  function temperatures(text, [least, most]) {
    const found = [];
    const take = (sign, digits, unit) => {
      const number = Number(digits) * (sign ? -1 : 1);
      const celsius = (unit || "").startsWith("c");
      const degrees = celsius ? number * 9 / 5 + 32 : number;
      if (degrees < least || degrees > most || found.some((one) => one.degrees === degrees)) return;
      const fahrenheit = round(degrees) + NBSP + "°F";
      found.push({ degrees, said: celsius ? round(number) + NBSP + "°C (" + fahrenheit + ")" : fahrenheit, open: unit ? "" : round(number) });
    };
    for (const hit of text.matchAll(WITH_UNIT)) {
      const [all, sign, digits, after, alone] = hit;
      const sure = (after || alone || "").startsWith("f") || ((after || "") !== "" );
      const rest = text.slice(hit.index + all.length), before = text.slice(0, hit.index);
      if (!sure && (SHAPE_AFTER.test(rest) || SHAPE_BEFORE.test(before))) continue;
      take(sign, digits, after || alone);
    }
    if (!found.length) for (const [, sign, digits] of text.matchAll(BARE)) take(sign, digits, "");
    return found.slice(0, 2);
  }

  window.upstandAnswers = (held, tools) => {
    const { say, links, words } = held;
    const card = (kind, title, lines, grade, to) => ({
      kind, shape: held.shapes[kind], title: kind === "hold" ? say.hold + ": " + title : title,
      lines: lines.filter(Boolean), grade: fill(say.grade, { grade }), governs: say.governs, links: to.map((name) => (typeof name === "string" ? links[name] : name)),
    });
    const clears = (text) => say.clears + " " + text;

    function warmth({ degrees, said, open }, typed) {
      const inside = (range) => degrees >= range.low && degrees <= range.high;
      const [first] = held.products, product = first.names[0], slots = { found: said, range: first.range, product };
      const t = held.temperature, out = [], pail = [];
      if (inside(first)) out.push(fill(say.inside, slots));
      else out.push(fill(t.because, slots), clears(fill(degrees < first.low ? t.clears : t.clears_over, slots)));
      const each = held.products.map((one) => fill(say.product, { names: one.names.join(", "), range: one.range, grade: one.grade, state: inside(one) ? say["is-in"] : say["is-out"] }));
      out.push(say.products, each);
      const life = held.life.minutes[Math.ceil(degrees) - held.life.from];
      if (!inside(held.store)) {
        const kept = { found: said, range: held.store.range };
        pail.push(say.pail + " " + fill(t.pail, kept) + " " + fill(degrees < held.store.low ? t.pail_clears : t.pail_clears_over, kept));
      } else if (life) {
        const minutes = (number) => number + NBSP + "min";
        pail.push(fill(say.life, { product: held.store.name, life: minutes(life[0]), kept: minutes(life[1]) }));
      }
      const inPail = called(typed, words.pail), range = inPail ? held.store : first;
      const celsius = open ? fill(say.celsius, { number: open }) : "";
      const lines = inPail ? [...pail, ...out, celsius] : [...out, ...pail, celsius];
      return card(inside(range) ? "note" : "hold", fill(inPail ? say["in-pail"] : say.temperature, { found: said }), lines, range.grade, ["air", "weather", "reckon"]);
    }

    const number = (typed, unit) => {
      const hit = typed.find((word) => new RegExp("^[0-9.]+" + unit + "$").test(word));
      return hit === undefined ? null : Number(hit.slice(0, -unit.length));
    };
    const called = (typed, { any, none }) => typed.some((word) => any.includes(word)) && !typed.some((word) => none.includes(word));
    const asked = {
      wet: () => card("hold", say.wet, [held.wet.lines[0], clears(held.wet.lines[1])], held.wet.grade, ["wet", "weather"]),
      // hold where it is known to be over the limit; else the limit, to be compared on the roof
      rain(typed) {
        const { under, limit, because, clears: cleared, grade } = held.rain, chance = number(typed, "pct"), found = chance + NBSP + "%";
        const over = chance !== null && chance >= under, now = called(typed, words.raining);
        const first = chance === null ? fill(say["rain-limit"], { limit }) : fill(over ? because : say["rain-under"], { found, limit });
        return card(over || now ? "hold" : "note", fill(say.rain, { limit }), [first, clears(cleared)], grade, ["rain", "weather"]);
      },
      wind(typed) {
        const { most, limit, because, clears: cleared, grade } = held.wind, speed = number(typed, "mph"), found = speed + NBSP + "mph";
        const over = speed !== null && speed > most;
        const first = speed === null ? fill(say["wind-limit"], { limit }) : fill(over ? because : say["wind-under"], { found, limit });
        return card(over ? "hold" : "note", fill(say.wind, { limit }), [first, clears(cleared)], grade, ["wind"]);
      },
      dew: () => card("note", fill(say.dew, held.dew), [fill(say["dew-limit"], held.dew), clears(held.dew.clears)], held.dew.grade, ["weather", "margin", "reckon"]),
    };

    // a trouble answers where what was typed is hardly more than a name it has
    function trouble(typed) {
      const words = new Set(tools.stemmed(typed.filter((word) => !tools.stop.has(word))));
      let best = null, most = 0;
      for (const one of held.troubles) for (const phrase of one.phrases) {
        const parts = phrase.split(" ");
        const share = parts.every((word) => words.has(word)) ? parts.length / words.size : 0;
        if (share > most) { most = share; best = one; }
      }
      if (most <= 0.5) return null;
      return card("note", best.name, [say.sign + " " + best.sign, say.do + " " + best.do, best.ask], best.grade, [[best.name, best.url], "cautions"]);
    }

    return (text) => {
      const typed = tools.fold(text);
      const found = temperatures(plain(text), held.typed).map((one) => warmth(one, typed));
      for (const name of Object.keys(asked)) if (called(typed, words[name])) found.push(asked[name](typed));
      const wrong = found.length ? null : trouble(typed);
      if (wrong) found.push(wrong);
      return found.sort((a, b) => (b.kind === "hold") - (a.kind === "hold")).slice(0, 3);
    };
  };
})();
