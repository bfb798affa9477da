// Small helpers for the page's elements.

export const $ = (id) => document.getElementById(id);

// An element with attributes (false leaves one out) and children.
export function made(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === false || value === null) continue;
    element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children);
  return element;
}

// An element of a drawing.
export function svg(tag, attributes) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

const loaded = {};

// Loads a script by its tag: nothing is fetched, so that the page works from a disk too.
export function load(path) {
  loaded[path] ??= new Promise((done, failed) => {
    const script = made("script", { src: path });
    script.onload = done;
    script.onerror = () => failed(new Error(`${path} cannot be loaded`));
    document.head.append(script);
  });
  return loaded[path];
}
