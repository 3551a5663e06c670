// The forms. Each number comes from the engine's own formula, handed over as a tree in forms.js.
"use strict";
(() => {
  const { formulas, numbers, ranges } = window.upstandForms;
  const NBSP = "\u00a0";

  const DO = {
    "+": (a, b) => a + b, "-": (a, b) => a - b, "*": (a, b) => a * b, "/": (a, b) => a / b, neg: (a) => -a,
    "<": (a, b) => a < b, "<=": (a, b) => a <= b, ">": (a, b) => a > b, ">=": (a, b) => a >= b, "==": (a, b) => a === b, "!=": (a, b) => a !== b,
    min: Math.min, max: Math.max, floor: Math.floor, ceil: Math.ceil, exp: Math.exp, log: Math.log, sqrt: Math.sqrt, asin: Math.asin,
  };
  function valueOf(tree, names) {
    if (typeof tree === "number") return tree;
    if (typeof tree === "string") return tree === "pi" ? Math.PI : names[tree];
    const [sign, ...rest] = tree;
    if (sign === "if") return valueOf(valueOf(rest[0], names) ? rest[1] : rest[2], names);
    return DO[sign](...rest.map((each) => valueOf(each, names)));
  }
  function reckon(name, inputs) {
    const formula = formulas[name];
    const names = { ...inputs };
    for (const [constant, held] of Object.entries(formula.constants)) names[constant] = held.value;
    for (const [let_, tree] of formula.let) names[let_] = valueOf(tree, names);
    return valueOf(formula.result, names);
  }

  // text of quantities: the rules of quantity/text.py, floor and ceil alone
  const SLACK = 1e-6;
  const rounders = { near: (x) => Math.floor(x + 0.5), down: (x) => Math.floor(x + SLACK), up: (x) => Math.ceil(x - SLACK) };
  function decimal(steps, decimals) {
    const size = Math.abs(steps), unit = 10 ** decimals;
    const whole = Math.floor(size / unit), tail = decimals ? String(size % unit).padStart(decimals, "0").replace(/0+$/, "") : "";
    return (steps < 0 ? "-" : "") + String(whole).replace(/\B(?=(\d{3})+(?!\d))/g, ",") + (tail ? "." + tail : "");
  }
  const fixed = (value, decimals, way = "near") => decimal(rounders[way](value * 10 ** decimals), decimals);
  function significant(value, digits, way = "near") {
    let size = Math.abs(value), decimals = digits - 1;
    if (size < 1e-9) return "0";
    while (size >= 10) { size /= 10; decimals -= 1; }
    while (size < 1) { size *= 10; decimals += 1; }
    return decimals >= 0 ? decimal(rounders[way](value * 10 ** decimals), decimals) : decimal(rounders[way](value / 10 ** -decimals) * 10 ** -decimals, 0);
  }
  function gallons(value) {
    const number = significant(value, 3);
    if (number === "0" || Math.abs(value) >= 1 || number === "1") return number + NBSP + "gal";
    const ounces = (Math.abs(value * 128) >= 9.95 ? fixed(value * 128, 0) : significant(value * 128, 2)) + NBSP + "fl" + NBSP + "oz";
    return Math.abs(value) < 0.25 ? ounces + " (" + number + NBSP + "gal)" : number + NBSP + "gal (" + ounces + ")";
  }
  function minutes(value, way) {
    const step = Math.abs(value) <= 60 ? 1 : 30, whole = rounders[way](value / step) * step;
    if (whole < 120) return whole + NBSP + "min";
    return Math.floor(whole / 60) + NBSP + "h" + (whole % 60 ? NBSP + (whole % 60) + NBSP + "min" : "");
  }
  const mils = (value) => fixed(value, Math.abs(value) < 10 ? 1 : 0) + NBSP + "mil";
  const degrees = (value, way = "near") => fixed(value, 1, way) + NBSP + "°F";
  const fill = (text, slots) => text.replace(/\{([a-z_]+)\}/g, (_, name) => slots[name]);

  const answers = {
    dew(given, said) {
      if (given.humidity <= 0) return null;
      let point = reckon("dew_point", { air: given.air, humidity: given.humidity }), frost = "";
      if (point <= numbers.freezing) { point = reckon("frost_point", { air: given.air, humidity: given.humidity }); frost = said.frost; }
      const margin = reckon("surface_margin", { surface: given.surface, dew: point });
      const [low, high] = numbers.applied;
      if (Math.min(given.air, given.surface) < low || Math.max(given.air, given.surface) > high) {
        return ["hold", fill(said.outside, { low: degrees(low), high: degrees(high), point: degrees(point) }) + (frost ? " " + frost : "")];
      }
      const enough = margin >= numbers.margin - 1e-9;
      return [enough ? "go" : "hold", fill(enough ? said.go : said.hold, { point: degrees(point), margin: degrees(margin, "down"), least: degrees(numbers.margin, "up") }) + (frost ? " " + frost : "")];
    },
    "pot-life"(given, said) {
      const resin = numbers.resins[given.resin];
      const halved = reckon("halved_time", { stated: resin.low, at: resin.at, temperature: given.material, step: numbers.step });
      const life = reckon("shorter", { a: resin.low, b: halved });
      const kept = reckon("pot_life_kept", { pot_life: life, margin: numbers.kept });
      const stored = given.material >= resin.store[0] && given.material <= resin.store[1];
      return [stored ? "note" : "hold", fill(stored ? said.give : said.hold, { life: minutes(life, "down"), kept: minutes(kept, "down"), low: degrees(resin.store[0]), high: degrees(resin.store[1]) })];
    },
    volume(given, said) {
      const need = reckon("film_volume", { area: given.area * 144, thickness: given.thickness });
      return ["note", fill(said.give, { need: gallons(need), allowed: gallons(reckon("with_allowance", { need, allowance: numbers.allowance })) })];
    },
    film(given, said) {
      if (given.area <= 0) return null;
      return ["note", fill(said.give, { film: mils(reckon("film_from_volume", { volume: given.used, area: given.area * 144 })) })];
    },
  };
  window.upstandReckon = reckon;

  for (const form of document.querySelectorAll("form.reckon")) {
    const output = form.querySelector("output");
    const update = () => {
      const given = {};
      let whole = true;
      for (const field of form.querySelectorAll("input, select")) {
        if (field.tagName === "SELECT") { given[field.name] = field.value; continue; }
        const typed = field.value.trim().replace(",", ".");
        const fault = document.getElementById(field.id + "-fault");
        const [low, high, unit] = ranges[form.dataset.form][field.name];
        const number = /^-?\d{1,7}(\.\d{1,6})?$/.test(typed) ? Number(typed) : NaN;
        const wrong = typed === "" ? "" : Number.isNaN(number) ? form.dataset.number : number < low || number > high ? fill(form.dataset.range, { low: low + NBSP + unit, high: high.toLocaleString("en-US") + NBSP + unit }) : "";
        fault.textContent = wrong;
        field.setAttribute("aria-invalid", String(Boolean(wrong)));
        if (typed === "" || wrong) whole = false;
        given[field.name] = number;
      }
      const answer = whole ? answers[form.dataset.form](given, form.dataset) : null;
      output.className = "reckoned" + (answer ? " " + answer[0] : "");
      output.textContent = answer ? answer[1] : "";
    };
    form.addEventListener("input", update);
    form.addEventListener("submit", (event) => event.preventDefault());
    update();
  }
})();
