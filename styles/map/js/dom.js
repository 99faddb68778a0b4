// Elements made without markup: what is shown is text, never HTML.
(function (lw) {
  "use strict";

  const SVG = "http://www.w3.org/2000/svg";

  /**
   * Puts attributes on a node: `text` is its text, `on…` functions are listeners, `true` is an attribute without
   * a value, null and false none.
   * @param {Element} node
   * @param {Object<string, *>} attributes
   */
  function dress(node, attributes) {
    for (const name of Object.keys(attributes)) {
      const value = attributes[name];
      if (value === null || value === undefined || value === false) {
        continue;
      }
      if (name === "text") {
        node.textContent = String(value);
      } else if (typeof value === "function") {
        node.addEventListener(name.slice(2), value);
      } else {
        node.setAttribute(name, value === true ? "" : String(value));
      }
    }
  }

  /**
   * @param {string} tag
   * @param {Object<string, *>} [attributes]
   * @param {Array<Node|string|null>} [children] strings become text
   * @returns {HTMLElement}
   */
  function element(tag, attributes, children) {
    const node = document.createElement(tag);
    dress(node, attributes || {});
    for (const child of children || []) {
      if (child !== null) {
        node.append(child);
      }
    }
    return node;
  }

  /**
   * @param {string} tag
   * @param {Object<string, *>} attributes
   * @param {Array<Node>} [children]
   * @returns {SVGElement}
   */
  function drawing(tag, attributes, children) {
    const node = document.createElementNS(SVG, tag);
    dress(node, attributes);
    node.append(...(children || []));
    return node;
  }

  /**
   * The element with this id.
   * @param {string} id
   * @returns {HTMLElement}
   */
  function byId(id) {
    return document.getElementById(id);
  }

  /**
   * Puts children in place of what a node holds.
   * @param {Element} node
   * @param {Array<Node|string>} children
   */
  function fill(node, children) {
    node.replaceChildren(...children);
  }

  /**
   * A path inside the folder, or null: nothing with a scheme, a host or a step upward is followed.
   * @param {*} path
   * @returns {string|null}
   */
  function safePath(path) {
    if (typeof path !== "string" || !/^[A-Za-z0-9_.~%/ -]+$/.test(path)) {
      return null;
    }
    const steps = path.split("/");
    return steps.every((s) => s !== "" && s !== ".." && s !== ".") ? path : null;
  }

  /**
   * A link to a file of the folder, or its title alone where the path is none.
   * @param {*} path
   * @param {string} title
   * @returns {HTMLElement}
   */
  function link(path, title) {
    const safe = safePath(path);
    return safe === null ? element("span", { text: title }) : element("a", { href: safe, text: title });
  }

  /**
   * Loads a classic script of the folder: what works for a page opened as a file, where fetch does not.
   * @param {string} path
   * @returns {Promise<void>}
   */
  function loadScript(path) {
    return new Promise((resolve, reject) => {
      const safe = safePath(path);
      if (safe === null) {
        reject(new Error("no such file: " + path));
        return;
      }
      document.head.append(
        element("script", {
          src: safe,
          onload: () => resolve(),
          onerror: () => reject(new Error("cannot read " + safe)),
        }),
      );
    });
  }

  /**
   * Runs a function once things have been quiet for a while.
   * @param {function(): void} run
   * @param {number} wait milliseconds
   * @returns {function(): void}
   */
  function settled(run, wait) {
    let timer = 0;
    return () => {
      window.clearTimeout(timer);
      timer = window.setTimeout(run, wait);
    };
  }

  lw.dom = { element, drawing, byId, fill, safePath, link, loadScript, settled };
})((window.Linewood = window.Linewood || {}));
