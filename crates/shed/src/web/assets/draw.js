// Small helps for what is drawn on the pages.

const NS = "http://www.w3.org/2000/svg";

/** An SVG element. @param {string} name @param {Record<string, string|number>} attributes @param {Element} [into] */
export function make(name, attributes, into) {
  const element = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  into?.append(element);
  return element;
}

/** An element of the page. @param {string} name @param {string} text @param {Record<string, string>} [attributes] */
export function element(name, text, attributes = {}) {
  const made = document.createElement(name);
  made.textContent = text;
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

/** @param {number[][]} points */
export const path = (points) => "M" + points.map((p) => `${p[0].toFixed(1)} ${p[1].toFixed(1)}`).join("L");

/** Makes a group hold these paths and no others. @param {Element} group @param {[string, string][]} parts Each its d and its class. */
export function paths(group, parts) {
  while (group.childElementCount < parts.length) make("path", {}, group);
  while (group.childElementCount > parts.length) group.lastElementChild?.remove();
  parts.forEach(([d, kind], i) => {
    group.children[i].setAttribute("d", d);
    group.children[i].setAttribute("class", kind);
  });
}

/** Which button of a row is pressed. @param {Element} row @param {(button: HTMLButtonElement) => boolean} is */
export function press(row, is) {
  for (const button of row.querySelectorAll("button")) button.setAttribute("aria-pressed", String(is(button)));
}
