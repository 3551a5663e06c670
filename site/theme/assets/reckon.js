// The forms. Each is a graph of the engine's own numbers (forms.js); nothing about a form stands here.
"use strict";
(() => {
  const { formulas, forms } = window.upstandForms;
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
    if (name === "total") return inputs.reduce((sum, part) => sum + part, 0);
    const formula = formulas[name], names = {};
    formula.parameters.forEach((parameter, n) => { names[parameter.name] = inputs[n]; });
    for (const [constant, held] of Object.entries(formula.constants)) names[constant] = held.value;
    for (const [let_, tree] of formula.let) names[let_] = valueOf(tree, names);
    return valueOf(formula.result, names);
  }
  const each = (held, what) => Object.fromEntries(Object.entries(held).map(([name, slot]) => [name, what(slot)]));
  // what a form answers to typed numbers: [kind, [[sentence, {slot: [number, unit, rounding] or words}]]], or null
  function answer(form, pick, typed) {
    const { fields, nodes, trees } = forms[form], known = new Map();
    function value(place) {
      if (!known.has(place)) {
        const node = nodes[place];
        known.set(place, Array.isArray(node) ? reckon(node[0], node.slice(1).map(value)) : typeof node === "string" ? typed[node] * fields[node][3] : node);
      }
      return known.get(place);
    }
    let tree = trees[pick];
    while (Array.isArray(tree)) tree = DO[tree[0][0]](value(tree[0][1]), value(tree[0][2])) ? tree[1] : tree[2];
    if (!tree || !tree.lines.length) return null;
    return [tree.kind, tree.lines.map(([says, slots]) => [says, each(slots, (slot) => (Array.isArray(slot) ? [value(slot[0]), slot[1], slot[2]] : slot))])];
  }

  // text of quantities: the rules of quantity/text.py, floor and ceil alone
  const SLACK = 1e-6;
  const down = (x) => Math.floor(x + SLACK), up = (x) => Math.ceil(x - SLACK), near = (x) => Math.floor(x + 0.5);
  const rounders = { down, up, "up-quarter": up, run: up, "full-hour": down };
  function decimal(steps, decimals) {
    const size = Math.abs(steps), unit = 10 ** decimals;
    const whole = Math.floor(size / unit), tail = decimals ? String(size % unit).padStart(decimals, "0").replace(/0+$/, "") : "";
    return (steps < 0 ? "-" : "") + String(whole).replace(/\B(?=(\d{3})+(?!\d))/g, ",") + (tail ? "." + tail : "");
  }
  const fixed = (value, decimals, round = near) => decimal(round(value * 10 ** decimals), decimals);
  function significant(value, digits, round = near) {
    let size = Math.abs(value), decimals = digits - 1;
    if (size < 1e-9) return "0";
    while (size >= 10) { size /= 10; decimals -= 1; }
    while (size < 1) { size *= 10; decimals += 1; }
    return decimals >= 0 ? decimal(round(value * 10 ** decimals), decimals) : decimal(round(value / 10 ** -decimals) * 10 ** -decimals, 0);
  }
  function gallons(value, round) {
    const number = significant(value, 3, round);
    if (number === "0" || Math.abs(value) >= 1 || number === "1") return number + NBSP + "gal";
    const ounces = (Math.abs(value * 128) >= 9.95 ? fixed(value * 128, 0, round) : significant(value * 128, 2, round)) + NBSP + "fl" + NBSP + "oz";
    return Math.abs(value) < 0.25 ? ounces + " (" + number + NBSP + "gal)" : number + NBSP + "gal (" + ounces + ")";
  }
  function minutes(value, round, way) {
    if (!way && Math.abs(value) < 20) return fixed(value, 1) + NBSP + "min";
    const step = !way || Math.abs(value) <= 60 ? 1 : way === "full-hour" ? 60 : 30, whole = round(value / step) * step;
    if (whole < 120) return whole + NBSP + "min";
    return Math.floor(whole / 60) + NBSP + "h" + (whole % 60 ? NBSP + (whole % 60) + NBSP + "min" : "");
  }
  function inches(value, round, way) {
    if (way === "run") {
      const whole = up(value), feet = Math.floor(whole / 12), rest = whole % 12;
      return feet ? feet.toLocaleString("en-US") + NBSP + "ft" + (rest ? NBSP + rest + NBSP + "in" : "") : rest + NBSP + "in";
    }
    let parts = way === "up-quarter" ? 4 : !way && Math.abs(value) < 1 && value * 16 === Math.floor(value * 16) ? 16 : 8;
    const steps = round(value * parts);
    if (!way && steps === 0) return significant(value, 2) + NBSP + "in";
    const whole = Math.floor(Math.abs(steps) / parts);
    let rest = Math.abs(steps) % parts;
    while (rest && rest % 2 === 0) { rest /= 2; parts /= 2; }
    const fraction = rest ? rest + "/" + parts : "";
    return (steps < 0 ? "-" : "") + (whole || !rest ? whole.toLocaleString("en-US") : "") + (whole && rest ? NBSP : "") + fraction + NBSP + "in";
  }
  const shows = {
    gal: gallons, min: minutes, in: inches,
    mil: (value, round) => fixed(value, Math.abs(value) < 10 ? 1 : 0, round) + NBSP + "mil",
    degF: (value, round) => fixed(value, 1, round) + NBSP + "°F",
    delta_degF: (value, round) => fixed(value, 1, round) + NBSP + "°F",
    percent: (value, round) => fixed(value, 1, round) + NBSP + "%",
    "in^2": (value, round) => significant(value / 144, 3, round) + NBSP + "sq" + NBSP + "ft",
    1: (value, round) => (Math.abs(value) >= 100 ? fixed(value, 0, round) : significant(value, 3, round)),
  };
  const text = (slot) => (Array.isArray(slot) ? shows[slot[1]](slot[0], rounders[slot[2]] || near, slot[2]) : slot);
  const fill = (sentence, slots) => sentence.replace(/\{([a-z_]+)\}/g, (_, name) => slots[name]);
  window.upstandReckon = { reckon, answer, text };

  function numberOf(written) {
    if (/^-?\d{1,7}(\.\d{1,6})?$/.test(written)) return Number(written);
    const parts = /^(?:(\d{1,7})[ -])?(\d{1,2})\/(\d{1,2})$/.exec(written);
    return parts && Number(parts[3]) ? Number(parts[1] || 0) + Number(parts[2]) / Number(parts[3]) : NaN;
  }
  for (const form of document.querySelectorAll("form.reckon")) {
    const output = form.querySelector("output"), id = form.dataset.form, words = JSON.parse(form.dataset.words);
    const update = () => {
      const typed = {};
      let whole = true;
      for (const field of form.querySelectorAll("input")) {
        const written = field.value.trim().replace(",", ".");
        const fault = document.getElementById(field.id + "-fault");
        const [low, high] = forms[id].fields[field.name];
        const number = numberOf(written);
        const span = { low: low + NBSP + field.dataset.unit, high: high.toLocaleString("en-US") + NBSP + field.dataset.unit };
        const wrong = written === "" ? "" : Number.isNaN(number) ? words.number : number < low || number > high ? fill(words.range, span) : "";
        fault.textContent = wrong;
        field.setAttribute("aria-invalid", String(Boolean(wrong)));
        if (written === "" || wrong) whole = false;
        typed[field.name] = number;
      }
      const pick = form.querySelector("select"), found = whole ? answer(id, pick ? pick.value : "", typed) : null;
      output.className = "reckoned" + (found ? " " + found[0] + (found[1].length > 2 ? " rows" : "") : "");
      output.replaceChildren(...(found ? found[1].flatMap(([says, slots]) => {
        const line = document.createElement("span");
        line.textContent = fill(words[says], each(slots, text));
        return [line, " "];
      }) : []));
    };
    form.addEventListener("input", update);
    form.addEventListener("submit", (event) => event.preventDefault());
    update();
  }
})();
