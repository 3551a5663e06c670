// What the tests of the look measure on a page; each returns what is wrong, so that [] is good.
"use strict";
window.small_text = () => {
  const small = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const element = node.parentElement;
    if (!node.textContent.trim() || element.closest("script, style, title, desc, noscript")) continue;
    if (!element.checkVisibility()) continue;
    let size = parseFloat(getComputedStyle(element).fontSize);
    const svg = element.closest("svg.drawing");
    if (svg) size *= svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    if (size < 15.99) small.push([node.textContent.trim().slice(0, 40), size]);
  }
  return small;
};

window.cut_off = () => {
  const wide = document.documentElement.scrollWidth - innerWidth;
  const over = wide > 0 ? [["page", wide]] : [];
  for (const element of document.querySelectorAll("article *")) {
    if (element.closest("svg") || element.matches("input, select") || !element.checkVisibility()) continue;
    const head = element.closest("thead");
    if (head && head.getBoundingClientRect().width <= 1) continue; // there for screen readers alone
    const box = element.getBoundingClientRect();
    if (box.width && (box.right > innerWidth + 1 || box.left < -1)) over.push([element.tagName, element.textContent.trim().slice(0, 40), box.right]);
  }
  return over;
};

window.labels = () => [...document.querySelectorAll("svg.drawing")].flatMap((svg) => {
  const box = svg.viewBox.baseVal;
  return [...svg.querySelectorAll("text")].map((text) => [text, text.getBBox()])
    .filter(([, at]) => at.x < 0 || at.y < 0 || at.x + at.width > box.width || at.y + at.height > box.height)
    .map(([text]) => text.textContent);
});

window.gray = () => {
  const light = [];
  for (const element of document.querySelectorAll("article *, footer *, header *, .strip")) {
    if (!element.checkVisibility() || ![...element.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim())) continue;
    if (element.closest("svg")) continue;
    const colour = getComputedStyle(element).color.match(/[\d.]+/g).map(Number);
    let back = element, ground = null;
    while (back && !ground) {
      const found = getComputedStyle(back).backgroundColor.match(/[\d.]+/g).map(Number);
      if (found.length === 3 || found[3] > 0.99) ground = found;
      back = back.parentElement;
    }
    const light_of = (rgb) => rgb.slice(0, 3).map((v) => v / 255).map((v) => (v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4))
      .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
    const [a, b] = [light_of(colour), light_of(ground || [255, 255, 255])].sort((x, y) => y - x);
    const ratio = (a + 0.05) / (b + 0.05);
    if (ratio < 7) light.push([element.textContent.trim().slice(0, 40), ratio.toFixed(2)]);
  }
  return light;
};

window.small_targets = () => [...document.querySelectorAll("button, .tool, .cards li, .toc summary, .menu a")]
  .filter((one) => one.checkVisibility())
  .map((one) => [one.textContent.trim(), one.getBoundingClientRect().height])
  .filter(([, height]) => height < 44);
